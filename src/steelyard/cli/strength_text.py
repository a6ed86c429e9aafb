"""What is known of a lifter's strength, as text: levels with their ranges, a picture of one, what is to be expected."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from steelyard.engine.quantities import kg
from steelyard.services.strength_shown import CoursePoint, ForecastShown, StrengthLine, StrengthShown
from steelyard.wording.labels import long_date, month_of
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

from .columns import columns
from .paragraph import INDENT, quiet, strong, wrapped

PICTURE_ROWS, PICTURE_WIDTH, UNSURE_SESSIONS = 9, 56, 3
# What tells how much was possible; a level without any of it is a guess from what was chosen.
TELLING = ("to-failure", "reserve", "missed", "attempt")


def strength_text(answer: StrengthShown, voice: Voice, *, is_pictured: bool) -> str:
    """All exercises, a line each; where one was named, its course as a picture too."""
    day = long_date(date.fromisoformat(answer.date), voice.language)
    parts = [f"{strong(answer.lifter)} · {day}", ""]
    heads = ["", tell("1RM"), tell("80 of 100"), tell("a week"), tell("sessions"), tell("last")]
    parts += columns(heads, [_row(line, voice) for line in answer.lines])
    if answer.left_out:
        parts.append(
            INDENT
            + quiet(
                tell_count(
                    "{count} exercise not trained for twelve weeks (--all)",
                    "{count} exercises not trained for twelve weeks (--all)",
                    answer.left_out,
                )
            )
        )
    for line in answer.lines if is_pictured else ():
        parts += ["", *_picture(line.course, voice)]
    parts += ["", *(wrapped(sentence) for sentence in _meaning(answer.lines))]
    return "\n".join(parts)


def forecast_text(answer: ForecastShown, voice: Voice) -> str:
    """What is to be expected of one exercise."""
    line, day = answer.line, long_date(date.fromisoformat(answer.date), voice.language)
    parts = [f"{strong(answer.lifter)} · {line.name} · {day}", wrapped(_today(line, voice)), ""]
    if answer.load_kg is not None:
        parts += [wrapped(_at_load(answer, voice)), ""]
    if answer.goal_kg is not None:
        parts += [wrapped(_goal(answer, voice)), ""]
    heads = [tell("repetitions, nothing left"), *(str(load.repetitions) for load in answer.loads)]
    even = [tell("every second day"), *(_load(load.even_kg, line, voice) for load in answer.loads)]
    safe = [tell("nine days in ten"), *(_load(load.safe_kg, line, voice) for load in answer.loads)]
    parts += [*columns(heads, [even, safe]), ""]
    weeks = [tell("in weeks"), *(str(ahead.weeks) for ahead in answer.ahead)]
    levels = [tell("1RM"), *(_level(ahead.one_rm_kg, voice) for ahead in answer.ahead)]
    ranges = [
        tell("80 of 100"),
        *(_range(a.low80_kg, a.high80_kg, voice) for a in answer.ahead),
    ]
    parts += [*columns(weeks, [levels, ranges]), ""]
    parts.append(
        wrapped(
            tell(
                "It holds if training goes on as it did, and growth slows with time. No advice to lift it: for a heavy "
                "single have safeties or somebody beside you, and stop where it hurts."
            )
        )
    )
    return "\n".join(parts)


def _row(line: StrengthLine, voice: Voice) -> list[str]:
    gain = f"{_signed(line.gain_pct_per_week, voice)} % ({_signed(line.gain_low_pct, voice)} {tell('to')} "
    gain += f"{_signed(line.gain_high_pct, voice)})"
    return [
        _name(line),
        _level(line.one_rm_kg, voice),
        _range(line.low80_kg, line.high80_kg, voice),
        gain,
        str(line.sessions),
        line.last_session,
    ]


def _name(line: StrengthLine) -> str:
    return f"{line.name} [{line.implement}]" if line.implement else line.name


def _level(total_kg: float, voice: Voice) -> str:
    return voice.kilograms(Decimal(f"{total_kg:.1f}"))


def _range(low_kg: float, high_kg: float, voice: Voice) -> str:
    low, high = _level(low_kg, voice), _level(high_kg, voice)
    return f"{low.removesuffix(f' {voice.unit}')}-{high}"


def _load(added_kg: float, line: StrengthLine, voice: Voice) -> str:
    """The load that is put on; less than nothing is help that is needed."""
    said = voice.kilograms(Decimal(f"{abs(added_kg):.1f}"))
    if not line.body_mass_kg:
        return said
    return f"{'+' if added_kg >= 0 else '-'}{said}"


def _signed(value: float, voice: Voice) -> str:
    written = f"{value:+.1f}"
    return written.replace(".", ",") if voice.language == "de" else written


def _meaning(lines: tuple[StrengthLine, ...]) -> Iterator[str]:
    yield tell(
        "1RM: what could be lifted once, rested, on a usual day; estimated from all sets, tested by nobody. Of 100 "
        "such ranges 80 hold it. Where safety is at stake take the lower end."
    )
    if any(line.body_mass_kg for line in lines):
        yield tell("Where the body is lifted too, its share is part of the 1RM.")
    guessed = [_name(line) for line in lines if not any(line.sets.get(kind) for kind in TELLING)]
    if guessed:
        yield tell(
            "No set says what was left in reserve, so this is a guess from what was chosen: {exercises}.",
            exercises=", ".join(guessed),
        )


def _picture(course: tuple[CoursePoint, ...], voice: Voice) -> Iterator[str]:
    """The course over time: o the estimate after a session, | its 80 % range, later to the right."""
    days = [date.fromisoformat(point.date).toordinal() for point in course]
    # The first sessions may leave it open by half: the picture is of what was known after them.
    known = course[min(UNSURE_SESSIONS, len(course) - 1) :]
    least, most = min(p.low_kg for p in known), max(p.high_kg for p in known)
    span, reach = max(days[-1] - days[0], 1), max(most - least, 0.1)
    rows = [[" "] * PICTURE_WIDTH for _ in range(PICTURE_ROWS)]

    def height(value: float) -> int:
        share = min(max((value - least) / reach, 0.0), 1.0)
        return PICTURE_ROWS - 1 - round(share * (PICTURE_ROWS - 1))

    for day, point in zip(days, course, strict=True):
        place = round((day - days[0]) / span * (PICTURE_WIDTH - 1))
        for row in range(height(point.high_kg), height(point.low_kg) + 1):
            rows[row][place] = "|"
        rows[height(point.one_rm_kg)][place] = "o"
    for number, drawn in enumerate(rows):
        value = most - reach * number / (PICTURE_ROWS - 1)
        label = voice.kilograms(Decimal(f"{value:.1f}")) if number in {0, PICTURE_ROWS // 2, PICTURE_ROWS - 1} else ""
        yield f"{INDENT}{label:>10} {''.join(drawn).rstrip()}"
    yield f"{INDENT}{'':>10} {course[0].date}{course[-1].date:>{PICTURE_WIDTH - len(course[0].date)}}"
    yield quiet(f"{INDENT}{'':>10} " + tell("o: estimate after each session, |: its 80 % range"))


def _today(line: StrengthLine, voice: Voice) -> str:
    return tell(
        "1RM today {level} ({low} to {high}, 80 of 100), from {sessions}, last on {day}.",
        level=_level(line.one_rm_kg, voice),
        low=_level(line.low80_kg, voice),
        high=_level(line.high80_kg, voice),
        sessions=tell_count("{count} session", "{count} sessions", line.sessions),
        day=long_date(date.fromisoformat(line.last_session), voice.language),
    )


def _at_load(answer: ForecastShown, voice: Voice) -> str:
    load = (
        voice.added(kg(Decimal(str(answer.load_kg))))
        if answer.line.body_mass_kg
        else _load(answer.load_kg or 0.0, answer.line, voice)
    )
    said = tell(
        "At {load}: {fewest} to {most} repetitions with nothing left (80 of 100), most likely {likeliest}.",
        load=load,
        fewest=answer.fewest,
        most=answer.most,
        likeliest=answer.likeliest,
    )
    if answer.chance is None:
        return said
    line = f"{answer.sets} × {answer.repetitions}"
    chance = round(100 * answer.chance)
    whole = tell(
        "Chance to complete {line} with {reserve} left: {chance} of 100.",
        line=line,
        reserve=answer.reserve,
        chance=chance,
    )
    return f"{said} {whole}"


def _goal(answer: ForecastShown, voice: Voice) -> str:
    goal = _load(answer.goal_kg or 0.0, answer.line, voice)

    def month(day: str) -> str:
        return month_of(date.fromisoformat(day), voice.language)

    if answer.goal_earliest is None:
        return tell("{goal} once: not foreseeable within two years.", goal=goal)
    if answer.goal_latest == answer.date:
        return tell("{goal} once: within reach today, nine days in ten.", goal=goal)
    if answer.goal_latest is None:
        return tell(
            "{goal} once: not before {earliest}, and perhaps not within two years.",
            goal=goal,
            earliest=month(answer.goal_earliest),
        )
    return tell(
        "{goal} once: between {earliest} and {latest} (80 of 100).",
        goal=goal,
        earliest=month(answer.goal_earliest),
        latest=month(answer.goal_latest),
    )
