"""Correcting a set: the older version stays, and two corrections at once are both kept and shown."""

import pytest
from msgspec import structs
from tests.services.training import MONDAY, ask, month, train

from steelyard.engine.log import SetBody, decode_body
from steelyard.services.amending import amend
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.past import past
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.services.set_logging import log_line
from steelyard.store import queries
from steelyard.wording.quantity import Voice


@pytest.fixture
def logged(scribe: Scribe) -> str:
    """The id of a set that was logged as eight repetitions with 60 kg, in the second session of its day."""
    train(scribe, "Ada", [])
    line = "bench 8 @ 60kg rir 2 session 2 note first"
    return log_line(line, "Ada", MONDAY, Voice(), scribe).sets[0].id


def bodies() -> list[SetBody]:
    """Ada's sets as they stand."""
    return [s.body for s in log_of(find_lifter("Ada")).sets]


def test_a_set_is_written_anew_and_the_older_version_stays(scribe: Scribe, logged: str) -> None:
    amended = amend(logged[-8:], "bench 9 @ 60kg rir 1", "", "kg", scribe)
    assert amended.after is not None
    assert (amended.before.reps, amended.after.reps) == (8, 9)
    (body,) = bodies()
    assert (body.reps, body.on, body.session) == (9, MONDAY, 2)
    versions = [decode_body(e.kind, e.schema, e.body) for e in queries.all_entries() if e.kind == "set"]
    assert [v.reps for v in versions if isinstance(v, SetBody)] == [8, 9]


def test_an_amended_set_can_be_amended_again_by_its_new_id(scribe: Scribe, logged: str) -> None:
    first = amend(logged[-8:], "bench 9 @ 60kg", "", "kg", scribe).after
    assert first is not None
    amend(first.id[-8:], "bench 7 @ 60kg", "", "kg", scribe)
    assert [b.reps for b in bodies()] == [7]
    with pytest.raises(Refused, match="no set has an id that ends in"):
        amend(logged[-12:], "bench 6 @ 60kg", "", "kg", scribe)


def test_a_deload_set_stays_one(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    ask(scribe, is_deload=True)
    logged = log_line("bench 8 @ 55kg", "Ada", MONDAY, Voice(), scribe).sets[0]
    amended = amend(logged.id[-8:], "bench 7 @ 55kg", "", "kg", scribe)
    assert amended.after is not None
    assert amended.after.phase == "deload"


def test_a_withdrawn_set_is_gone_from_sight_and_kept_in_the_log(scribe: Scribe, logged: str) -> None:
    assert amend(logged[-8:], None, "logged twice", "kg", scribe).after is None
    assert bodies() == []
    kinds = [e.kind for e in queries.all_entries()]
    assert kinds == ["lifter", "attest", "set", "tombstone"]
    with pytest.raises(Refused, match="no set"):
        amend(logged[-8:], "bench 8 @ 60kg", "", "kg", scribe)


@pytest.mark.parametrize(
    ("handle", "line", "message"),
    [
        ("abc", "bench 8 @ 60kg", "too short"),
        ("ffffffffffff", "bench 8 @ 60kg", "no set has an id"),
        (None, "bench 2x8 @ 60kg", "is not one set"),
        (None, "body mass 80kg", "is not one set"),
        (None, "bench", "is no set"),
        (None, "juggling 8 @ 60kg", "'juggling' is no exercise"),
    ],
)
def test_what_is_refused_changes_nothing(
    scribe: Scribe, logged: str, handle: str | None, line: str, message: str
) -> None:
    before = list(queries.all_entries())
    with pytest.raises(Refused, match=message):
        amend(handle or logged[-8:], line, "", "kg", scribe)
    assert list(queries.all_entries()) == before


def test_two_corrections_without_knowledge_of_each_other_are_both_kept_and_shown(scribe: Scribe, logged: str) -> None:
    """As two devices make them: both replace the same version."""
    person = find_lifter("Ada").person
    (first,) = [s for s in log_of(find_lifter("Ada")).sets if s.id == logged]
    both = [scribe.entry(person, structs.replace(first.body, reps=reps), replaces=(logged,)) for reps in (9, 10)]
    scribe.write(both)
    shown = past("Ada", None, 5)
    assert [s.reps for session in shown.sessions for s in session.sets] == [10]
    assert shown.two_versions == ((both[1].id, both[0].id),)
    cautions = [c.code for c in ask(scribe).cautions]
    assert "two-versions" in cautions
    # Amending what is shown settles it.
    amend(both[1].id[-8:], "bench 9 @ 60kg", "", "kg", scribe)
    assert past("Ada", None, 5).two_versions == ()
    assert [b.reps for b in bodies()] == [9]
    assert "two-versions" not in [c.code for c in ask(scribe).cautions]
