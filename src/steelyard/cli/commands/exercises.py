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
    from steelyard.services.known_exercises import ExerciseShown, KnownExercises, known_exercises
    from steelyard.wording.code_words import code_word
    from steelyard.wording.message import spoken, tell

    def text(answer: KnownExercises, _voice: object) -> str:
        if not answer.exercises:
            return tell("No exercise is written {search!r}; `steelyard exercises` shows all.", search=search)
        return "\n".join(map(_exercise, answer.exercises))

    def _exercise(e: ExerciseShown) -> str:
        pattern, implement = code_word("pattern", e.pattern, spoken()), code_word("implement", e.implement, spoken())
        return f"{strong(e.name)}  {pattern}, {implement}\n{wrapped(', '.join(e.written))}"

    show(setting, known_exercises(search, setting.voice.language), text)
