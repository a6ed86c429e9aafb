"""What is expected hangs together after any log; and time alone adds doubt."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.strength.posterior import LEVELS, SLOPES

from .expectations import CHANCE_BY_LOAD, CHANCE_BY_REPS, CHANCE_ONE_MORE, LEVEL, TIME, expect
from .learners import after, beginning
from .odd_logs import odd_lifter, odd_lifters
from .tally import Tally

few = settings(max_examples=25)
# One log in a thousand: far from what is trained doubt grows faster than what is expected falls (docs/evidence).
RARELY_BROKEN = (CHANCE_BY_REPS, CHANCE_ONE_MORE)
RARE = 0.1


@few
@given(lifter=odd_lifters(8), seed=st.integers(0, 2**32))
def test_what_is_expected_hangs_together(lifter: LifterTrials, seed: int) -> None:
    tally, posterior, chance = Tally(), after(lifter), random.Random(seed)
    for key in list(posterior.places):
        expect(posterior, key, lifter.sessions[-1].on, lifter.name, chance, tally)
    assert [found for found in tally.breaches if found.partition(": ")[0] not in RARELY_BROKEN] == []
    assert all(tally.worst[law].excess < RARE for law in RARELY_BROKEN if law in tally.worst)


def test_of_somebody_new_too() -> None:
    tally, posterior, on = Tally(), beginning(), odd_lifter(1, 1).sessions[0].on
    for key in (("squat", ""), ("nothing-known", "")):
        posterior.pass_time(on.toordinal())
        posterior.begin_entry(key)
        expect(posterior, key, on, "new", random.Random(1), tally)
    assert tally.breaches == []


def test_doubt_that_fades_by_itself_is_seen() -> None:
    """The check can fail: level and slope so tied to each other that the next days make the level surer."""
    tally, lifter = Tally(), odd_lifter(0, 6, "plain")
    posterior = after(lifter)
    key = next(iter(posterior.places))
    for level, slope in zip(LEVELS, SLOPES, strict=True):
        posterior.covariance[:, slope, slope] = 1e-3
        posterior.covariance[:, level, slope] = posterior.covariance[:, slope, level] = -5e-4
    for seed in range(5):
        expect(posterior, key, lifter.sessions[-1].on, "", random.Random(seed), tally)
    assert TIME in {found.partition(": ")[0] for found in tally.breaches}


def test_levels_that_are_no_numbers_are_seen() -> None:
    tally, lifter = Tally(), odd_lifter(0, 6, "plain")
    posterior = after(lifter)
    key = next(iter(posterior.places))
    posterior.means[:] = 800.0
    with pytest.raises(OverflowError):
        expect(posterior, key, lifter.sessions[-1].on, "", random.Random(1), tally)
    tally.hold(LEVEL, float("nan"), "")
    tally.hold(CHANCE_BY_LOAD, -0.1, "")
    assert [found.partition(": ")[0] for found in tally.breaches] == [LEVEL]
