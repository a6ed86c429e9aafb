"""The fold: one history, whatever order entries arrive in, however often."""

import random
from dataclasses import dataclass
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.builders import (
    COACH,
    LIFTER,
    OTHER_LIFTER,
    a_set,
    day,
    entries,
    entry,
    entry_id,
    hlc_at,
    training_log,
)
from tests.strategies import bodies, slow_to_draw

from steelyard.engine.body import Body
from steelyard.engine.fold import Dispute, TrainingLog, fold, versions_of
from steelyard.engine.log import (
    SCHEMA,
    CheckInBody,
    Entry,
    LifterBody,
    SetBody,
    TombstoneBody,
    encode_canonical,
)
from steelyard.engine.quantities import kg

MONDAY, WEDNESDAY = "2026-03-02", "2026-03-04"


def numbered(
    number: int, body: Body, *replaced: int, at: int | None = None, author: str = LIFTER, person: str = LIFTER
) -> Entry:
    """Entry of this number, entered at this time, in place of those."""
    return entry(
        body,
        id=entry_id(number),
        hlc=hlc_at(number if at is None else at),
        author=author,
        person=person,
        replaces=tuple(entry_id(old) for old in replaced),
    )


def squat(load: int, reps: int = 5, on: str = MONDAY) -> SetBody:
    """One set of squats."""
    return a_set(on, "squat", load, reps)


def void(why: str = "entered twice") -> TombstoneBody:
    """A withdrawal."""
    return TombstoneBody(why=why)


def shown(log: TrainingLog) -> list[tuple[str, int]]:
    """Ids and whole kilograms of the sets as they stand."""
    return [(s.id, int(s.body.load.value)) for s in log.sets if s.body.load is not None]


def ids(*numbers: int) -> tuple[str, ...]:
    """Ids by number."""
    return tuple(entry_id(number) for number in numbers)


@st.composite
def small_worlds(draw: st.DrawFn) -> list[Entry]:
    """A few entries that replace and withdraw one another at will, also in rings, across persons and under one id."""
    bodies_at_hand = st.sampled_from((squat(60), squat(65), CheckInBody(on=day(MONDAY)), LifterBody(name="A"), void()))
    garbage = st.sampled_from((b"{}", b"no json", b'{"on":"2026-03-02","exercise":"row"}'))
    world = []
    for _ in range(draw(st.integers(1, 8))):
        body = draw(bodies_at_hand | garbage)
        world.append(
            entry(
                body,
                kind=draw(st.sampled_from(("set", "joker"))) if isinstance(body, bytes) else None,
                id=entry_id(draw(st.integers(1, 6))),
                hlc=hlc_at(draw(st.integers(1, 3))),
                person=draw(st.sampled_from((LIFTER, LIFTER, OTHER_LIFTER))),
                author=draw(st.sampled_from((LIFTER, COACH))),
                schema=draw(st.sampled_from((SCHEMA, SCHEMA, SCHEMA + 1))),
                replaces=ids(*draw(st.just([]) | st.lists(st.integers(1, 7), max_size=3))),
            )
        )
    return world


@st.composite
def arrivals(draw: st.DrawFn, worlds: st.SearchStrategy[list[Entry]]) -> tuple[list[Entry], list[Entry]]:
    """Entries, and the same in another order with some of them sent again."""
    world = draw(worlds)
    again = draw(st.lists(st.sampled_from(world), max_size=6))
    return world, draw(st.permutations(world + again))


@given(arrivals(small_worlds()))
@settings(max_examples=400)
def test_order_and_repetition_change_no_byte(arrived: tuple[list[Entry], list[Entry]]) -> None:
    once, again = arrived
    assert encode_canonical(fold(once)) == encode_canonical(fold(again))


@given(arrivals(small_worlds()), st.integers(1, 7))
def test_order_and_repetition_change_no_version(arrived: tuple[list[Entry], list[Entry]], number: int) -> None:
    once, again = arrived
    assert versions_of(once, entry_id(number)) == versions_of(again, entry_id(number))


@given(arrivals(st.lists(bodies(), min_size=1, max_size=5).map(lambda found: list(entries(*found)))))
@slow_to_draw
def test_the_same_of_every_kind(arrived: tuple[list[Entry], list[Entry]]) -> None:
    once, again = arrived
    assert encode_canonical(fold(once)) == encode_canonical(fold(again))


@given(small_worlds())
def test_nothing_vanishes_but_what_was_replaced(world: list[Entry]) -> None:
    log = fold(world)
    replaced = {target for e in world for target in e.replaces if target != e.id}
    seen = {s.id for s in log.sets} | set(log.unread) | {v for d in log.disputes for v in d.versions}
    for e in world:
        is_only_one = sum(other.id == e.id for other in world) == 1
        if e.kind in {"set", "joker"} and is_only_one and e.id not in replaced:
            assert e.id in seen


@dataclass(frozen=True)
class Told:
    """A long log and what it must come to."""

    entries: list[Entry]
    sets: int
    disputes: int
    unread: int


def long_log() -> Told:
    """A fortnight with everything that happens to a log: 20 sets, edits, withdrawals, disputes, a stranger, a ring."""
    written = [numbered(n, squat(60 + n, on=f"2026-03-{1 + n // 2:02d}")) for n in range(1, 21)]
    written += [numbered(n + 20, squat(100 + n), n) for n in range(1, 6)]  # 1-5 corrected once
    written += [numbered(n + 30, squat(200 + n), n + 20) for n in range(1, 3)]  # 1 and 2 twice
    written += [numbered(41, void(), 6), numbered(42, void(), 7, 8)]  # 6, 7 and 8 gone
    written += [numbered(43, squat(300), 9), numbered(44, squat(301), 9, author=COACH)]  # 9 in dispute
    written += [numbered(45, squat(302), 10), numbered(46, void(), 10)]  # 10 in dispute with a withdrawal
    written += [numbered(47, squat(303), 48), numbered(48, squat(304), 47)]  # a ring
    written += [numbered(49, squat(305), 11, person=OTHER_LIFTER)]  # may not touch 11
    written += [numbered(50, squat(306), 999)]  # replaces what is not here
    written += [entry(b'{"mood":"good"}', kind="mood", id=entry_id(51), hlc=hlc_at(51))]
    written += [entry(b"{}", kind="set", schema=SCHEMA + 1, id=entry_id(52), hlc=hlc_at(52))]
    # 20 - three withdrawn + the ring as one + the other lifter's + the one whose target is missing.
    return Told(written, sets=20, disputes=3, unread=2)


def test_ten_thousand_orders_give_the_same_bytes() -> None:
    told = long_log()
    log = fold(told.entries)
    assert (len(log.sets), len(log.disputes), len(log.unread)) == (told.sets, told.disputes, told.unread)
    wanted = encode_canonical(log)
    chance = random.Random(20260302)
    for _ in range(10_000):
        shuffled = told.entries + chance.choices(told.entries, k=5)
        chance.shuffle(shuffled)
        assert encode_canonical(fold(shuffled)) == wanted


def test_a_correction_stands_in_place_of_what_it_corrects() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, squat(62), 1), numbered(3, squat(64), 2)])
    assert shown(log) == [(entry_id(3), 64)]
    assert log.disputes == ()


def test_cause_beats_the_clock() -> None:
    # The correcting device's clock is a day behind.
    log = fold([numbered(1, squat(60), at=1_000_000), numbered(2, squat(62), 1, at=1)])
    assert shown(log) == [(entry_id(2), 62)]
    assert log.disputes == ()


def test_a_correction_that_arrives_first_waits_for_nothing() -> None:
    correction, original = numbered(2, squat(62), 1), numbered(1, squat(60))
    assert shown(fold([correction])) == [(entry_id(2), 62)]
    assert fold([correction, original]) == fold([correction])


def test_two_corrections_that_do_not_know_each_other_are_both_kept() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, squat(62), 1), numbered(3, squat(64), 1, author=COACH)])
    assert shown(log) == [(entry_id(3), 64)]
    assert log.disputes == (Dispute(ids(3, 2)),)


def test_of_two_at_the_same_time_the_author_then_the_id_decides() -> None:
    earlier, later = sorted((LIFTER, COACH))
    earlier_author = numbered(3, squat(64), 1, at=9, author=earlier)
    by_author = fold([numbered(1, squat(60)), earlier_author, numbered(2, squat(62), 1, at=9, author=later)])
    assert by_author.disputes == (Dispute(ids(2, 3)),)
    by_id = fold([numbered(1, squat(60)), numbered(2, squat(62), 1, at=9), numbered(3, squat(64), 1, at=9)])
    assert by_id.disputes == (Dispute(ids(3, 2)),)


def test_disputes_stand_in_one_order() -> None:
    originals = [numbered(n, squat(60)) for n in range(1, 9)]
    rivals = [numbered(n + 10 * k, squat(60 + k), n) for n in range(1, 9) for k in (1, 2)]
    log = fold(originals + rivals)
    assert [dispute.versions for dispute in log.disputes] == [ids(n + 20, n + 10) for n in range(1, 9)]


def test_what_was_entered_at_the_same_time_stands_by_author_then_id() -> None:
    earlier, later = sorted((LIFTER, COACH))
    written = [numbered(1, squat(60), at=9, author=later), numbered(3, squat(61), at=9, author=earlier)]
    written.append(numbered(2, squat(62), at=9, author=later))
    for order in permutations(written):
        assert [load for _, load in shown(fold(order))] == [61, 60, 62]


def test_a_correction_that_names_both_versions_ends_the_dispute() -> None:
    written = [numbered(1, squat(60)), numbered(2, squat(62), 1), numbered(3, squat(64), 1)]
    assert versions_of(written, entry_id(3)) == ids(1, 2, 3)
    log = fold([*written, numbered(4, squat(63), 2, 3)])
    assert shown(log) == [(entry_id(4), 63)]
    assert log.disputes == ()


def test_an_entry_nobody_replaced_is_its_only_version() -> None:
    assert versions_of([numbered(1, squat(60)), numbered(2, squat(62))], entry_id(1)) == ids(1)
    assert versions_of([], entry_id(1)) == ids(1)


def test_what_is_withdrawn_is_gone() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, squat(62)), numbered(3, void(), 1)])
    assert shown(log) == [(entry_id(2), 62)]
    assert log.disputes == ()


def test_one_withdrawal_may_take_several() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, CheckInBody(on=day(MONDAY))), numbered(3, void(), 1, 2)])
    assert (log.sets, log.check_ins, log.disputes) == ((), (), ())


def test_a_withdrawal_beats_only_the_versions_it_knew() -> None:
    edit_unknown = fold([numbered(1, squat(60)), numbered(2, squat(62), 1), numbered(3, void(), 1, author=COACH)])
    assert shown(edit_unknown) == [(entry_id(2), 62)]
    assert edit_unknown.disputes == (Dispute(ids(2, 3)),)
    edit_known = fold([numbered(1, squat(60)), numbered(2, squat(62), 1), numbered(3, void(), 1, 2, author=COACH)])
    assert edit_known == TrainingLog()


def test_a_withdrawal_of_several_makes_them_no_versions_of_each_other() -> None:
    written = [numbered(1, squat(60)), numbered(2, squat(80)), numbered(3, void(), 1, 2, author=COACH)]
    # Two sets of one withdrawn session were corrected meanwhile: both stay, each in its own dispute.
    log = fold([*written, numbered(4, squat(61), 1), numbered(5, squat(81), 2)])
    assert shown(log) == [(entry_id(4), 61), (entry_id(5), 81)]
    assert log.disputes == (Dispute(ids(4, 3)), Dispute(ids(5, 3)))
    # One of the two is taken back: the other stays withdrawn.
    assert versions_of(written, entry_id(1)) == ids(1, 3)
    one_back = numbered(6, squat(60), 1, 3)
    assert shown(fold([*written, one_back])) == [(entry_id(6), 60)]
    both_back = fold([*written, one_back, numbered(7, squat(80), 2, 3)])
    assert shown(both_back) == [(entry_id(6), 60), (entry_id(7), 80)]
    assert both_back.disputes == ()


def test_a_withdrawal_can_be_taken_back() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, void(), 1), numbered(3, squat(60), 1, 2)])
    assert shown(log) == [(entry_id(3), 60)]
    assert log.disputes == ()


@pytest.mark.parametrize("size", [1, 2, 3])
def test_entries_that_replace_each_other_in_a_ring_all_stay(size: int) -> None:
    ring = [numbered(n, squat(60 + n), n % size + 1) for n in range(1, size + 1)]
    log = fold(ring)
    assert shown(log) == [(entry_id(size), 60 + size)]
    kept = {version for dispute in log.disputes for version in dispute.versions}
    assert kept == (set(ids(*range(1, size + 1))) if size > 1 else set())


def test_nobody_replaces_what_belongs_to_another() -> None:
    mine = numbered(1, squat(60))
    for theirs in (numbered(2, squat(62), 1, person=OTHER_LIFTER), numbered(2, void(), 1, person=OTHER_LIFTER)):
        log = fold([mine, theirs])
        assert entry_id(1) in {s.id for s in log.sets}
        assert log.disputes == ()


def test_a_set_is_replaced_by_a_set_only() -> None:
    log = fold([numbered(1, squat(60)), numbered(2, CheckInBody(on=day(MONDAY)), 1)])
    assert shown(log) == [(entry_id(1), 60)]
    assert len(log.check_ins) == 1


@pytest.mark.parametrize("kind", ["set", "mood"])
def test_what_this_version_cannot_read_is_kept_as_unread(kind: str) -> None:
    later = entry(b'{"on":"2026-03-02","exercise":"squat"}', kind=kind, schema=SCHEMA + 1, id=entry_id(7))
    log = fold([numbered(1, squat(60)), later])
    assert log.unread == ids(7)
    assert shown(log) == [(entry_id(1), 60)]


@pytest.mark.parametrize("garbage", [b"", b"{", b"\xff", b"[]", b'{"x":' * 100_000])
def test_one_unreadable_body_spoils_no_log(garbage: bytes) -> None:
    log = fold([numbered(1, squat(60)), entry(garbage, kind="set", id=entry_id(2))])
    assert log.unread == ids(2)
    assert shown(log) == [(entry_id(1), 60)]


def test_a_set_corrected_by_a_later_version_of_the_program_is_unread_not_wrong() -> None:
    later = entry(b'{"exercise":"squat"}', kind="set", schema=SCHEMA + 1, id=entry_id(2), replaces=ids(1))
    log = fold([numbered(1, squat(60)), later])
    assert log.sets == ()
    assert log.unread == ids(2)


def test_under_one_id_the_same_bytes_win_everywhere() -> None:
    one, other = numbered(1, squat(60)), numbered(1, squat(62))
    assert fold([one, other]) == fold([other, one])
    assert len(fold([one, other]).sets) == 1


def test_under_one_id_and_body_a_newer_schema_does_not_depend_on_order() -> None:
    one = numbered(1, squat(60))
    newer = entry(one.body, kind="set", schema=SCHEMA + 1, id=one.id, hlc=one.hlc)
    assert fold([one, newer]) == fold([newer, one])


def test_sets_stand_by_day_then_session_then_order_of_entry() -> None:
    log = training_log(
        a_set(WEDNESDAY, "squat", 70, 5),
        a_set(MONDAY, "squat", 60, 5, session=2),
        a_set(MONDAY, "squat", 62, 5),
        a_set(MONDAY, "squat", 61, 5),
    )
    assert [load for _, load in shown(log)] == [62, 61, 60, 70]


def test_the_name_entered_last_is_the_name() -> None:
    assert training_log(LifterBody(name="First"), LifterBody(name="Second")).lifter == LifterBody(name="Second")


def test_every_kind_finds_its_place() -> None:
    check_in = CheckInBody(on=day(MONDAY), body_mass=kg(80))
    log = training_log(squat(60), check_in, LifterBody(name="A"))
    assert (len(log.sets), log.check_ins, log.lifter) == (1, (check_in,), LifterBody(name="A"))
    assert fold([]) == TrainingLog()
