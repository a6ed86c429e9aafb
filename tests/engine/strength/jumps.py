"""Jumps and first slips: how soon a true rise of 15 % is believed, and a first set that was a slip is forgotten."""

import random
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from math import log

from msgspec import Struct, structs
from numpy.random import default_rng

from steelyard.engine.history import LineKey
from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import Simulated
from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.outlook import level_of

from .learners import beginning, exercises, trials_of
from .slips import BEGINS, BODIES, SLIP_KINDS, SlipKind, slipped

JUMP = 1.15
# A jump is believed, and a slip forgotten, where no more than so much (ln) of it is missing or left (our judgement).
NEAR = 0.05
SESSIONS = 4


class Course(Struct, frozen=True):
    """How far (ln) a level lies from where it should, after one, two, ... sessions of that exercise."""

    seed: int
    key: str
    off: tuple[float, ...]


def jumps(body: BodyName, seeds: Sequence[int]) -> list[Course]:
    """Every load of one exercise 15 % heavier from the middle of the log on, the count the same."""
    return [course for seed in seeds for course in _courses(body, seed, _after_half, log(JUMP))]


def first_slips(body: BodyName, seeds: Sequence[int], kind: SlipKind) -> list[Course]:
    """The very first set of one exercise is a slip of this kind."""
    return [course for seed in seeds for course in _courses(body, seed, partial(_first_set, kind=kind), 0.0)]


def near_after(courses: Sequence[Course], sessions: int) -> float:
    """Share of those that are near after so many sessions."""
    return sum(abs(course.off[sessions - 1]) <= NEAR for course in courses) / len(courses)


Changed = Callable[[Sequence[SetBody], str, random.Random], tuple[list[SetBody], date]]


def _courses(body: BodyName, seed: int, changed: Changed, expected: float) -> list[Course]:
    simulated = simulate("trained", default_rng(seed), name="", begins=BEGINS, weeks=16, body=body, slip_rate=0.0)
    as_it_was = _levels(simulated, simulated.sets)
    found = []
    for exercise in _loaded(simulated):
        sets, since = changed(simulated.sets, exercise, random.Random(seed))
        levels = _levels(simulated, sets)
        days = sorted(on for on, key in as_it_was if key[0] == exercise and on >= since)[:SESSIONS]
        at = [(on, (exercise, "")) for on in days]
        if len(at) == SESSIONS and sets != list(simulated.sets):
            found.append(Course(seed, exercise, tuple(log(levels[a] / as_it_was[a]) - expected for a in at)))
    return found


def _loaded(simulated: Simulated) -> list[str]:
    """Exercises whose load is all on the bar: of others a load 15 % heavier is no strength 15 % greater."""
    return sorted(code for code in simulated.levels if not exercises()[code].body_mass_share)


def _after_half(sets: Sequence[SetBody], exercise: str, chance: random.Random) -> tuple[list[SetBody], date]:
    del chance
    days = sorted({body.on for body in sets if body.exercise == exercise})
    since = days[len(days) // 2]
    return [_heavier(body) if body.exercise == exercise and body.on >= since else body for body in sets], since


def _heavier(body: SetBody) -> SetBody:
    return structs.replace(body, load=Load(body.load.value * 23 / 20)) if body.load else body


def _first_set(
    sets: Sequence[SetBody], exercise: str, chance: random.Random, kind: SlipKind
) -> tuple[list[SetBody], date]:
    place = next(n for n, body in enumerate(sets) if body.exercise == exercise)
    used = sorted({body.exercise for body in sets})
    found = list(sets)
    found[place] = slipped(sets[place], used, chance, kind)
    return found, sets[place].on


def _levels(simulated: Simulated, sets: Sequence[SetBody]) -> dict[tuple[date, LineKey], float]:
    posterior, found = beginning(), {}
    for session in trials_of([*simulated.check_ins, *sets]).sessions:
        learn_session(posterior, session)
        for entry in session.entries:
            found[session.on, entry.key] = level_of(posterior, entry.key).kg
    return found


def told(seeds: Sequence[int]) -> list[str]:
    """A table: shares that are near after so many sessions."""
    lines = [
        f"Near: within {NEAR:.0%} of what the same log says without it (with the jump added).",
        "The first session after a first slip is the slip's own.",
        "",
        "| body | what | exercises | near after 1 session | 2 | 3 | 4 | furthest after 3 (ln) |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for body in BODIES:
        found = {f"a jump of {JUMP - 1:.0%}": jumps(body, seeds)}
        found |= {f"first set: {kind}": first_slips(body, seeds, kind) for kind in SLIP_KINDS}
        for what, courses in found.items():
            shares = " | ".join(f"{near_after(courses, n):.0%}" for n in range(1, SESSIONS + 1))
            furthest = max((course.off[2] for course in courses), key=abs)
            lines.append(f"| {body} | {what} | {len(courses)} | {shares} | {furthest:+.2f} |")
    return lines
