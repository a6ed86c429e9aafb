"""Every reason has a sentence in each language, with nothing left over from how it was made."""

import re
from decimal import Decimal
from typing import Any, get_args

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.strategies import struct_of, typed_decimals

from steelyard.engine import reasons
from steelyard.engine.gate_reasons import EpisodeHold, StopSignSaid
from steelyard.engine.health import Sign
from steelyard.engine.reasons import AnyReason, code_of
from steelyard.engine.sheet import Course, Lever
from steelyard.wording.english import LIMITS
from steelyard.wording.labels import label
from steelyard.wording.quantity import Voice
from steelyard.wording.say import course_word, lever_word, say

ALL: tuple[type[AnyReason], ...] = get_args(AnyReason)
VOICES = [Voice(language, unit) for language in ("en", "de") for unit in ("kg", "lb")]
LEFT_OVER = re.compile(r"[{}]|None|Decimal|Load\(|\bNaN\b|  |\(\)|E[+-]\d| ,| \.$")


def values(kind: type[AnyReason]) -> st.SearchStrategy[Any]:
    """Any value of a reason, with words as people write them."""
    words = st.sampled_from(("left knee", "old level, back after exams", "Coach Brandt"))
    given_fields: dict[str, st.SearchStrategy[Any]] = {}
    for name in kind.__struct_fields__:
        if name in {"words", "by", "why", "limits", "cleared_by", "part", "guided_by"}:
            given_fields[name] = words if name != "words" else words | st.just("")
        elif name == "previous":  # no rule speaks of a session without sets
            given_fields[name] = st.lists(st.integers(0, 40), min_size=1, max_size=6).map(tuple)
        elif name == "score":  # an episode that holds has a height
            given_fields[name] = st.integers(0, 10) if kind is EpisodeHold else st.none() | st.integers(0, 10)
        elif name == "signs" and kind is StopSignSaid:  # without a sign nothing is said
            given_fields[name] = st.lists(st.sampled_from(get_args(Sign)), min_size=1, max_size=4).map(tuple)
        elif name == "limit":
            given_fields[name] = st.sampled_from(sorted(LIMITS))
        elif name in {"ceiling", "rise", "cut", "pace", "set_cut", "load_cut"}:
            share = typed_decimals(Decimal(0), Decimal(1), places=3)
            given_fields[name] = share | st.none() if kind is reasons.LimitOverruled else share
    return struct_of(kind, **given_fields)


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: str(kind.__struct_config__.tag))
@given(data=st.data())
@settings(max_examples=50)
def test_every_reason_is_a_sentence_in_each_language_and_unit(kind: type[AnyReason], data: st.DataObject) -> None:
    reason = data.draw(values(kind))
    said = {voice: say(reason, voice) for voice in VOICES}
    for voice, text in said.items():
        assert len(text) > 10, text
        assert LEFT_OVER.search(text) is None, text
        assert text == text.strip()
        if voice.language == "de":
            assert text != said[Voice("en", voice.unit)]


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: str(kind.__struct_config__.tag))
def test_every_reason_has_a_code_of_its_own_a_role_and_a_source(kind: type[AnyReason]) -> None:
    codes = [k.__struct_config__.tag for k in ALL]
    assert codes.count(kind.__struct_config__.tag) == 1
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", str(kind.__struct_config__.tag))
    assert kind.role in {"gate", "driver", "limit", "rounding", "caution"}
    (source,) = [f.default for f in msgspec.structs.fields(kind) if f.name == "source"]
    assert isinstance(source, str)
    assert source
    assert (kind.__doc__ or "").strip().endswith(".")


def test_the_code_of_the_smallest_jump_is_fixed_for_scripts() -> None:
    assert reasons.SmallestJump.__struct_config__.tag == "smallest-jump"
    assert code_of(reasons.DensityNever()) == "density-never"


def test_every_lever_and_course_has_a_word_in_each_language() -> None:
    for voice in VOICES:
        assert all(lever_word(lever, voice) for lever in get_args(Lever))
        assert all(course_word(course, voice) for course in get_args(Course))
    english, german = (Voice("en"), Voice("de"))
    assert all(course_word(c, english) != course_word(c, german) for c in get_args(Course) if c != "deload")
    assert all(
        label(role, "en") != label(role, "de") for role in ("gate", "driver", "limit-role", "rounding", "caution")
    )


def test_numbers_are_said_in_the_unit_and_with_the_mark_of_the_language() -> None:
    from steelyard.engine.quantities import kg, lb  # noqa: PLC0415

    assert Voice("de").load(kg("62.50")) == "62,5 kg"
    assert Voice("en").load(kg("62.50")) == "62.5 kg"
    assert Voice("en", "lb").load(lb(135)) == "135 lb"
    assert Voice("en", "lb").load(kg(100)) == "220.46 lb"  # 100 / 0.45359237 = 220.4622...
    assert Voice("en").load(lb(225)) == "102.06 kg"  # 225 x 0.45359237 = 102.05828...
