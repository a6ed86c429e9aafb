"""Odd logs out of a seed: lifters who rise every week, and beside them anything that closes or opens a gate."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property
from random import Random

import msgspec
from tests.builders import entry, entry_id, hlc_at

from steelyard.catalogue import catalogue
from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.equipment import Equipment, PlatePair, Steps
from steelyard.engine.exercises import Catalogue, own_exercise
from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.health import ScreeningBody
from steelyard.engine.log import CheckInBody, Entry, Missed, Pain, Phase, SetBody, Technique, TombstoneBody
from steelyard.engine.planning import Request
from steelyard.engine.quantities import kg

from .gate_entries import ANSWERS, HEALTH, a_clearance, a_gate_setting, a_lifter, a_screening, an_attest, perhaps, words

OWN = ("my-squat", "my-pulldown")
LIFTS = {
    "squat": 80,
    "bench-press": 60,
    "deadlift": 100,
    "overhead-press": 40,
    "pull-up": 5,
    "dumbbell-bench-press": 20,
    "leg-press": 120,
    "lat-pulldown": 50,
    "plank": 0,
    "farmers-carry": 20,
    "my-squat": 70,
}
SMALL = Equipment(
    bar=kg(20),
    plates=(PlatePair(kg(20), 3), PlatePair(kg(10)), PlatePair(kg(5)), PlatePair(kg("2.5"))),
    dumbbells=(Steps(kg(4), kg(4), kg(40)),),
    kettlebells=(Steps(kg(8), kg(8), kg(32)),),
    stack=Steps(kg(10), kg(10), kg(100)),
)


@dataclass(frozen=True)
class GateCase:
    """Entries in the order in which they arrived, the place, and what is asked."""

    seed: int
    entries: tuple[Entry, ...]
    request: Request
    equipment: Equipment | None

    @cached_property
    def log(self) -> TrainingLog:
        """The history that they fold into."""
        return fold(self.entries)

    def plus(self, added: Entry) -> "GateCase":
        """The same with one more entry."""
        return replace(self, entries=(*self.entries, added))

    @property
    def codes(self) -> tuple[str, ...]:
        """The exercises that are lifted or asked for."""
        return tuple(dict.fromkeys((*self.request.exercises, *(s.body.exercise for s in self.log.sets))))


def known_exercises() -> Catalogue:
    """The catalogue with two exercises of the lifter's own."""
    known = catalogue()
    mine = (own_exercise(OWN[0], "My squat", known["squat"]), own_exercise(OWN[1], "Mine", known["lat-pulldown"]))
    return known.extended(mine)


def gate_case(seed: int) -> GateCase:
    """The case that a seed stands for; the same seed gives the same case."""
    chance = Random(f"gates {seed}")
    on = date(2026, 1, 10) + timedelta(chance.randint(0, 330))
    codes = tuple(chance.sample(tuple(LIFTS), chance.randint(1, 4)))
    bodies: list[Body] = list(_training(chance, on, codes))
    health = _health(chance, on, codes)
    entries = _entered(chance, bodies, health)
    asked = codes if not bodies or chance.random() < 0.8 else ()
    if chance.random() < 0.15:  # a lift that was never done
        asked = (*codes, chance.choice(("front-squat", "incline-bench-press", "row-machine", "plank")))
        asked = tuple(code for code in dict.fromkeys(asked) if code in catalogue() or code in OWN)
    request = Request(
        on=on,
        exercises=asked,
        is_deload=chance.random() < 0.05,
        alone=chance.choice((*ANSWERS, None)),
        safeties=chance.choice((*ANSWERS, None)),
    )
    return GateCase(seed, entries, request, chance.choice((None, None, SMALL)))


def _training(chance: Random, on: date, codes: tuple[str, ...]) -> list[SetBody]:
    """Some weeks of training up to some days ago, mostly rising from session to session."""
    sessions = chance.choice((0, 1, 2, 4, 7, 10, 14, 24))
    day = on - timedelta(chance.choice((0, 1, 1, 2, 2, 3, 3, 4, 5, 9, 16, 35, 70)))
    days = []
    for _ in range(sessions):
        days.append(day)
        day -= timedelta(chance.choice((2, 2, 3, 3, 4)) if chance.random() < 0.94 else chance.randint(8, 90))
    loads, counts = dict(LIFTS), dict.fromkeys(LIFTS, 6)
    sets: list[SetBody] = []
    for day in reversed(days):
        phase: Phase | None = chance.choice(("deload", "taper", "return", "test")) if chance.random() < 0.05 else None
        for code in codes:
            if chance.random() < 0.9:
                counts[code] += chance.choice((0, 1, 1, 1))
                if counts[code] > 12:
                    counts[code], loads[code] = 8, loads[code] + 5
                sets += _line(chance, day, code, loads[code], counts[code], phase)
    return sets


def _line(chance: Random, day: date, code: str, load: int, reps: int, phase: Phase | None) -> list[SetBody]:
    measure = {"plank": "seconds", "farmers-carry": "metres"}.get(code, "reps")
    trouble = chance.random()
    sets: list[SetBody] = []
    for place in range(chance.choice((1, 2, 3, 3, 3, 3, 4, 5))):
        last = trouble < 0.12 and place > 0
        missed: Missed | None = chance.choice(("strength", "technique", "unsaid", "not-done")) if last else None
        technique: Technique | None = chance.choice(("rough", "broke")) if 0.12 <= trouble < 0.16 else None
        done = max(reps - (chance.choice((0, 0, 1)) * place), 1) if missed is None else max(reps - 3, 0)
        hurts = trouble > 0.95 and place == 0
        sets.append(
            SetBody(
                on=day,
                exercise=code,
                load=kg(load) if load else None,
                reps=done if measure == "reps" else None,
                seconds=done * 4 if measure == "seconds" else None,
                metres=Decimal(done * 5) if measure == "metres" else None,
                effort=Effort(Decimal(chance.choice((1, 2, 2, 3, 4)))) if chance.random() < 0.5 else None,
                missed=missed,
                technique=technique,
                pain=Pain(chance.choice((None, 1, 2, 2, 3, 5)), words(chance)) if hurts else None,
                phase=phase,
                kind=None if chance.random() < 0.95 else chance.choice(("work", "top", "back-off", "ramp", "warm-up")),
                session=1 if chance.random() < 0.98 else 2,
                note=words(chance, 0.01) if chance.random() < 0.2 else "",
            )
        )
    return sets


def _health(chance: Random, on: date, codes: tuple[str, ...]) -> list[Body]:
    """Any mixture, in which nothing at all, and nothing but good news, are common too."""
    bodies: list[Body] = []
    for maker in HEALTH:
        if chance.random() < chance.choice((0.1, 0.5)):
            bodies += [maker(chance, on, codes) for _ in range(chance.choice((1, 1, 2, 4)))]
    if chance.random() < 0.5:
        bodies.append(an_attest(chance, on, codes))
    if chance.random() < 0.3:
        good = a_screening(chance, on, codes)
        bodies.append(msgspec.structs.replace(good, active="yes", disease="no", symptoms="no", pregnant=None))
    for body in [b for b in bodies if isinstance(b, ScreeningBody)]:
        told = {"birth": body.gave_birth, "surgery": body.surgery, "heart-event": body.heart_event}
        for condition in (c for c, said in told.items() if said in {"yes", "unknown"} and chance.random() < 0.7):
            given = a_clearance(chance, on, codes)
            bodies.append(msgspec.structs.replace(given, condition=condition, until=None))
    if chance.random() < 0.1:
        bodies.append(a_gate_setting(chance, on, codes))
    if chance.random() < 0.5:
        bodies.append(CheckInBody(on=on - timedelta(400), body_mass=kg(80)))
    if chance.random() < 0.3:  # the same day said twice, each time otherwise
        again = [b for b in bodies if hasattr(b, "on")]
        if again:
            first = chance.choice(again)
            maker = next((m for m in HEALTH if type(m(Random(0), on, codes)) is type(first)), a_lifter)
            other = maker(chance, on, codes)
            bodies.append(msgspec.structs.replace(other, on=first.on) if hasattr(other, "on") else other)
    return bodies


def _entered(chance: Random, sets: list[Body], health: list[Body]) -> tuple[Entry, ...]:
    """Entries: mostly in the order of their days, now and then in any; some withdrawn, some said anew."""
    bodies = [*sets, *health]
    order = list(range(1, len(bodies) + 1))
    if chance.random() < 0.4:
        chance.shuffle(order)
    entries = [entry(b, id=entry_id(n), hlc=hlc_at(at)) for n, (b, at) in enumerate(zip(bodies, order, strict=True), 1)]
    told = entries[len(sets) :]
    for number in range(perhaps(chance, 0.35, chance.randint(1, 3), 0) if told else 0):
        entries.append(a_second_thought(chance, tuple(told), len(bodies) + 1 + number))
    chance.shuffle(entries)
    return tuple(entries)


def a_second_thought(chance: Random, told: tuple[Entry, ...], number: int) -> Entry:
    """An entry withdrawn, or replaced by another of its kind; twice for one entry makes two versions of it."""
    old = chance.choice(told)
    stamp = {"id": entry_id(number), "hlc": hlc_at(number), "replaces": (old.id,)}
    others = [other for other in told if other.kind == old.kind]
    if chance.random() < 0.6:
        return entry(TombstoneBody(why="a slip"), **stamp)  # type: ignore[arg-type]  # three names of entry()
    return entry(chance.choice(others).body, kind=old.kind, **stamp)  # type: ignore[arg-type]  # the same
