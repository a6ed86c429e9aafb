"""What the trees learn from: every ranked set of a lifter, and every session's best, beside what came before."""

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from steelyard.catalogue import catalogue
from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked
from steelyard.engine.backtest.sessions import session_level
from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials

from .memory import COLUMNS, LifterMemory
from .strength_bands import band_of

# ln: what lies further from the running mean is a slip of the pen, and the trees should not bend to it.
MOST_APART = 0.4


class Examples(Struct, frozen=True):
    """Rows of what came before; strength told, as a difference (ln) from the running mean, and its band around it.

    `told` is NaN where no single number is. `kind`: 0 a set, 1 a set of somebody who makes attempts, 2 a best.
    """

    rows: Floats
    told: Floats
    lower: Floats
    upper: Floats
    kind: Floats


NONE = Examples(np.empty((0, len(COLUMNS))), *np.empty((4, 0)))
SET, ATTEMPT, BEST = 0.0, 1.0, 2.0


def new_memory(equation: str) -> LifterMemory:
    """An empty memory; exercises and patterns are numbered as the catalogue has them, so that folds agree."""
    known = catalogue().exercises
    patterns = {name: i for i, name in enumerate(sorted({e.pattern for e in known}))}
    # More numbers than 255 are no categories for the trees; rare exercises share one by chance, which does no harm.
    codes = {e.code: i % 251 for i, e in enumerate(known)}
    return LifterMemory(codes, {e.code: patterns[e.pattern] for e in known}, equation)


def examples_of(lifter: LifterTrials, equation: str) -> Examples:
    """All examples of a lifter, from each exercise's second session on."""
    memory = new_memory(equation)
    rows, told = [], []
    for session in lifter.sessions:
        for entry in session.entries:
            line = memory.line(entry.key)
            if line is None:
                continue
            asked = Asked(session.on, entry.key, tuple(t.load_kg for t in entry.trials))
            found = _told(entry, line.reference, equation, is_attempt=line.was_attempt)
            kept = [i for i, what in enumerate(found) if what is not None]
            rows.append(memory.rows(asked)[kept])
            told += [what for what in found if what is not None]
        memory.see(session)
    table = np.array(told, dtype=float).reshape(-1, 4)
    return Examples(np.concatenate(rows) if rows else np.empty((0, len(COLUMNS))), *table.T)


Told = tuple[float, float, float, float]


def _told(entry: ExerciseEntry, reference: float, equation: str, *, is_attempt: bool) -> list[Told | None]:
    """What each set told, and last the session's best; None for one that models are not ranked on."""
    found: list[Told | None] = []
    for trial in entry.trials:
        band = band_of(trial, equation)
        middle = np.nan if band.middle is None else float(np.clip(band.middle - reference, -MOST_APART, MOST_APART))
        what = (middle, band.lower - reference, band.upper - reference, ATTEMPT if is_attempt else SET)
        found.append(what if trial.is_ranked else None)
    level = session_level(entry, equation)
    apart = float(np.clip(level.ln_kg - reference, -MOST_APART, MOST_APART))
    found.append((apart, apart, apart, BEST) if level.told == "measured" else None)
    return found


def together(examples: Sequence[Examples]) -> tuple[Examples, Floats]:
    """The examples of many lifters, and whose each is."""
    found = [NONE, *examples]
    joined = Examples(
        np.concatenate([e.rows for e in found]),
        *(np.concatenate([getattr(e, name) for e in found]) for name in ("told", "lower", "upper", "kind")),
    )
    return joined, np.concatenate([np.full(len(e.told), i) for i, e in enumerate(found)])
