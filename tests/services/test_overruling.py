"""A coach sets a limit aside: for a time, with who and why, and it shows."""

from datetime import timedelta
from decimal import Decimal

import pytest
from tests.services.training import MONDAY, ask, codes, line_of, month, train

from steelyard.services.explaining import why
from steelyard.services.overruling import overrule
from steelyard.services.policies import change_policy
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.wording.quantity import Voice


@pytest.fixture
def held(scribe: Scribe) -> Scribe:
    """A lifter whose line waits for the weekly limit, which their policy keeps very low."""
    train(scribe, "Ada", month())
    change_policy("Ada", {"weekly_ceiling": "0.005"}, MONDAY - timedelta(days=60), scribe)
    assert "weekly-limit" in codes(line_of(ask(scribe)))
    assert line_of(ask(scribe)).course == "hold"
    return scribe


def test_a_limit_that_is_set_aside_shows_who_and_why(held: Scribe) -> None:
    told = overrule(
        "Ada",
        "bench",
        "weekly-limit",
        ceiling=None,
        on=MONDAY,
        until=None,
        by=" Coach Brandt ",
        why="old level",
        scribe=held,
    )
    assert (told.by, told.why, told.on, told.until) == ("Coach Brandt", "old level", "2026-11-02", "2026-11-09")
    line = line_of(ask(held))
    assert (line.course, line.lever) == ("rise", "reps")
    (reason,) = [r for r in line.reasons if r.code == "limit-overruled"]
    assert reason.role == "limit"
    for word in ("weekly limit", "Coach Brandt", "2026-11-09", "old level"):
        assert word in reason.text
    assert "weekly-limit" not in codes(line)
    assert "limit-overruled" in [r.code for r in why("Ada", "bench", MONDAY, Voice(), held).lines[0].reasons]


def test_a_limit_that_is_put_elsewhere_shows_who_and_why(held: Scribe) -> None:
    overrule(
        "Ada", "bench", "weekly-limit", ceiling=Decimal("0.06"), on=MONDAY, until=None, by="Bo", why="x", scribe=held
    )
    line = line_of(ask(held))
    assert (line.course, line.lever) == ("rise", "reps")
    assert "limit-overruled" in codes(line)


def test_it_holds_for_its_days_its_exercise_and_its_limit_only(held: Scribe) -> None:
    for exercise, limit, on in (
        ("bench", "weekly-limit", MONDAY + timedelta(days=1)),
        ("bench", "weekly-limit", MONDAY - timedelta(days=7)),
        ("squat", "weekly-limit", MONDAY),
        ("bench", "step-limit", MONDAY),
    ):
        overrule("Ada", exercise, limit, ceiling=None, on=on, until=None, by="Bo", why="x", scribe=held)  # type: ignore[arg-type] # literals
    line = line_of(ask(held))
    assert line.course == "hold"
    assert "limit-overruled" not in codes(line)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"until": MONDAY}, "ends after it begins"),
        ({"until": MONDAY + timedelta(days=93)}, "within 92 days"),
        ({"ceiling": Decimal(0)}, "lies between 0.5 and 25 %"),
        ({"ceiling": Decimal("1.01")}, "lies between 0.5 and 25 %"),
        ({"ceiling": Decimal("NaN")}, "lies between 0.5 and 25 %"),
        ({"ceiling": Decimal("Infinity")}, "lies between 0.5 and 25 %"),
        ({"by": " "}, "says who and why"),
        ({"why": ""}, "says who and why"),
        ({"exercise": "juggling"}, "no exercise that is known"),
    ],
)
def test_what_is_refused(held: Scribe, change: dict[str, object], message: str) -> None:
    asked: dict[str, object] = {"exercise": "bench", "ceiling": None, "until": None, "by": "Bo", "why": "x"} | change
    with pytest.raises(Refused, match=message):
        overrule("Ada", asked.pop("exercise"), "weekly-limit", on=MONDAY, scribe=held, **asked)  # type: ignore[arg-type] # by name
