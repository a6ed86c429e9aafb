"""What must change nothing changes nothing, to the bit; and what tells something does."""

import random
from collections.abc import Callable
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs
from tests.builders import entry, entry_id, hlc_at
from tests.engine.backtest.trial_builders import lifter_of, session_on, trial
from tests.strategies import bodies, struct_of

from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials, Trial, read_trials
from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.fold import fold
from steelyard.engine.log import SetBody
from steelyard.engine.policy import Policy
from steelyard.engine.quantities import Load, kg, lb, shown_in
from steelyard.engine.strength.outlook import level_of

from .learners import after, exercises, trials_of
from .odd_logs import STARTS, odd_lifters
from .sameness import change_nothing, shifted, shuffled, state_of
from .tally import Tally

few = settings(max_examples=20)
# Twelve digits are as many as are typed: pounds of a load in kg are rounded there.
ROUNDED = 1e-9

loads = st.decimals(Decimal(1), Decimal(300), places=2)
sets = st.lists(
    struct_of(
        SetBody,
        on=st.dates(STARTS, STARTS.replace(month=3)),
        exercise=st.sampled_from(("squat", "bench-press", "pull-up", "leg-press")),
        session=st.integers(1, 2),
        load=loads.map(kg),
        reps=st.integers(0, 30),
        effort=st.none() | st.sampled_from(("0", "1", "2.5", "4", "7")).map(lambda rir: Effort(Decimal(rir))),
        implement=st.none(),
        seconds=st.none(),
        metres=st.none(),
        missed=st.none() | st.sampled_from(("strength", "pain")),
    ),
    min_size=1,
    max_size=25,
)


@few
@given(lifter=odd_lifters(8), seed=st.integers(0, 2**32))
def test_what_must_change_nothing_changes_nothing(lifter: LifterTrials, seed: int) -> None:
    tally = Tally()
    change_nothing(lifter, after(lifter), random.Random(seed), tally)
    assert tally.breaches == []


@few
@given(written=sets, seed=st.integers(0, 2**32))
def test_the_order_in_which_entries_arrive_changes_nothing_to_the_bit(written: list[SetBody], seed: int) -> None:
    entries = [entry(body, id=entry_id(n), hlc=hlc_at(n)) for n, body in enumerate(written, start=1)]
    mixed = random.Random(seed).sample(entries, len(entries))
    one, other = (read_trials("Ada", fold(found), exercises(), Policy()) for found in (entries, mixed))
    assert state_of(after(one)) == state_of(after(other))


@few
@given(written=sets)
def test_pounds_are_the_same_kilograms_to_the_bit(written: list[SetBody]) -> None:
    """From pounds to kilograms is exact."""
    in_pounds = [structs.replace(b, load=lb(b.load.value)) if b.load else b for b in written]
    in_kg = [structs.replace(b, load=kg(b.load.magnitude)) if b.load else b for b in in_pounds]
    assert state_of(after(trials_of([*in_pounds]))) == state_of(after(trials_of([*in_kg])))


@few
@given(written=sets)
def test_kilograms_entered_as_pounds_change_nothing_but_the_rounding(written: list[SetBody]) -> None:
    in_pounds = [structs.replace(b, load=_as_pounds(b.load)) if b.load else b for b in written]
    one, other = after(trials_of([*written])), after(trials_of([*in_pounds]))
    assert one.places == other.places
    for key in one.places:
        assert abs(level_of(one, key).kg / level_of(other, key).kg - 1) < ROUNDED


def _as_pounds(load: Load) -> Load:
    return lb(shown_in(load.magnitude, "lb", "0.0000000001"))


@few
@given(written=st.lists(bodies(), max_size=30), trained=sets)
def test_a_log_with_anything_in_it_is_learned_soundly(written: list[Body], trained: list[SetBody]) -> None:
    posterior = after(trials_of([*written, *trained]))
    for key in posterior.places:
        found = level_of(posterior, key)
        assert 0 < found.low95_kg <= found.low80_kg <= found.kg <= found.high80_kg <= found.high95_kg < float("inf")


def test_what_tells_something_changes_something() -> None:
    """The comparisons above can fail: another load, other days between, sets the other way round in their session."""
    lifter = lifter_of(*(session_on(3 * n, trial(100, 5), trial(95, 6), trial(90, 8)) for n in range(4)))
    state = state_of(after(lifter))
    heavier = _last_changed(lifter, lambda found: [structs.replace(t, load_kg=t.load_kg * (1 + 1e-12)) for t in found])
    sparse = structs.replace(lifter, sessions=(*lifter.sessions[:-1], *shifted(lifter, 1).sessions[-1:]))
    turned = _last_changed(lifter, lambda found: [structs.replace(t, order=len(found) + 1 - t.order) for t in found])
    for other in (heavier, sparse, turned):
        assert state_of(after(other)) != state
    assert shuffled(lifter, random.Random(1)) != lifter


def _last_changed(lifter: LifterTrials, changed: Callable[[tuple[Trial, ...]], list[Trial]]) -> LifterTrials:
    """The sets of the last session otherwise."""
    last = lifter.sessions[-1]
    entries = tuple(ExerciseEntry(e.key, tuple(changed(e.trials))) for e in last.entries)
    return structs.replace(lifter, sessions=(*lifter.sessions[:-1], structs.replace(last, entries=entries)))
