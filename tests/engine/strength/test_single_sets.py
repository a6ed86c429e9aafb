"""Where ways are known and nothing is held for a slip, a stronger set never lowers; no set makes anything wider."""

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.strength.learning import telling

from .odd_logs import odd_lifter, odd_lifters, plain_lifters
from .single_sets import LAWFUL, LOWERED, NARROWER, one_more, stronger
from .tally import Tally

few = settings(max_examples=40)


@few
@given(lifter=plain_lifters(10) | odd_lifters(10), seed=st.integers(0, 2**32))
def test_a_stronger_set_never_lowers_and_no_set_widens(lifter: LifterTrials, seed: int) -> None:
    tally = Tally()
    one_more(lifter, random.Random(seed), tally)
    assert tally.breaches == []


def test_the_laws_are_put_to_the_test() -> None:
    """Every kind of set comes up, and where steepness is still learned a stronger set does lower at times."""
    tally = Tally()
    for seed in range(40):
        one_more(odd_lifter(seed, 8, "plain"), random.Random(seed), tally)
    for what in ("to its end", "with a reserve"):
        assert tally.cases[LAWFUL.format(what=what)] > 20
        assert tally.cases[NARROWER.format(what=what)] > 20
    assert tally.broken[LOWERED.format(what="with a reserve", under="one cell, generated")] > 0


@given(seed=st.integers(0, 2**32))
def test_a_stronger_set_is_stronger(seed: int) -> None:
    chance = random.Random(seed)
    for session in odd_lifter(seed, 2, "plain").sessions:
        for entry in session.entries:
            for trial in telling(entry):
                better = stronger(trial, chance)
                assert (better.load_kg, better.possible) > (trial.load_kg, trial.possible) or (
                    better.possible > trial.possible and better.load_kg == trial.load_kg
                )
                assert (better.evidence, better.order) == (trial.evidence, trial.order)
                assert better.told_up_to >= better.possible
