"""Written names find their exercise or are asked; no sure answer is ever a wrong one."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.catalogue.written_names import MUST_ASK, meant

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import MOST_ALTERNATIVES, NEAR_SCORE, NameMatch, looks_like_exercise, match_name
from steelyard.catalogue.spelling import words_of
from steelyard.engine.exercises import folded_name, own_exercise

MEANT = meant()
NAMES = [(e, name) for e in catalogue().exercises for name in e.said]
LETTERS = st.characters(categories=("L", "N", "P", "S", "Z"))
# What changes the exercise, and is never dropped to make a name fit.
CHANGING = (
    *("incline", "decline", "front", "seated", "standing", "lying", "kneeling", "overhead", "sumo", "trap bar", "jump"),
    *("half", "assisted", "weighted", "inverted", "hanging", "reverse", "lateral", "cable", "machine", "dumbbell"),
    *("barbell", "kettlebell", "smith machine", "stiff leg", "romanian", "schräg", "sitzend", "negativ", "KH", "Kabel"),
)


def match(written: str, known: Mapping[str, tuple[str, str | None]] | None = None) -> NameMatch:
    """In the shared catalogue."""
    return match_name(written, catalogue(), known)


def told(found: NameMatch) -> tuple[object, ...]:
    """All that does not merely repeat how it was written."""
    return (found.exercise, found.sure, found.implement, found.score, found.parent)


# Names as people write them


def test_there_are_enough_names_and_each_means_an_exercise() -> None:
    assert len({written for written, _, _ in MEANT}) >= 250
    assert len(MUST_ASK) >= 80
    assert all(code in catalogue() for _, code, _ in MEANT)


@pytest.mark.parametrize(("written", "code", "implement"), MEANT, ids=[written for written, _, _ in MEANT])
def test_a_sure_match_is_the_right_one(written: str, code: str, implement: str | None) -> None:
    found = match(written)
    if found.sure:
        assert (found.exercise, found.implement) == (code, implement)
    else:
        assert code in {a.code for a in found.alternatives}


@pytest.mark.parametrize("written", MUST_ASK)
def test_what_could_be_several_or_none_is_asked(written: str) -> None:
    assert not match(written).sure


def test_few_names_have_to_be_asked() -> None:
    asked = [written for written, _, _ in MEANT if not match(written).sure]
    assert len(asked) <= len(MEANT) // 50, asked


# Pairs that must never be mixed


@pytest.mark.parametrize(
    ("written", "never"),
    [
        ("incline bench", "bench-press"),
        ("incline bnech", "bench-press"),
        ("front squat", "squat"),
        ("frnt squat", "squat"),
        ("leg curl", "leg-press"),
        ("leg crul", "leg-press"),
        ("DB bench", "bench-press"),
        ("bench press KH", "bench-press"),
        ("hip adduction", "hip-abduction"),
        ("decline bench", "incline-bench-press"),
        ("squat jump", "squat"),
        ("high to low cable fly", "low-cable-fly"),
        ("pull ups (assist. -15)", "pull-up"),
        ("calf raise seated", "calf-raise"),
        ("assisted dips", "dip"),
        ("machine dips", "dip"),
        ("kettlebell bench press", "bench-press"),
        ("lateral raise machine", "lateral-raise"),
    ],
)
def test_these_are_never_mixed(written: str, never: str) -> None:
    found = match(written)
    assert not (found.sure and found.exercise == never)


@pytest.mark.parametrize("changing", CHANGING)
def test_a_word_that_changes_the_exercise_is_never_dropped(changing: str) -> None:
    """Surely another exercise only where one of its names holds that word, or the implement goes without saying."""
    word = words_of(changing)[0]
    tried = 0
    for exercise in catalogue().exercises:
        found = match(f"{changing} {exercise.name['en']}")
        if not found.sure or word in words_of(exercise.name["en"]):
            continue
        tried += 1
        holding = catalogue()[str(found.exercise)]
        said = {w for name in holding.said for w in words_of(name)}
        assert word in said or holding.implement == word or word in words_of(found.implement or ""), exercise.code
    assert tried < len(catalogue().exercises) // 3


# What is kept apart


@pytest.mark.parametrize(
    ("written", "code", "implement"),
    [
        ("Leg press #3", "leg-press", "3"),
        ("leg press No. 12", "leg-press", "12"),
        ("Beinpresse Gerät 14", "leg-press", "14"),
        ("Latzug (Maschine 2)", "lat-pulldown", "2"),
        ("Leg press (by the door)", "leg-press", "by the door"),
        ("Leg press 2 (wide)", "leg-press", "2, wide"),
        ("lat pulldown, wide grip", "lat-pulldown", "wide"),
        ("neutral grip DB bench", "dumbbell-bench-press", "neutral grip"),
        ("paused front squat", "front-squat", "paused"),
        ("deficit RDL", "romanian-deadlift", "deficit"),
        ("one-arm machine shoulder press", "machine-shoulder-press", "single arm"),
    ],
)
def test_machines_and_grips_are_histories_of_their_own(written: str, code: str, implement: str) -> None:
    found = match(written)
    assert (found.sure, found.exercise, found.implement) == (True, code, implement)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Enge Latzug", "close-grip-pulldown"),
        ("Enge Latzugg", "close-grip-pulldown"),
        ("Latzug enge", "close-grip-pulldown"),
        ("lat pulldown close", "close-grip-pulldown"),
        ("narrow pulldown", "close-grip-pulldown"),
    ],
)
def test_a_grip_that_nearly_names_another_exercise_is_asked(written: str, meant: str) -> None:
    found = match(written)
    assert not found.sure
    assert found.exercise is None
    assert {meant, "lat-pulldown"} <= {a.code for a in found.alternatives}
    assert found.score == max(a.score for a in found.alternatives) == found.alternatives[0].score


@pytest.mark.parametrize("written", ["Leg press (narow)", "Leg press (wied)", "Latzug (engg)", "leg press (singe)"])
def test_a_slip_in_brackets_is_no_machine(written: str) -> None:
    assert not match(written).sure


def test_a_number_beside_a_free_bar_is_asked() -> None:
    found = match("Bench press #2")
    assert (found.sure, found.exercise, found.implement) == (False, "bench-press", "2")
    assert found.alternatives[0].code == "bench-press"


def test_a_remark_in_brackets_is_no_machine() -> None:
    assert not match("leg press (warm-up)").sure
    assert not match("leg press (felt heavy today)").sure


@pytest.mark.parametrize(
    ("written", "code", "implement", "side"),
    [
        ("side plank left", "side-plank", None, "left"),
        ("DB row (R)", "dumbbell-row", None, "right"),
        ("KH Rudern links", "dumbbell-row", None, "left"),
        ("Leg press left only", "single-leg-leg-press", None, "left"),
        ("lat pulldown right", "single-arm-pulldown", None, "right"),
        ("bench press", "bench-press", None, None),
        ("DB bench left", "dumbbell-bench-press", "one side", "left"),
    ],
)
def test_a_side_is_told_and_never_mixed_with_both(
    written: str, code: str, implement: str | None, side: str | None
) -> None:
    found = match(written)
    assert (found.sure, found.exercise, found.implement, found.side) == (True, code, implement, side)


# What is offered


@pytest.mark.parametrize(
    ("written", "some"),
    [
        ("row", {"barbell-row", "dumbbell-row", "seated-row"}),
        ("Schulterdrücken", {"overhead-press", "dumbbell-shoulder-press"}),
        ("chest press", {"machine-chest-press"}),
        ("smith calf", {"guided-bar-calf-raise"}),
        ("Zottman hammer thing", {"rotating-dumbbell-curl"}),
    ],
)
def test_the_likely_ones_are_offered_best_first(written: str, some: set[str]) -> None:
    found = match(written)
    scores = [a.score for a in found.alternatives]
    assert some <= {a.code for a in found.alternatives}
    assert len(scores) <= MOST_ALTERNATIVES
    assert scores == sorted(scores, reverse=True)
    assert len({a.code for a in found.alternatives}) == len(scores)
    assert found.score == scores[0]
    assert found.parent == found.alternatives[0].code


def test_what_is_no_lifting_has_no_parent() -> None:
    for written in ("cardio", "Yoga", "???", "", "Laufband"):
        assert (match(written).parent, match(written).alternatives) == (None, ())


@pytest.mark.parametrize(("text", "is_one"), [("t", False), ("L", False), ("DL", True), ("row", True), ("Lunge", True)])
def test_a_letter_or_two_look_like_an_exercise_only_where_they_are_its_name(text: str, is_one: bool) -> None:
    assert looks_like_exercise(text, catalogue()) is is_one


def test_an_own_exercise_is_found_in_a_catalogue_that_has_it() -> None:
    mine = own_exercise("own-1", "Zottman hammer thing", catalogue()["dumbbell-curl"])
    found = match_name("zottman-hammer things", catalogue().extended([mine]))
    assert (found.sure, found.exercise) == (True, "own-1")


# Laws


@given(
    st.sampled_from(NAMES),
    st.sampled_from((str.upper, str.title, str.swapcase)),
    st.sampled_from((" ", "-", "  ", "_")),
)
def test_case_space_and_hyphen_make_no_difference(named: tuple[object, str], cased: object, between: str) -> None:
    assert callable(cased)
    name = named[1]
    for changed in (cased(name).replace(" ", between), cased(name).replace("-", between), f" {cased(name)}  "):
        assert told(match(changed)) == told(match(name))


@given(st.sampled_from(NAMES))
def test_every_name_of_the_catalogue_is_sure(named: tuple[object, str]) -> None:
    found = match(named[1])
    assert found.sure
    assert catalogue()[str(found.exercise)] is named[0]
    assert (found.score, found.implement) == (100, None)


@pytest.mark.parametrize("at", range(2))
def test_a_slip_is_never_surely_another_exercise(at: int) -> None:
    """Each word of each name once without its last letter, and once without its last but one."""
    wrong = []
    named = {words_of(name): exercise.code for exercise, name in NAMES}
    for exercise, name in NAMES:
        for word in dict.fromkeys(name.split()):
            slip = name.replace(word, word[: len(word) - 1 - at] + word[len(word) - at :], 1)
            found = match(slip)
            if len(word) > 3 and found.sure and found.exercise not in {exercise.code, named.get(words_of(slip))}:
                wrong.append((name, slip, found.exercise, found.implement))
    assert wrong == []


@given(st.sampled_from(NAMES), st.data())
def test_the_words_may_stand_in_any_order(named: tuple[object, str], data: st.DataObject) -> None:
    """Asked at worst, and never another exercise."""
    mixed = " ".join(data.draw(st.permutations(named[1].split())))
    found = match(mixed)
    assert not found.sure or catalogue()[str(found.exercise)] is named[0]


@given(st.text(LETTERS, max_size=30), st.sampled_from(["squat", "own-7"]), st.none() | st.just("short bar"))
def test_what_was_confirmed_always_wins(written: str, code: str, implement: str | None) -> None:
    found = match(written, {folded_name(written): (code, implement)})
    assert (found.exercise, found.implement, found.score, found.sure) == (code, implement, 100, True)


@given(st.text(max_size=80) | st.text(st.sampled_from("#()[]{}0123456789 nolrabQß.-'/"), max_size=40))
def test_no_text_is_too_odd(written: str) -> None:
    found = match(written)
    assert found.written == written
    assert 0 <= found.score <= 100
    assert not found.sure or str(found.exercise) in catalogue()


@given(st.sampled_from(NAMES), st.data())
def test_a_doubled_letter_is_never_another_exercise(named: tuple[object, str], data: st.DataObject) -> None:
    """A doubled letter makes no other word, so a near match that is sure must be the exercise it came from."""
    name = named[1]
    place = data.draw(st.integers(0, len(name) - 1))
    found = match(name[:place] + name[place] + name[place:])
    assert found.score != NEAR_SCORE or not found.sure or catalogue()[str(found.exercise)] is named[0]
