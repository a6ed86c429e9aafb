"""`steelyard exercises`."""

import click

from steelyard.cli.shared import Setting, shared_options, show


@click.command("exercises")
@click.argument("search", required=False)
@shared_options
def command(setting: Setting, search: str | None) -> None:
    """The exercises that are known, with what people write for them.

    \b
    Examples:
      steelyard exercises
      steelyard exercises press
    """
    from steelyard.cli.paragraph import strong, wrapped
    from steelyard.services.known_exercises import KnownExercises, known_exercises

    def text(answer: KnownExercises, _voice: object) -> str:
        if not answer.exercises:
            return f"No exercise is written {search!r}; `steelyard exercises` shows all."
        return "\n".join(
            f"{strong(e.name)}  {e.pattern}, {e.implement}\n{wrapped(', '.join(e.written))}" for e in answer.exercises
        )

    show(setting, known_exercises(search, setting.voice.language), text)
