"""What is noted of health: followed, lifted, withdrawn; what stops training is answered at once."""

from datetime import timedelta

import pytest
from tests.services.training import MONDAY, ask, codes, line_of, month, train

from steelyard.engine.health import EpisodeBody, RestrictionBody
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.noting import Note, NoteKept, note
from steelyard.services.pain_notes import AboutPain
from steelyard.services.refusal import Refused
from steelyard.services.restriction_notes import AboutRestriction
from steelyard.services.screening import attest
from steelyard.services.scribe import Scribe
from steelyard.services.standing import RestrictionShown
from steelyard.store import queries
from steelyard.wording.quantity import Voice

WHO = AboutRestriction(by="Dr Lund", why="shoulder")


@pytest.fixture
def ada(scribe: Scribe) -> Scribe:
    """Ada benches and squats, and a coach vouches for her."""
    train(scribe, "Ada", [*month(), *month("squat", "100")])
    attest("Ada", "Coach Brandt", "", Voice(), scribe, MONDAY - timedelta(days=60))
    return scribe


def kept(scribe: Scribe, line: str, days: int = 0, **more: object) -> NoteKept:
    """Note a line of Ada on so many days after MONDAY."""
    wanted = Note(line=line, **more)  # type: ignore[arg-type] # by name
    return note("Ada", wanted, Voice(), scribe, MONDAY + timedelta(days=days))


def closes(answer: NoteKept) -> list[str]:
    """Codes of what it closes."""
    return [reason.code for reason in answer.closes]


def episodes() -> list[EpisodeBody]:
    """What the log holds of Ada's pain, oldest first."""
    return [body for _, body in log_of(find_lifter("Ada")).episodes]


def test_pain_is_opened_followed_and_closed_as_one_episode(ada: Scribe) -> None:
    about = AboutPain(provoked_by=("squat",), nature="kneecap", guided_by="Dr Lund", by="Ada")
    first = kept(ada, "pain left knee 4", about_pain=about)
    assert (closes(first), first.exercises) == (["pain-episode-hold"], ("Squat",))
    second = kept(ada, "pain left knee 2 next-morning settled", 1)
    assert second.standing.pain[0].score == 2
    third = kept(ada, "pain knee next-morning worse", 2)
    assert closes(third) == ["pain-episode-reduce"]
    assert third.standing.pain[0].score == 2
    last = kept(ada, "pain left knee closed", 3)
    assert (last.kept, last.standing.pain, closes(last)) == ("the end of a pain", (), [])
    told = episodes()
    assert len({body.episode for body in told}) == 1
    assert [(b.score, b.next_morning, b.status) for b in told] == [
        (4, None, "open"), (2, "settled", "open"), (None, "worse", "open"), (None, None, "closed"),
    ]  # fmt: skip
    for body in told:
        assert (body.onset, body.side, body.exercises, body.nature) == (MONDAY, "left", ("squat",), "kneecap")
        assert (body.guided_by, body.provokes) == ("Dr Lund", "squat")
    kept(ada, "pain left knee 1", 20)
    assert len({body.episode for body in episodes()}) == 2


def test_pain_without_guidance_stops_what_loads_the_part(ada: Scribe) -> None:
    answer = kept(ada, "pain shoulder 3")
    assert closes(answer) == ["pain-episode-stop"]
    assert "Bench press" in answer.exercises
    line = line_of(ask(ada, on=MONDAY))
    assert "pain-episode-stop" in codes(line)
    assert not [s for s in line.sets if s.kind == "work"]


def test_what_was_said_beside_the_last_number_stands_until_the_next_one(ada: Scribe) -> None:
    assert closes(kept(ada, "pain knee 1 sharp")) == ["pain-episode-stop"]
    assert closes(kept(ada, "pain knee next-morning settled", 1)) == ["pain-episode-stop"]
    assert closes(kept(ada, "pain knee 0", 2)) == []


def test_two_sides_are_two_pains(ada: Scribe) -> None:
    kept(ada, "pain left knee 2")
    kept(ada, "pain right knee 1")
    assert [p.side for p in kept(ada, "pain left knee 3", 1).standing.pain] == ["left", "right"]
    with pytest.raises(Refused, match="more than one pain there"):
        kept(ada, "pain knee 2", 1)
    kept(ada, "pain elbow 2", 1)
    assert {(p.part, p.side) for p in kept(ada, "pain left elbow 1", 2).standing.pain} == {
        ("knee", "left"), ("knee", "right"), ("elbow", "left"),
    }  # fmt: skip


def test_a_part_that_is_not_known_is_said(ada: Scribe) -> None:
    answer = kept(ada, "pain earlobe 1")
    assert any("--provoked-by" in remark for remark in answer.remarks)
    assert set(answer.exercises) == {"Bench press", "Squat"}
    named = kept(ada, "pain earlobe 1", 1, about_pain=AboutPain(provoked_by=("squat", "yoga")))
    assert named.exercises == ("Squat",)
    assert not any("--provoked-by" in remark for remark in named.remarks)
    assert episodes()[-1].provokes == "squat, yoga"


def restricted(scribe: Scribe, line: str, **about: object) -> tuple[RestrictionShown, ...]:
    """Restrict something; what stands then."""
    options = AboutRestriction(**({"by": "Dr Lund", "why": "shoulder"} | about))  # type: ignore[arg-type] # by name
    return kept(scribe, line, about_restriction=options).standing.restrictions


def test_a_restriction_holds_until_it_is_lifted(ada: Scribe) -> None:
    restricted(ada, "restrict bench press leave-out", review=MONDAY + timedelta(days=14))
    assert "restricted" in codes(line_of(ask(ada)))
    assert "restricted" not in codes(line_of(ask(ada), "Squat"))
    due = kept(ada, "slept well", 14).standing.restrictions
    assert [(r.what, r.effect, r.is_review_due) for r in due] == [("bench-press", "leave-out", True)]
    lifted = kept(ada, "lift bench press", 15, about_restriction=AboutRestriction(by="Dr Lund", why="healed"))
    assert lifted.standing.restrictions == ()
    assert "restricted" not in codes(line_of(ask(ada, on=MONDAY + timedelta(days=15))))
    bodies: list[RestrictionBody] = [b for _, b in log_of(find_lifter("Ada")).restrictions]
    assert [(b.status, b.why) for b in bodies] == [("open", "shoulder"), ("lifted", "healed")]
    with pytest.raises(Refused, match="nothing restricts"):
        kept(ada, "lift bench press", 16, about_restriction=WHO)


def test_what_can_be_restricted(ada: Scribe) -> None:
    for line, what in (
        ("restrict squat at-most 40kg", "squat"),
        ("restrict horizontal push no-rise", "horizontal-push"),
        ("restrict left knee rir 4", "knee"),
        ("restrict everything no-rise", "everything"),
    ):
        assert restricted(ada, line)[-1].what == what
    (shown, *_) = restricted(ada, "restrict back no-rise")
    assert (shown.what, shown.load, shown.by) == ("squat", "40 kg", "Dr Lund")
    assert {r.what for r in restricted(ada, "restrict hinge no-rise")} >= {"lower-spine", "upper-spine", "hinge"}


@pytest.mark.parametrize(
    ("line", "about", "words"),
    [
        ("restrict bench press leave-out", AboutRestriction(why="x"), "who and why"),
        ("restrict bench press leave-out", AboutRestriction(by="x"), "who and why"),
        ("lift bench press", AboutRestriction(), "who and why"),
        ("restrict juggling leave-out", WHO, "no exercise that is known"),
        ("restrict squat no-rise", AboutRestriction(by="x", why="y", until=MONDAY), "after it begins"),
        ("restrict squat no-rise", AboutRestriction(by="x", why="y", review=MONDAY), "after it begins"),
        ("restrict squat rir 11", WHO, "cannot be"),
        ("pain knee closed", WHO, "no pain of 'knee' is open"),
        ("pain", WHO, r"no part of the body.*--words"),
        ("blood-pressure high", WHO, "no blood pressure"),
        ("withdraw 123", WHO, "too short"),
        ("withdraw 123456789", WHO, "no note of Ada"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(
    ada: Scribe, line: str, about: AboutRestriction, words: str
) -> None:
    before = queries.count_entries()
    with pytest.raises(Refused, match=words):
        kept(ada, line, about_restriction=about)
    assert queries.count_entries() == before


def test_a_stop_sign_is_answered_at_once_and_stops_the_next_sheet(ada: Scribe) -> None:
    answer = kept(ada, "sign chest")
    assert closes(answer) == ["stop-sign-said"]
    assert "medical help" in answer.closes[0].text
    assert not [s for line in ask(ada, on=MONDAY + timedelta(days=3)).lines for s in line.sets]


def test_a_sign_in_plain_words_is_seen_too_and_a_denied_one_is_none(ada: Scribe) -> None:
    assert closes(kept(ada, "no chest pain, all fine")) == []
    assert closes(kept(ada, "nearly fainted after the last set")) == ["stop-sign-said"]


def test_fever_closes_until_it_is_over_for_some_days(ada: Scribe) -> None:
    assert closes(kept(ada, "fever")) == ["fever-stops"]
    assert kept(ada, "weak", 1).standing.has_fever
    assert not [s for line in ask(ada, on=MONDAY + timedelta(days=1)).lines for s in line.sets]
    assert not kept(ada, "fever over", 4).standing.has_fever
    assert [s for line in ask(ada, on=MONDAY + timedelta(days=4)).lines for s in line.sets]


@pytest.mark.parametrize(
    ("reading", "expected"),
    [("182/100", ["blood-pressure-high"]), ("165/95", ["blood-pressure-high"]), ("125/80", [])],
)
def test_a_reading_is_kept_and_answered(ada: Scribe, reading: str, expected: list[str]) -> None:
    answer = kept(ada, f"blood-pressure {reading}")
    assert (closes(answer), answer.standing.blood_pressure) == (expected, reading)


def test_what_was_noted_by_mistake_is_withdrawn(ada: Scribe) -> None:
    answer = kept(ada, "sign faint")
    gone = kept(ada, f"withdraw {answer.ids[0][-8:]}", about_restriction=AboutRestriction(why="typed wrongly"))
    assert (gone.kept, gone.standing.signs, closes(gone)) == ("a withdrawal", (), [])
    assert [line.lever for line in ask(ada).lines] != [None, None]
    pain = kept(ada, "pain knee 5")
    assert kept(ada, f"withdraw {pain.ids[0][-8:]}").standing.pain == ()
    of_a_set = log_of(find_lifter("Ada")).sets[0].id
    with pytest.raises(Refused, match="no note of Ada"):
        kept(ada, f"withdraw {of_a_set[-12:]}")


def test_words_only_are_kept_as_they_are(ada: Scribe) -> None:
    answer = kept(ada, "lift felt heavy", is_words=True)
    assert (answer.kept, closes(answer)) == ("a note", [])
    assert log_of(find_lifter("Ada")).check_ins[-1].note == "lift felt heavy"
