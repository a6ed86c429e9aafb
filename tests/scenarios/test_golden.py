"""Golden scenarios: a few lines of log, a day, and the decision with its reasons, worked out by hand from the rules.

Each file says why. The rules are common practice or our judgement as docs/reference/limits.md marks them; the
arithmetic is Epley's r/30 (Epley 1985).
"""

import json
from collections import Counter
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

import msgspec
import pytest
from tests.builders import ATTESTED

from steelyard.catalogue import catalogue
from steelyard.engine.body import Body
from steelyard.engine.equipment import ASSUMED, Equipment, PlatePair
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.health import AttestBody, ClearanceBody, EpisodeBody, RestrictionBody, ScreeningBody
from steelyard.engine.log import CheckInBody, LifterBody, PolicyBody
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.quantities import Load, plain
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision
from steelyard.exchange.set_line import read_line

Written = TypeVar("Written", bound=Body)
GOLDEN = sorted((Path(__file__).parent / "golden").glob("*.json"))


@pytest.mark.parametrize("file", GOLDEN, ids=lambda file: file.stem)
def test_golden(file: Path) -> None:
    scenario = json.loads(file.read_text(encoding="utf-8"))
    health = scenario.get("health")
    request = Request(
        on=date.fromisoformat(scenario["on"]),
        exercises=tuple(scenario.get("exercises", ())),
        is_deload=scenario.get("deload", False),
        **{name: (health or {}).get(name) for name in ("alone", "safeties")},
    )
    log = log_of(scenario["log"], scenario.get("policy", {}))
    if health is not None:
        log = with_health(log, health)
    sheet = plan_session(log, catalogue(), equipment_of(scenario.get("equipment")), request)
    assert [told(line) for line in sheet.lines] == [expected(scenario["expect"])]


def log_of(lines: list[str], policy: dict[str, str]) -> TrainingLog:
    """The log that some typed lines make, each behind its day, under changed settings."""
    sets, check_ins = [], []
    for line in lines:
        day, _, typed = line.partition(" | ")
        read = read_line(typed, catalogue(), date.fromisoformat(day), "kg")
        sets += list(read.sets)
        check_ins += [read.check_in] if read.check_in is not None else []
    logged = tuple(LoggedSet(f"{number:04d}", body) for number, body in enumerate(sets))
    changes = (PolicyBody(on=date.min, changes=policy),) if policy else ()
    return TrainingLog(sets=logged, check_ins=tuple(check_ins), policy_changes=changes, attests=ATTESTED)


def with_health(log: TrainingLog, written: dict[str, Any]) -> TrainingLog:
    """The log with what a scenario says of health in place of a coach's word."""

    def bodies(kind: type[Written], name: str) -> tuple[tuple[str, Written], ...]:
        return tuple((f"{name}-{n}", msgspec.convert(body, kind)) for n, body in enumerate(written.get(name, ())))

    born = written.get("birth_year")
    return msgspec.structs.replace(
        log,
        lifter=None if born is None else LifterBody(name="somebody", birth_year=born),
        check_ins=(*log.check_ins, *(body for _, body in bodies(CheckInBody, "check_ins"))),
        attests=bodies(AttestBody, "attests"),
        screenings=bodies(ScreeningBody, "screenings"),
        clearances=bodies(ClearanceBody, "clearances"),
        episodes=bodies(EpisodeBody, "episodes"),
        restrictions=bodies(RestrictionBody, "restrictions"),
    )


def equipment_of(written: dict[str, Any] | None) -> Equipment | None:
    """Equipment with this bar and these pairs of plates."""
    if written is None:
        return None

    def mass(text: str) -> Load:
        return Load(Decimal(text[:-2]), "lb" if text.endswith("lb") else "kg")

    pairs = Counter(written["plates"])
    plates = tuple(PlatePair(mass(plate), count) for plate, count in pairs.items())
    return Equipment(
        bar=mass(written["bar"]),
        plates=plates,
        dumbbells=ASSUMED.dumbbells,
        kettlebells=ASSUMED.kettlebells,
        stack=ASSUMED.stack,
    )


def told(line: Decision) -> dict[str, Any]:
    """A decision in the words of the scenario files."""
    work = [s for s in line.sets if s.kind == "work"]
    text = ""
    if work:
        load = plain(work[0].load.magnitude) if work[0].load is not None else Decimal(0)
        text = f"{len(work)}x{work[0].reps} @ {load:f}"
        text += f" rir {work[0].target_rir}" if work[0].target_rir != 2 else ""
    return {
        "exercise": line.exercise,
        "course": line.course,
        "lever": line.lever,
        "work": text,
        "ramp": [f"{plain(s.load.magnitude):f}" for s in line.sets if s.kind == "ramp" and s.load is not None],
        "codes": [code_of(r) for r in line.reasons],
        "load refused": next((code_of(c.reason) for c in line.considered if c.lever == "load"), None)
        if line.course == "rise" and line.lever == "reps" and "beyond-range" in {code_of(r) for r in line.reasons}
        else None,
    }


def expected(written: dict[str, Any]) -> dict[str, Any]:
    """What a scenario file expects."""
    return {
        "exercise": written["exercise"],
        "course": written["course"],
        "lever": written["lever"],
        "work": written["work"],
        "ramp": written.get("ramp", []),
        "codes": written["codes"],
        "load refused": written.get("considered", {}).get("load"),
    }
