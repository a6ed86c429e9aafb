"""The beam: a graduated arm with last time, today and the limit on it, in characters."""

from collections.abc import Sequence

STEP_WIDTH = 4
LONGEST = 60


def beam(steps_kg: Sequence[float], last_kg: float | None, today_kg: float, limit_kg: float | None) -> str:
    """An arm with a mark for each load that can be made: ^ last time, # today, | the limit, / beyond it.

    Where today is where last time was, only today is drawn; the sentence beside it says both.
    """
    steps = sorted({*steps_kg, today_kg, *([last_kg] if last_kg is not None else [])})
    while (len(steps) - 1) * STEP_WIDTH + 1 > LONGEST and len(steps) > 2:
        steps = _shorter(steps, last_kg, today_kg)
    arm = list("+" + ("-" * (STEP_WIDTH - 1) + "+") * (len(steps) - 1))
    if limit_kg is not None and limit_kg < steps[-1]:
        stop = _place(steps, limit_kg) + STEP_WIDTH // 2
        arm = [*arm[:stop], "|", *("/" * (len(arm) - stop - 1))]
    if last_kg is not None:
        arm[_place(steps, last_kg)] = "^"
    arm[_place(steps, today_kg)] = "#"
    return "".join(arm)


def _shorter(steps: list[float], last_kg: float | None, today_kg: float) -> list[float]:
    """Without the end that is further from what is marked."""
    marked = [today_kg] if last_kg is None else sorted((last_kg, today_kg))
    if marked[0] - steps[0] >= steps[-1] - marked[-1] and steps[0] < marked[0]:
        return steps[1:]
    return steps[:-1] if steps[-1] > marked[-1] else [steps[0], *steps[2:]]


def _place(steps: list[float], load_kg: float) -> int:
    """Where a load sits on the arm; between marks it sits on the lower one."""
    return max((i for i, s in enumerate(steps) if s <= load_kg + 1e-9), default=0) * STEP_WIDTH
