"""The catalogue's file holds to what its head says: complete, in both languages, no text twice, no loops."""

import re
import tomllib
from collections import Counter
from decimal import Decimal

import pytest

from steelyard.catalogue import catalogue
from steelyard.catalogue.compiling import COMPILED, EDITED, compiled
from steelyard.engine.exercises import Exercise, folded_name, foldings

WRITTEN = EDITED.read_text("utf-8")
ENTRIES = tomllib.loads(WRITTEN)["exercise"]
EXERCISES = catalogue().exercises
# The exercises that the first version had, in its order: codes are stable for ever.
FIRST = [
    *("squat", "front-squat", "goblet-squat", "leg-press", "deadlift", "trap-bar-deadlift"),
    *("romanian-deadlift", "hip-thrust", "kettlebell-swing", "back-extension", "bench-press"),
    *("incline-bench-press", "close-grip-bench-press", "dumbbell-bench-press", "push-up", "overhead-press"),
    *("dumbbell-shoulder-press", "dip", "barbell-row", "dumbbell-row", "seated-row", "face-pull", "pull-up"),
    *("chin-up", "assisted-pull-up", "lat-pulldown", "split-squat", "walking-lunge", "step-up"),
    *("farmers-carry", "plank", "side-plank", "hanging-leg-raise", "cable-crunch", "barbell-curl"),
    *("dumbbell-curl", "triceps-pushdown", "skull-crusher", "lateral-raise", "rear-delt-raise"),
    *("leg-extension", "leg-curl", "calf-raise", "seated-calf-raise"),
]
FIELDS = {
    *("code", "parent", "name", "written", "pattern", "role", "implement", "pieces", "pins", "region", "size"),
    *("measure", "per_side", "body_mass_share", "muscles", "joints"),
}
MUSCLES = {
    *("quadriceps", "hamstrings", "glutes", "adductors", "abductors", "hip-flexors", "calves", "shins", "chest"),
    *("front-delts", "side-delts", "rear-delts", "rotator-cuff", "lats", "upper-back", "spinal-erectors", "biceps"),
    *("triceps", "forearms", "abdominals", "obliques", "neck"),
}
JOINTS = {"knee", "hip", "ankle", "lower-spine", "upper-spine", "shoulder", "elbow", "wrist", "neck"}
PATTERNS = {
    *("squat", "hinge", "horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull", "lunge", "carry"),
    *("trunk", "elbow-flexion", "elbow-extension", "shoulder-raise", "shoulder-adduction", "shoulder-extension"),
    *("shoulder-rotation", "shrug", "hip-abduction", "hip-adduction", "hip-extension", "hip-flexion"),
    *("knee-extension", "knee-flexion", "calf-raise", "shin-raise", "neck", "wrist-flexion", "wrist-extension", "grip"),
}


def codes_of(exercises: tuple[Exercise, ...]) -> list[str]:
    """Their codes in order."""
    return [e.code for e in exercises]


def test_what_is_read_is_what_people_edit() -> None:
    assert COMPILED.read_bytes() == compiled(WRITTEN), "run: python -m steelyard.catalogue.compiling"


def test_there_are_many_and_the_first_stand_in_their_order() -> None:
    assert len(EXERCISES) >= 160
    assert [c for c in codes_of(EXERCISES) if c in FIRST] == FIRST


def test_each_code_stands_once() -> None:
    assert [c for c, n in Counter(codes_of(EXERCISES)).items() if n > 1] == []


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e["code"])
def test_every_entry_is_complete(entry: dict[str, object]) -> None:
    assert set(entry) == FIELDS
    exercise = catalogue()[str(entry["code"])]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", exercise.code)
    assert set(exercise.name) == {"en", "de"}
    assert all(n[0].isupper() and n == n.strip() for n in exercise.name.values())
    assert len(exercise.written) >= 3
    assert all(w == w.lower().strip() for w in exercise.written)
    assert exercise.pattern in PATTERNS
    assert set(exercise.muscles) <= MUSCLES
    assert set(exercise.muscles.values()) <= {Decimal("1"), Decimal("0.5")}
    assert exercise.muscles
    assert {j.joint for j in exercise.joints} <= JOINTS
    assert len({j.joint for j in exercise.joints}) == len(exercise.joints) > 0
    assert all(j.position for j in exercise.joints)


def test_the_closed_lists_hold_nothing_unused() -> None:
    assert {m for e in EXERCISES for m in e.muscles} == MUSCLES
    assert {j.joint for e in EXERCISES for j in e.joints} == JOINTS
    assert {e.pattern for e in EXERCISES} == PATTERNS


def test_no_text_stands_twice() -> None:
    """Neither in two entries nor in one, where umlauts and their two letters are the same text."""
    owners: dict[str, str] = {}
    doubles = []
    for exercise in EXERCISES:
        texts = {folded_name(n) for n in exercise.name.values()} | {folded_name(exercise.code)}
        for folded in (f for n in (exercise.code, *exercise.said) for f in foldings(n)):
            if owners.setdefault(folded, exercise.code) != exercise.code:
                doubles.append((folded, owners[folded], exercise.code))
        folded_written = [folded_name(w) for w in exercise.written]
        doubles += [
            (w, exercise.code, exercise.code) for w, n in Counter(folded_written).items() if n > 1 or w in texts
        ]
    assert doubles == []


@pytest.mark.parametrize(
    "word",
    [
        *("row", "press", "curl", "raise", "fly", "extension", "shoulder press", "chest press", "biceps curl"),
        *("leg raise", "kickbacks", "rudern", "schulterdrücken", "bizepscurl", "beinheben", "fliegende", "drücken"),
        *("heben", "maschine"),
    ],
)
def test_a_word_that_fits_several_names_none(word: str) -> None:
    assert catalogue().named(word) is None


def test_every_name_is_found_however_it_is_spelled() -> None:
    for exercise in EXERCISES:
        for name in exercise.said:
            spelled = name.replace("ä", "ae").replace("ö", "oe").replace("ü", "ue").replace("Ü", "Ue")
            for text in (name, name.upper(), name.replace("-", " "), f"  {name} ", spelled):
                assert catalogue().named(text) is exercise, text


def test_every_parent_exists_and_leads_to_a_root() -> None:
    for exercise in EXERCISES:
        passed = [exercise.code]
        while parent := catalogue()[passed[-1]].parent:
            assert parent not in passed, passed
            passed.append(parent)
        assert len(passed) <= 5
        assert {catalogue()[c].measure for c in passed} == {exercise.measure}, passed
        assert {catalogue()[c].region for c in passed} == {exercise.region}, passed


def test_a_failed_repetition_can_only_end_under_a_bar_or_discs() -> None:
    pinning = {e.code for e in EXERCISES if e.pins}
    assert {catalogue()[c].implement for c in pinning} <= {"barbell", "plate-machine"}
    assert {"bench-press", "incline-bench-press", "close-grip-bench-press", "squat", "front-squat"} <= pinning
    assert not pinning & {"deadlift", "overhead-press", "hip-thrust", "dumbbell-bench-press", "leg-press", "pin-squat"}
    on_the_back = {e.code for e in EXERCISES if any("bar lies across" in j.position for j in e.joints)}
    free = {c for c in on_the_back - pinning if catalogue()[c].implement == "barbell"}
    assert free == {"pin-squat", "barbell-calf-raise"}


def test_two_pieces_are_dumbbells_or_kettlebells() -> None:
    assert {e.implement for e in EXERCISES if e.pieces == 2} == {"dumbbell", "kettlebell"}
    assert all(e.pieces == 1 for e in EXERCISES if "single-arm" in e.code)


def test_what_moves_only_the_body_can_be_logged_bare() -> None:
    """A count of repetitions with no load needs a share of body mass; a hold lifts nothing."""
    for exercise in EXERCISES:
        if exercise.implement == "body-mass":
            assert (exercise.body_mass_share > 0) == (exercise.measure == "reps"), exercise.code
        elif exercise.body_mass_share:
            assert exercise.implement == "stack", exercise.code
        assert 0 <= exercise.body_mass_share <= 1


def test_every_body_mass_share_says_where_it_is_from() -> None:
    lines = [line for line in WRITTEN.splitlines() if line.startswith("body_mass_share = ")]
    assert len(lines) == len(EXERCISES)
    marks = ("from memory", "common practice, no source", "our judgement")
    assert [line for line in lines if '= "0"' not in line and not any(mark in line for mark in marks)] == []


def test_names_can_be_typed_before_a_count() -> None:
    """A typed line ends the name where digits begin, so the plain names hold none."""
    assert [n for e in EXERCISES for n in e.name.values() if re.search(r"[\d@]", n)] == []
