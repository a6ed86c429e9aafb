"""Stop signs in the words that people write."""

from typing import get_args

import pytest

from steelyard.engine.health import Sign
from steelyard.engine.parts import joints_of
from steelyard.engine.signs import signs_in

NAMED = {
    "dark urine since yesterday": "dark-urine",
    "cola-coloured urine": "dark-urine",
    "urine was very dark": "dark-urine",
    "dunkler Urin": "dark-urine",
    "Urin ist colafarben": "dark-urine",
    "Blut im Urin": "dark-urine",
    "chest pain on set 3": "chest",
    "pain in my chest": "chest",
    "chest felt tight": "chest",
    "Brustschmerzen": "chest",
    "Schmerzen in der Brust": "chest",
    "Druck auf der Brust": "chest",
    "could not finish because of chest pain": "chest",
    "nicht fertig wegen Brustschmerzen": "chest",
    "good session but chest pain": "chest",
    "no energy, chest pain": "chest",
    "fainted after": "faint",
    "felt dizzy": "faint",
    "mir wurde schwarz vor Augen": "faint",
    "ohnmächtig geworden": "faint",
    "numb leg": "numbness-or-weakness",
    "Bein taub": "numbness-or-weakness",
    "no feeling in left foot": "numbness-or-weakness",
    "arms swollen and weak": "swelling-with-weakness",
    "Arme geschwollen und kraftlos": "swelling-with-weakness",
    "heard a loud pop in the shoulder": "pop",
    "Sehne gerissen": "pop",
    "knee gave way": "joint-locking",
    "Knie blockiert": "joint-locking",
    "sudden severe headache": "severe-headache",
    "plötzlich starke Kopfschmerzen": "severe-headache",
    "blurred vision": "vision-or-speech",
    "Sehstörungen": "vision-or-speech",
    "lost control of my bladder": "bladder-or-bowel",
    "Blase nicht halten": "bladder-or-bowel",
    "could not breathe": "breathless",
    "Atemnot": "breathless",
    "heart racing at rest": "palpitations",
    "Herzrasen": "palpitations",
    "swollen ankles": "leg-swelling",
    "geschwollene Beine": "leg-swelling",
    "swollen calf": "calf-pain",
    "Wade geschwollen": "calf-pain",
    "leaking urine on jumps": "leakage",
    "Urinverlust": "leakage",
    "pelvic heaviness": "pelvic-heaviness",
    "Druck im Becken": "pelvic-heaviness",
    "vaginal bleeding": "bleeding",
    "Schmierblutung": "bleeding",
    "wound opened": "wound",
    "Narbe schmerzt": "wound",
    "waters broke": "fluid-leak",
    "Fruchtwasser": "fluid-leak",
    "regular contractions": "contractions",
    "Wehen": "contractions",
    "severe abdominal pain": "abdominal-pain",
    "starke Bauchschmerzen": "abdominal-pain",
}
HARMLESS = (
    *(
        "",
        "no chest pain",
        "keine Brustschmerzen",
        "chest day",
        "chest press felt good",
        "chest to bar",
        "Brustpresse 3x10",
    ),
    *("sore chest from Monday", "no dizziness", "not dizzy", "never dizzy", "ohne Schwindel", "stop if chest pain"),
    *(
        "no chest pain, dizziness or numbness",
        "kein Schwindel, keine Brustschmerzen",
        "weder Schwindel noch Brustschmerzen",
    ),
    *("chest pain: none", "lockout slow", "knees locked out", "snatch: 60 gerissen", "eccentric contractions"),
    *("torn callus bleeding", "out of breath after 20s", "Brustdrücken", "popped a set of push-ups", "weak today"),
    *("push press", "red plates", "keep the chest tight", "dark gym", "legs tired", "herzlich"),
)


@pytest.mark.parametrize("note", NAMED)
def test_a_sign_that_is_named_is_read(note: str) -> None:
    assert NAMED[note] in signs_in(note)
    assert signs_in(note.upper()) == signs_in(note)


@pytest.mark.parametrize("note", HARMLESS)
def test_what_is_denied_or_means_something_else_is_no_sign(note: str) -> None:
    assert signs_in(note) == ()


def test_every_sign_of_the_list_can_be_written_in_either_language() -> None:
    assert {sign for note in NAMED for sign in signs_in(note)} == set(get_args(Sign))


def test_signs_come_in_the_order_of_the_list_and_once_each() -> None:
    assert signs_in("urine dark. chest pain, chest pain") == ("chest", "dark-urine")


@pytest.mark.parametrize(
    ("part", "joints"),
    [
        ("left knee", {"knee"}),
        ("Knie rechts", {"knee"}),
        ("Schulter", {"shoulder"}),
        ("lower back", {"lower-spine"}),
        ("Rücken", {"lower-spine", "upper-spine"}),
        ("Achillessehne", {"ankle"}),
        ("Hüfte", {"hip"}),
        ("Handgelenk", {"wrist"}),
        ("somewhere", set()),
    ],
)
def test_a_part_means_joints_of_the_catalogue(part: str, joints: set[str]) -> None:
    assert joints_of(part) == joints
