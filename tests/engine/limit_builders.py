"""Limits and wishes in few words, for tests of bound() only."""

from datetime import date
from decimal import Decimal
from typing import Any, Literal

from steelyard.engine.equipment import Loadable
from steelyard.engine.formulas import EQUATIONS
from steelyard.engine.limits import Bounded, EquivalentCode, EquivalentLimit, Limits, StepCeiling, Wish, bound
from steelyard.engine.log import OverruleBody
from steelyard.engine.quantities import kg
from steelyard.engine.reasons import SmallestJump, SmallestJumpRefused, code_of
from steelyard.engine.yardstick import Yardstick

EPLEY = Yardstick(equation=EQUATIONS["epley"], measure="reps", target_rir=2)
HOLD = Yardstick(equation=EQUATIONS["epley"], measure="seconds", target_rir=2)
BY_2_5 = Loadable(tuple(Decimal(n) * Decimal("2.5") for n in range(8, 81)))  # 20 to 200 kg


def wish(total: str | int, count: int, rir: int = 2) -> Wish:
    """A wish of a total load (kg), a count and a reserve."""
    return Wish(total=Decimal(total), count=count, rir=rir)


def limit(code: EquivalentCode, reference: float, ceiling: str = "0", least_rise: float = 0.0) -> EquivalentLimit:
    """A limit over a reference (kg), with one piece of evidence."""
    return EquivalentLimit(
        code=code, reference=reference, ceiling=Decimal(ceiling), least_rise=least_rise, evidence=("set-1",)
    )


def step(last: str, following: str | None, ceiling: str = "0.05", jump: bool | None = None) -> StepCeiling:
    """A step after a load (kg), its smallest jump taken, refused or not known."""
    taken = None
    if jump is not None and following is not None:
        kind = SmallestJump if jump else SmallestJumpRefused
        rise = (Decimal(following) - Decimal(last)) / Decimal(last)
        taken = kind(load=kg(last), next_load=kg(following), rise=rise, predicted=8, bottom=5)
    return StepCeiling(
        last=Decimal(last),
        following=None if following is None else Decimal(following),
        ceiling=Decimal(ceiling),
        jump=taken,
    )


def wide(**narrower: Any) -> Limits:
    """Limits that bind nothing, but for those that are given."""
    open_ones: dict[str, Any] = {
        "weekly": limit("weekly-limit", 1e6),
        "twelve_weeks": limit("twelve-week-limit", 1e6),
        "step": step("1000", "1002.5"),
    }
    return Limits(**{**open_ones, **narrower})


def overrule(code: Literal["weekly-limit", "step-limit", "twelve-week-limit"], ceiling: str | None) -> OverruleBody:
    """A coach\'s overruling."""
    return OverruleBody(
        on=date(2026, 3, 1),
        until=date(2026, 4, 1),
        exercise="squat",
        limit=code,
        ceiling=None if ceiling is None else Decimal(ceiling),
        by="coach",
        why="a meet",
    )


def held(wanted: Wish, limits: Limits, *, floor: int = 5, loadable: Loadable = BY_2_5) -> Bounded:
    """What the limits leave of a wish."""
    return bound(wanted, limits, EPLEY, loadable, floor)


def codes(bounded: Bounded) -> list[str]:
    """Codes of everything that is named, in order."""
    return [code_of(reason) for reason in bounded.bound_by]
