"""`steelyard demo`."""

import click

from steelyard.cli.shared import Setting, open_place, shared_options, show


@click.command("demo")
@shared_options
def command(setting: Setting) -> None:
    """See it work: an invented lifter's eight months go in, her next session comes out with its reasons.

    Uses a folder of its own beside your data, so your log is not touched.

    \b
    Example:
      steelyard demo
    """
    import os

    from steelyard.site.place import DATA, Place, place_from

    usual = place_from(setting.data)
    is_chosen = bool(setting.data or os.environ.get(DATA) or usual.database)
    place = usual if is_chosen else Place(usual.folder / "demo")
    scribe = open_place(place)
    from steelyard.cli.paragraph import quiet
    from steelyard.cli.screen import next_text
    from steelyard.services.demo import Demo, demo
    from steelyard.wording.quantity import Voice

    def text(answer: Demo, voice: Voice) -> str:
        got = answer.imported
        return (
            f"Demo log: {got.rows_read} rows read, {got.entries_added} added, {got.entries_known} known; "
            f"{answer.sets} sets from {answer.earliest} to {answer.latest}.\n\n"
            f"{next_text(answer.next, voice)}\n\n"
            + quiet(f"Go on with: steelyard --data {place.folder} history   (or next, why, log, --help)")
        )

    show(setting, demo(setting.voice, scribe), text)
