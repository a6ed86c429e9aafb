"""How a lifter writes the exercises, slips included."""

import random
from itertools import groupby

from msgspec import Struct, structs

from steelyard.engine.log import SetBody


class Handwriting(Struct, frozen=True):
    """What one lifter writes for an exercise, now and then something else, and slips that happen once."""

    usual: dict[str, tuple[str, ...]]
    slips: tuple[tuple[str, str], ...] = ()


def named(sets: list[SetBody], hand: Handwriting, rng: random.Random) -> list[list[SetBody]]:
    """The exercise entries of a log in order, each one's sets with the name that the lifter wrote."""
    entries = by_exercise(sets)
    slips = [(rng.choice([e for e in entries if e[0].exercise == code]), slip) for code, slip in hand.slips]
    out = []
    for entry in entries:
        slip = next((text for where, text in slips if where is entry), None)
        usual = hand.usual[entry[0].exercise]
        written = slip or (usual[0] if rng.random() < 0.8 else rng.choice(usual))
        out.append([structs.replace(done, as_written=written) for done in entry])
    return out


def by_exercise(sets: list[SetBody]) -> list[list[SetBody]]:
    """Sets of one exercise on one day together."""
    return [list(group) for _, group in groupby(sets, lambda s: (s.on, s.exercise))]


def remarked_last(entries: list[list[SetBody]]) -> list[list[SetBody]]:
    """What is said of an exercise entry as a whole stands on its last set, where the file has one place for it."""
    return [[*(structs.replace(s, note="") for s in e[:-1]), structs.replace(e[-1], note=remark(e))] for e in entries]


def remark(entry: list[SetBody]) -> str:
    """What is said of an exercise entry as a whole, where the file has one place for it."""
    return "; ".join(dict.fromkeys(s.note for s in entry if s.note))
