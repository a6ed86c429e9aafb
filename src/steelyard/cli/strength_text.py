"""What is known of a lifter's strength, as text: levels with their ranges, a picture of one, what is to be expected."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from steelyard.engine.backtest.trials import LONGEST
from steelyard.engine.quantities import kg
from steelyard.services.strength_shown import CoursePoint, ForecastShown, StrengthLine, StrengthShown
from steelyard.wording.labels import long_date, month_of
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

from .columns import columns
from .paragraph import INDENT, quiet, strong, wrapped

PICTURE_ROWS, PICTURE_WIDTH, UNSURE_SESSIONS = 9, 56, 3
# A longer name would push the table over the edge of a terminal.
NAME_WIDTH = 26
# From here on nobody has trained as before.
STALE_DAYS = 84
# What tells how much was possible; a level without any of it is a guess from what was chosen.
TELLING = ("to-failure", "reserve", "missed", "attempt")


def strength_text(answer: StrengthShown, voice: Voice, *, is_pictured: bool) -> str:
    """All exercises, a line each; where one was named, its course as a picture too."""
    day = long_date(date.fromisoformat(answer.date), voice.language)
    parts = [f"{strong(answer.lifter)} · {day}", ""]
    if answer.lines:
        heads = ["", "1RM", tell("80 of 100"), tell("% a week"), tell("times"), tell("last")]
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
        title = [INDENT + _name(line)] if len(answer.lines) > 1 else []
        parts += ["", *title, *_picture(line.back or line.course, voice)]
    if answer.lines:
        parts += ["", *(wrapped(sentence) for sentence in _meaning(answer.lines, voice))]
    return "\n".join(parts)


def forecast_text(answer: ForecastShown, voice: Voice) -> str:
    """What is to be expected of one exercise."""
    line, day = answer.line, long_date(date.fromisoformat(answer.date), voice.language)
    is_stale = (date.fromisoformat(answer.date) - date.fromisoformat(line.last_session)).days > STALE_DAYS
    parts = [f"{strong(answer.lifter)} · {day}"]
    parts += [*(wrapped(sentence) for sentence in _standing(line, voice, is_stale=is_stale)), ""]
    if answer.load_kg is not None:
        parts += [wrapped(_at_load(answer, voice)), ""]
    if answer.goal_kg is not None:
        parts += [wrapped(_goal(answer, voice)), ""]
    heads = [tell("repetitions, nothing left"), *(str(load.repetitions) for load in answer.loads)]
    even = [tell("one time in two, {unit}", unit=voice.unit), *(_bare(a.even_kg, line, voice) for a in answer.loads)]
    safe = [tell("nine times in ten, {unit}", unit=voice.unit), *(_bare(a.safe_kg, line, voice) for a in answer.loads)]
    parts += [*columns(heads, [even, safe]), ""]
    if any(_bare(load.safe_kg, line, voice).startswith("-") for load in answer.loads):
        parts += [wrapped(tell("A minus is help, as from a band or a machine.")), ""]
    weeks = [tell("in weeks"), *(str(ahead.weeks) for ahead in answer.ahead)]
    levels = ["1RM", *(_level(ahead.one_rm_kg, voice) for ahead in answer.ahead)]
    ranges = [tell("80 of 100"), *(_range(a.low80_kg, a.high80_kg, voice) for a in answer.ahead)]
    parts += [*columns(weeks, [levels, ranges]), ""]
    if not is_stale:
        parts.append(wrapped(tell("It holds if training goes on as it did; growth slows with time.")))
    parts.append(
        wrapped(
            tell(
                "No advice to lift it: for a heavy single have safeties or somebody beside you, and stop where it "
                "hurts."
            )
        )
    )
    return "\n".join(parts)


def _row(line: StrengthLine, voice: Voice) -> list[str]:
    gain = f"{_signed(line.gain_pct_per_week, voice)} ({_signed(line.gain_low_pct, voice)} {tell('to')} "
    gain += f"{_signed(line.gain_high_pct, voice)})"
    return [
        _short(line),
        _level(line.one_rm_kg, voice),
        _range(line.low80_kg, line.high80_kg, voice).removesuffix(f" {voice.unit}"),
        gain,
        str(line.sessions),
        line.last_session,
    ]


def _short(line: StrengthLine) -> str:
    """The name as it fits; of several machines the mark is what tells them apart."""
    mark = f" [{line.implement}]" if line.implement else ""
    room = max(NAME_WIDTH - len(mark), 1)
    return (line.name if len(line.name) <= room else f"{line.name[: room - 1]}…") + mark


def _name(line: StrengthLine) -> str:
    return f"{line.name} [{line.implement}]" if line.implement else line.name


def _level(total_kg: float, voice: Voice) -> str:
    return voice.kilograms(Decimal(f"{total_kg:.1f}"))


def _range(low_kg: float, high_kg: float, voice: Voice) -> str:
    low, high = _level(low_kg, voice), _level(high_kg, voice)
    return f"{low.removesuffix(f' {voice.unit}')}-{high}"


def _load(added_kg: float, line: StrengthLine, voice: Voice) -> str:
    """The load that is put on; less than nothing is help that is needed."""
    if line.body_mass_kg and round(added_kg, 1) == 0:
        return voice.added(kg(Decimal(0)))
    return f"{_bare(added_kg, line, voice)} {voice.unit}"


def _bare(added_kg: float, line: StrengthLine, voice: Voice) -> str:
    """The same without its unit."""
    said = _level(abs(added_kg), voice).removesuffix(f" {voice.unit}")
    if not line.body_mass_kg or said == "0":
        return said
    return f"{'+' if added_kg >= 0 else '-'}{said}"


def _signed(value: float, voice: Voice) -> str:
    written = f"{round(value, 1) or 0.0:+.1f}"
    return written.replace(".", ",") if voice.language == "de" else written


def _meaning(lines: tuple[StrengthLine, ...], voice: Voice) -> Iterator[str]:
    yield tell(
        "1RM: what could be lifted once, rested, on a usual day; estimated from all sets. The range is meant to hold "
        "it 80 times of 100. Where safety is at stake take the lower end."
    )
    lifted = [
        f"{line.name} {_load(line.one_rm_kg - line.body_mass_kg, line, voice)}" for line in lines if line.body_mass_kg
    ]
    if lifted:
        yield tell(
            "Where the body is lifted too, its share is part of the 1RM; on top of it: {exercises}.",
            exercises=", ".join(lifted),
        )
    yield from _unsure(lines)


def _unsure(lines: tuple[StrengthLine, ...]) -> Iterator[str]:
    """What the levels lack."""
    if any(line.is_body_mass_assumed for line in lines):
        yield tell('No body mass is logged, so a light one is assumed. Log it: `steelyard log "body mass 70kg"`.')
    guessed = [_name(line) for line in lines if not any(line.sets.get(kind) for kind in TELLING)]
    if guessed:
        yield tell(
            "No set says what was left in reserve, so this is a guess from what was chosen: {exercises}.",
            exercises=", ".join(guessed),
        )


def _picture(course: tuple[CoursePoint, ...], voice: Voice) -> Iterator[str]:
    """The course over time as it looks now: o the estimate, | its 80 % range, later to the right."""
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
    first, last = course[0].date, course[-1].date
    yield (
        f"{INDENT}{'':>10} {first}{last:>{PICTURE_WIDTH - len(first)}}"
        if last != first
        else f"{INDENT}{'':>10} {first}"
    )
    yield quiet(f"{INDENT}{'':>10} " + tell("o: estimate of that day as it looks now, |: its 80 % range"))


def _standing(line: StrengthLine, voice: Voice, *, is_stale: bool) -> Iterator[str]:
    """Where the lifter stands today, and what that rests on."""
    day = long_date(date.fromisoformat(line.last_session), voice.language)
    today = tell(
        "{exercise}: 1RM today {level} ({range}, 80 of 100), from {sessions}, last on {day}.",
        exercise=_name(line),
        level=_level(line.one_rm_kg, voice),
        range=_range(line.low80_kg, line.high80_kg, voice),
        sessions=tell_count("{count} session", "{count} sessions", line.sessions),
        day=day,
    )
    if line.body_mass_kg:
        body = tell(
            "The body's own share is {body}; on top of that: {load}.",
            body=_level(line.body_mass_kg, voice),
            load=_load(line.one_rm_kg - line.body_mass_kg, line, voice),
        )
        today = f"{today} {body}"
    yield today
    if is_stale:
        yield tell("Not trained for twelve weeks or more: how much is left is a guess. Begin well below it.")
    yield from _unsure((line,))


def _at_load(answer: ForecastShown, voice: Voice) -> str:
    said = _repetitions(answer, _load(answer.load_kg or 0.0, answer.line, voice))
    if answer.chance is None:
        return said
    line, chance = f"{answer.sets} × {answer.repetitions}", _chance(answer.chance)
    if not answer.reserve:
        return f"{said} {tell('Chance to complete {line}: {chance} of 100.', line=line, chance=chance)}"
    whole = tell(
        "Chance to complete {line} with {reserve} left: {chance} of 100.",
        line=line,
        reserve=answer.reserve,
        chance=chance,
    )
    return f"{said} {whole}"


def _repetitions(answer: ForecastShown, load: str) -> str:
    """How many are to be expected; LONGEST and more are not told apart."""
    if not answer.most:
        return tell("At {load}: not once, nine times in ten.", load=load)
    if answer.most >= LONGEST:
        return tell("At {load}: {fewest} repetitions or more, nine times in ten.", load=load, fewest=answer.fewest)
    if not answer.likeliest:
        return tell("At {load}: perhaps not once; {most} at most, nine times in ten.", load=load, most=answer.most)
    return tell_count(
        "At {load}: about {count} repetition with nothing left ({fewest} to {most}, 80 of 100).",
        "At {load}: about {count} repetitions with nothing left ({fewest} to {most}, 80 of 100).",
        answer.likeliest or 0,
        load=load,
        fewest=answer.fewest,
        most=answer.most,
    )


def _chance(chance: float) -> str:
    """In hundredths; nothing is certain."""
    whole = round(100 * chance)
    return tell("under 1") if whole < 1 else tell("over 99") if whole > 99 else str(whole)


def _goal(answer: ForecastShown, voice: Voice) -> str:
    goal, today = _load(answer.goal_kg or 0.0, answer.line, voice), answer.date

    def month(day: str) -> str:
        return month_of(date.fromisoformat(day), voice.language)

    if answer.goal_earliest is None:
        return tell("{goal} once: not foreseeable within two years.", goal=goal)
    if answer.goal_latest == today:
        return tell("{goal} once: within reach today, nine times in ten.", goal=goal)
    if answer.goal_middle == today:
        return tell("{goal} once: today more likely than not, but not surely.", goal=goal)
    if answer.goal_earliest == today:
        said = tell("{goal} once: possible today, but not likely.", goal=goal)
    else:
        said = tell("{goal} once: hardly before {earliest}.", goal=goal, earliest=month(answer.goal_earliest))
    if answer.goal_middle is None:
        return f"{said} {tell('Perhaps not within two years.')}"
    if answer.goal_latest is None:
        middle = month(answer.goal_middle)
        later = tell("As likely as not by {middle}, and perhaps not within two years.", middle=middle)
        return f"{said} {later}"
    later = tell(
        "As likely as not by {middle}, nine times in ten by {latest}.",
        middle=month(answer.goal_middle),
        latest=month(answer.goal_latest),
    )
    return f"{said} {later}"
