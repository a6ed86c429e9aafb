"""Who is learned from: every lifter is followed by a model that was fitted on other lifters only."""

from msgspec import Struct
from numpy.random import default_rng

FOLDS, SEED = 5, 20


class Fold(Struct, frozen=True):
    """Places of the lifters that are followed, and of those that the model is fitted on."""

    followed: tuple[int, ...]
    others: tuple[int, ...]


def folds(count: int) -> list[Fold]:
    """Each lifter followed once; one by one where there are fewer lifters than folds.

    Lifters are dealt out in a fixed shuffled order: those of one kind may stand side by side or every so many places.
    """
    number = min(FOLDS, count)
    dealt = default_rng(SEED).permutation(count).tolist()
    return [
        Fold(
            followed=tuple(sorted(dealt[place::number])),
            others=tuple(sorted(i for at, i in enumerate(dealt) if at % number != place)),
        )
        for place in range(number)
    ]
