"""`steelyard screen`."""

import sys
from datetime import date
from typing import Any

import click

from steelyard.cli.masses import mass
from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show
from steelyard.wording.message import tell

ANSWERS = ["yes", "no", "unknown"]
CONDITIONS = [
    *("disease", "symptoms", "pregnancy", "birth", "surgery", "heart-event", "stop-sign", "fever", "blood-pressure"),
    "pain",
]
# Options that answer a question; each has the question's own key.
ANSWERING = (
    *(
        "active",
        "disease",
        "symptoms",
        "special",
        "pregnant",
        "gave_birth",
        "birth_on",
        "surgery",
        "surgery_on",
        "heart_event",
    ),
    *("heart_event_on", "form_on", "form_outcome", "supervised_by", "technique_signed_by", "blood_pressure"),
)


def _answering(function: Any) -> Any:
    """The questions as options."""
    answer = click.Choice(ANSWERS)
    for option in (
        click.option("--active", type=answer, help="Used to exercise: three days a week for three months."),
        click.option("--disease", type=answer, help="A known disease of heart, vessels or kidneys, or diabetes."),
        click.option("--symptoms", type=answer, help="Signs such as pain in the chest, fainting, short of breath."),
        click.option(
            "--special", type=answer, help="Any of: pregnant, birth or surgery in the last year, a heart event."
        ),
        click.option("--pregnant", type=answer, help="Pregnant."),
        click.option("--gave-birth", type=answer, help="Gave birth in the last year."),
        click.option("--birth-on", metavar="DATE", help="When."),
        click.option("--surgery", type=answer, help="Surgery in the last year."),
        click.option("--surgery-on", metavar="DATE", help="When."),
        click.option("--heart-event", type=answer, help="A heart event, at any time."),
        click.option("--heart-event-on", metavar="DATE", help="When."),
        click.option("--form-done", "form_on", metavar="DATE", help="A health questionnaire was filled in then."),
        click.option("--form-outcome", metavar="TEXT", help="What came out of it."),
        click.option("--supervised-by", metavar="NAME", help="Under 18: the grown-up who is there."),
        click.option("--technique-signed-by", metavar="NAME", help="Under 18: who signed off the technique."),
        click.option("--blood-pressure", metavar="UPPER/LOWER", help="A reading in mmHg, such as 120/80."),
    ):
        function = option(function)
    return function


def _clearing(function: Any) -> Any:
    """A coach's word and a clinician's clearance as options."""
    for option in (
        click.option("--attest", "attested_by", metavar="NAME", help="A coach's word that nothing stands against it."),
        click.option("--cleared-by", metavar="NAME", help="The clinician who cleared something."),
        click.option("--for", "condition", type=click.Choice(CONDITIONS), help="What was cleared."),
        click.option("--heavy", is_flag=True, help="Cleared for heavy lifting too (vigorous exercise)."),
        click.option("--until", type=Day(), help="The first day without the clearance."),
        click.option("--limits", default="", metavar="TEXT", help="The clinician's limits, in their words."),
        click.option("--least-rir", type=click.IntRange(0, 10), help="Repetitions in reserve at the least."),
        click.option("--most-load", metavar="MASS", help="Load at the most, such as 40kg."),
    ):
        function = option(function)
    return function


@click.command("screen")
@click.argument("lifter", required=False)
@_answering
@_clearing
@click.option("--words", default="", metavar="TEXT", help="Words beside a coach's word.")
@click.option("--by", default="", metavar="NAME", help="Who asked or answered (you unless given).")
@click.option("--on", type=Day(), help="On that day instead of today.")
@shared_options
def command(setting: Setting, lifter: str | None, by: str, on: date | None, **said: Any) -> None:
    """Questions before training: who should speak with a doctor first, what that closes, what opens it.

    At a terminal they are asked one by one, only those that can matter; 'unknown' is always an answer. An answer given
    again takes the place of the one before. It is no medical check, and it clears nobody.

    \b
    Examples:
      steelyard screen "Ines Falk"
      steelyard screen "Ines Falk" --active yes --disease no --symptoms no
      steelyard screen "Ines Falk" --attest "Coach Brandt"
      steelyard screen "Ines Falk" --cleared-by "Dr Lund" --for disease --heavy --until 2027-05-01
    """
    if (said["cleared_by"] is None) != (said["condition"] is None):
        raise click.UsageError(tell("--cleared-by and --for belong together"))
    scribe = open_log(setting)
    setting = for_lifter(setting, lifter)
    from steelyard.cli.health_text import screened_text
    from steelyard.services import screening

    answers = {key: said[key] for key in ANSWERING if said[key] is not None}
    if said["attested_by"] is not None:
        answer = screening.attest(lifter, said["attested_by"], said["words"], setting.voice, scribe, on)
    elif said["cleared_by"] is not None:
        answer = screening.clear(lifter, _cleared(said, setting), setting.voice, scribe, on)
    else:
        if not answers and sys.stdin.isatty() and sys.stdout.isatty() and not setting.is_json:
            answers = _ask(lifter, scribe)
        answer = screening.keep_answers(lifter, answers, by, setting.voice, scribe, on)
    show(setting, answer, screened_text)


def _cleared(said: dict[str, Any], setting: Setting) -> Any:
    from steelyard.services.screening import Cleared

    return Cleared(
        by=said["cleared_by"],
        condition=said["condition"],
        until=said["until"],
        is_for_vigorous=said["heavy"],
        limits=said["limits"],
        least_rir=said["least_rir"],
        most_load=mass(said["most_load"], setting.voice.unit) if said["most_load"] else None,
    )


def _ask(lifter: str | None, scribe: Any) -> dict[str, str]:
    """Ask what can matter, one question after another."""
    from steelyard.services.screening import next_question

    said: dict[str, str] = {}
    while (question := next_question(lifter, said, scribe)) is not None:
        click.echo("\n" + click.style(question.asks, bold=True))
        if question.form == "answer":
            said[question.key] = click.prompt(tell("Answer"), type=click.Choice(ANSWERS), default="unknown")
        elif question.form == "day":
            said[question.key] = click.prompt(tell("Day, or unknown"), default="unknown", value_proc=_day_or_unknown)
        else:
            said[question.key] = click.prompt(tell("Name"), default="", show_default=False)
    return said


def _day_or_unknown(text: str) -> str:
    """Checked where it is typed, so that a slip is asked again."""
    if text.strip().casefold() != "unknown":
        Day().convert(text, None, None)
    return text
