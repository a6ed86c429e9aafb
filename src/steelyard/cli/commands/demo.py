"""`steelyard demo`."""

import shlex
from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_place, shared_options, show


@click.command("demo")
@click.option("--files", type=click.Path(file_okay=False, path_type=Path), help="Only write the eight files there.")
@shared_options
def command(setting: Setting, files: Path | None) -> None:
    """See it work: a club's eight files go in, next sessions come out with their reasons.

    The club is invented. It gets a folder of its own beside your data, so your log is not touched.

    \b
    Examples:
      steelyard demo
      steelyard demo --files club
      steelyard import club/ewan-tresk.txt --lifter Ewan --dry-run
    """
    import os

    from steelyard.site.place import DATA, Place, place_from

    usual = place_from(setting.data)
    is_chosen = bool(setting.data or os.environ.get(DATA) or usual.database)
    place = usual if is_chosen else Place(usual.folder / "demo")
    scribe = open_place(place)
    from steelyard.cli.demo_text import demo_text, written_text
    from steelyard.services.demo import demo, write_demo_files

    if files is not None:
        show(setting, write_demo_files(files), written_text)
        return
    typed = f"steelyard --data {shlex.quote(str(place.folder))}"
    show(setting, demo(setting.voice, scribe), lambda answer, voice: demo_text(answer, voice, typed))
