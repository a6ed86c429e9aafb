"""No prediction knows a later entry of the log: sets, loads, reserves, body masses and corrections of later days."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs
from tests.builders import entry, entry_id, hlc_at
from tests.strategies import counts, struct_of

from steelyard.catalogue import catalogue
from steelyard.engine.backtest.following import RuleFollower
from steelyard.engine.backtest.population import USUAL
from steelyard.engine.backtest.rules import RULES, Rule
from steelyard.engine.backtest.trials import LifterTrials, read_trials
from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.fold import TOMBSTONE, fold
from steelyard.engine.log import CheckInBody, Entry, SetBody
from steelyard.engine.policy import Policy
from steelyard.engine.quantities import kg

from .leaking import MakeFollower, said_of

STARTS = date(2026, 1, 5)
CUT = 30
DAYS = 60
EXERCISES = ("squat", "bench-press", "pull-up", "push-up", "leg-press", "plank")
few = settings(max_examples=25)

loads = st.sampled_from(("0", "10", "60", "82.5", "100", "140")).map(kg)
efforts = st.none() | st.sampled_from(("0", "0.5", "1", "2", "3", "6")).map(lambda rir: Effort(Decimal(rir)))


def days(least: int, most: int) -> st.SearchStrategy[date]:
    """Days since the start, both included."""
    return st.integers(least, most).map(lambda n: STARTS + timedelta(n))


def sets(least: int, most: int) -> st.SearchStrategy[SetBody]:
    """A set of those days with every field that it has, mostly of a few exercises and loads."""
    return struct_of(
        SetBody,
        on=days(least, most),
        exercise=st.sampled_from(EXERCISES),
        session=st.integers(1, 2),
        load=loads,
        reps=st.integers(0, 70),
        effort=efforts,
        implement=st.none(),
        seconds=counts(),
        metres=st.none(),
        missed=st.none() | st.sampled_from(("strength", "pain", "unsaid", "technique", "not-done")),
    )


def check_ins(least: int, most: int) -> st.SearchStrategy[CheckInBody]:
    """A body mass of one of those days."""
    masses = st.integers(50, 120).map(kg)
    return st.builds(CheckInBody, on=days(least, most), body_mass=masses)


@st.composite
def pasts(draw: st.DrawFn) -> list[Body]:
    """Three exercises trained often enough to be foreseen, and anything else beside."""
    often = [
        SetBody(on=STARTS + timedelta(3 * n), exercise=exercise, load=draw(loads), reps=draw(st.integers(0, 12)))
        for n in range(CUT // 3)
        for exercise in ("squat", "pull-up")
    ]
    often = [structs.replace(body, effort=draw(efforts)) for body in often]
    anything = draw(st.lists(sets(0, CUT - 1), max_size=8))
    return [*often, *anything, *draw(st.lists(check_ins(0, CUT - 1), max_size=2))]


@st.composite
def futures(draw: st.DrawFn) -> list[Body]:
    """Anything of the day that is asked about and of later ones."""
    return [*draw(st.lists(sets(CUT, DAYS), max_size=8)), *draw(st.lists(check_ins(CUT, DAYS), max_size=3))]


def written(bodies: list[Body], begins: int) -> list[Entry]:
    """Entries in this order of time."""
    return [entry(body, id=entry_id(n), hlc=hlc_at(n)) for n, body in enumerate(bodies, start=begins)]


def trials_of(entries: list[Entry]) -> LifterTrials:
    """What the ruler makes of them."""
    return read_trials("Ada", fold(entries), catalogue(), Policy())


def following(rule: Rule) -> MakeFollower:
    """A rule with its usual settings."""
    return lambda lifter: RuleFollower(rule, USUAL, "epley")


def said_before_the_cut(lifter: LifterTrials) -> dict[str, object]:
    """All that every rule said of sessions before the cut."""
    said: dict[str, object] = {}
    for rule in RULES:
        everything = said_of(following(rule), lifter)
        past = {at: what for at, what in everything.items() if lifter.sessions[at[0]].on < STARTS + timedelta(CUT)}
        said[rule.name] = past
    return said


def before_the_cut(lifter: LifterTrials) -> list[object]:
    """The sessions before it."""
    return [s for s in lifter.sessions if s.on < STARTS + timedelta(CUT)]


@few
@given(past=pasts(), future=futures(), other=futures())
def test_whatever_comes_later_no_rule_says_anything_else_of_what_was(
    past: list[Body], future: list[Body], other: list[Body]
) -> None:
    begun = written(past, 1)
    as_it_was = trials_of([*begun, *written(future, 1000)])
    said = said_before_the_cut(as_it_was)
    assert any(said.values())
    for entries in (begun, [*begun, *written(other, 1000)], [*written(other, 1000), *reversed(begun)]):
        otherwise = trials_of(entries)
        assert before_the_cut(otherwise) == before_the_cut(as_it_was)
        assert said_before_the_cut(otherwise) == said


@few
@given(past=pasts(), future=futures(), corrected=futures())
def test_corrections_and_withdrawals_of_later_days_change_nothing_before(
    past: list[Body], future: list[Body], corrected: list[Body]
) -> None:
    begun, later = written(past, 1), written(future, 1000)
    said = said_before_the_cut(trials_of([*begun, *later]))
    corrections = [
        structs.replace(new, id=entry_id(2000 + n), hlc=hlc_at(2000 + n), replaces=(old.id,))
        for n, (old, new) in enumerate(zip(later, written(corrected, 3000), strict=False))
        if old.kind == new.kind
    ]
    withdrawals = [
        entry(b"{}", id=entry_id(4000 + n), hlc=hlc_at(4000 + n), replaces=(old.id,), kind=TOMBSTONE)
        for n, old in enumerate(later[::2])
    ]
    for added in (corrections, withdrawals, corrections + withdrawals):
        assert said_before_the_cut(trials_of([*begun, *later, *added])) == said


def pull_ups(*masses: tuple[int, int]) -> LifterTrials:
    """Pull-ups every third day, and body masses by day."""
    bodies: list[Body] = [
        SetBody(on=STARTS + timedelta(3 * n), exercise="pull-up", reps=5 + n % 3, effort=Effort(Decimal(1)))
        for n in range(20)
    ]
    bodies += [CheckInBody(on=STARTS + timedelta(day), body_mass=kg(mass)) for day, mass in masses]
    return trials_of(written(bodies, 1))


@pytest.mark.parametrize("later", [((CUT, 100),), ((CUT, 60), (CUT + 10, 120)), ()], ids=["one", "two", "none"])
@pytest.mark.parametrize("earlier", [((5, 80),), ()], ids=["known before", "never known before"])
def test_a_body_mass_of_a_later_day_changes_nothing_before(
    earlier: tuple[tuple[int, int], ...], later: tuple[tuple[int, int], ...]
) -> None:
    assert said_before_the_cut(pull_ups(*earlier, *later)) == said_before_the_cut(pull_ups(*earlier))


def test_a_body_mass_of_an_earlier_day_does_change_what_comes_after() -> None:
    """The check above can fail."""
    assert said_before_the_cut(pull_ups((5, 80))) != said_before_the_cut(pull_ups((5, 90)))


@few
@given(drawn=st.lists(pasts(), min_size=2, max_size=4), data=st.data())
def test_neither_the_order_nor_the_number_of_lifters_changes_anybodys_trials(
    drawn: list[list[Body]], data: st.DataObject
) -> None:
    logs = {f"lifter {n}": written(bodies, 1) for n, bodies in enumerate(drawn)}
    alone = {name: trials_of(entries) for name, entries in logs.items()}
    order = data.draw(st.permutations(sorted(logs)))
    among = {name: trials_of(logs[name]) for name in order[: data.draw(st.integers(1, len(order)))]}
    assert all(alone[name] == trials for name, trials in among.items())
