"""Warm-up sets toward a work load: common practice, no source."""

from decimal import Decimal

from .equipment import Loadable

STEPS = ((Decimal("0.4"), 5), (Decimal("0.6"), 3), (Decimal("0.8"), 2), (Decimal("0.9"), 1))
HEAVY_REPETITIONS = 5
LIGHT_STEPS = 2  # so few steps above the lightest load, and no warm-up set is needed
REST_S = 60


def warm_ups(
    total: Decimal, work_repetitions: int, loadable: Loadable, is_second: bool
) -> tuple[tuple[Decimal, int], ...]:
    """Total load (kg) and repetitions of each warm-up set, lightest first.

    The single at 90 % only before heavy work; the second lift of a pattern needs just its last step; light work none.
    """
    needed = list(STEPS if work_repetitions <= HEAVY_REPETITIONS else STEPS[:-1])
    steps = needed[-1:] if is_second else needed
    easy = loadable.magnitudes[: LIGHT_STEPS + 1][-1]
    if total <= easy:
        return ()
    found: dict[Decimal, int] = {}
    for share, repetitions in steps:
        load = max(loadable.at_most(total * share) or loadable.magnitudes[0], loadable.magnitudes[0])
        if load < total:
            found.setdefault(load, repetitions)
    return tuple(found.items())
