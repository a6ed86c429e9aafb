"""Sets as open formats: JSON lines, a set a line, and CSV that `import` reads again."""

import csv
import io
from collections.abc import Iterable, Iterator
from decimal import Decimal

import msgspec
from msgspec import Struct

from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import LoggedSet
from steelyard.engine.log import Pain, SetBody
from steelyard.engine.quantities import Load, plain

from .cells import RUNNABLE

_MILLIGRAM = Decimal("0.000001")
# The first nine are what a person would read; the others keep what they cannot hold. `reading` knows all of them.
CSV_COLUMNS = (
    "date", "lifter", "exercise", "kg", "reps", "RIR", "pain", "technique", "note",
    "exercise_code", "load_typed", "effort_typed", "session", "kind", "phase", "implement", "side", "seconds", "metres",
    "tempo", "cluster", "cluster_pause_s", "pair", "rest_interval_s", "missed",
)  # fmt: skip


class SetLine(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One set as it is given away; `load_kg` is the added load where body mass is lifted."""

    lifter: str
    date: str
    exercise: str
    exercise_code: str
    load_kg: float | None
    reps: int | None
    rir: float | None
    load_typed: str = ""
    kind: str | None = None
    session: int = 1
    seconds: int | None = None
    metres: float | None = None
    side: str | None = None
    tempo: str | None = None
    cluster: tuple[int, ...] = ()
    implement: str | None = None
    missed: str | None = None
    pain: str = ""
    technique: str | None = None
    phase: str | None = None
    note: str = ""
    id: str = ""
    as_written: str = ""
    effort_typed: str = ""
    cluster_pause_s: int | None = None
    pair: str | None = None
    rest_interval_s: int | None = None


def set_line(lifter: str, logged: LoggedSet, catalogue: Catalogue) -> SetLine:
    """One set for giving away."""
    body = logged.body
    name = catalogue[body.exercise].name["en"] if body.exercise in catalogue else body.as_written
    is_mass = body.load is not None and body.load.unit != "mark"
    return SetLine(
        lifter=lifter,
        date=body.on.isoformat(),
        exercise=name,
        exercise_code=body.exercise,
        load_kg=float(body.load.magnitude)
        if body.load is not None and is_mass
        else (0.0 if body.load is None else None),
        reps=body.reps,
        rir=float(body.effort.rir) if body.effort is not None else None,
        load_typed=_typed(body.load),
        kind=body.kind,
        session=body.session,
        seconds=body.seconds,
        metres=float(body.metres) if body.metres is not None else None,
        side=body.side,
        tempo=body.tempo,
        cluster=body.cluster,
        implement=body.implement,
        missed=body.missed,
        pain=_pain(body.pain),
        technique=body.technique,
        phase=body.phase,
        note=body.note,
        id=logged.id,
        as_written=body.as_written if body.as_written != name else "",
        effort_typed=_effort(body),
        cluster_pause_s=body.cluster_pause_s,
        pair=body.pair,
        rest_interval_s=body.rest_interval_s,
    )


def json_lines(lines: Iterable[SetLine]) -> Iterator[str]:
    """A set a line."""
    for line in lines:
        yield msgspec.json.encode(line).decode() + "\n"


def csv_lines(lifter: str, sets: Iterable[LoggedSet], catalogue: Catalogue) -> Iterator[str]:
    """The header and a set a line; text that a spreadsheet would run is marked with an apostrophe."""
    yield _csv_line(CSV_COLUMNS)
    for logged in sets:
        yield _csv_line(_csv_cells(lifter, logged.body, catalogue))


def _csv_cells(lifter: str, body: SetBody, catalogue: Catalogue) -> tuple[str, ...]:
    """One set in the order of the columns."""
    written = body.as_written or catalogue[body.exercise].name["en"]
    rir = f"{plain(body.effort.rir)}" if body.effort is not None else ""
    texts = (_pain(body.pain), body.technique or "", body.note)
    counts = (body.seconds, None if body.metres is None else f"{plain(body.metres):f}")
    rest = (body.cluster_pause_s, _safe(body.pair or ""), body.rest_interval_s, body.missed)
    return (
        body.on.isoformat(),
        *map(_safe, (lifter, written)),
        _kg(body),
        _count(body),
        rir,
        *map(_safe, texts),
        body.exercise,
        _safe(_typed(body.load)),
        _effort(body),
        *_filled(body.session if body.session > 1 else None, body.kind, body.phase),
        _safe(body.implement or ""),
        *_filled(body.side, *counts, body.tempo, "+".join(map(str, body.cluster)), *rest),
    )


def _filled(*cells: object) -> tuple[str, ...]:
    return tuple("" if cell is None else str(cell) for cell in cells)


def _typed(load: Load | None) -> str:
    return f"{load.value} {load.unit}" if load is not None else ""


def _effort(body: SetBody) -> str:
    """An effort that was given as RPE, which its reserve cannot give back."""
    return f"rpe {plain(body.effort.value):f}" if body.effort is not None and body.effort.scale == "rpe" else ""


def _csv_line(cells: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerow(cells)
    return out.getvalue()


def _safe(text: str) -> str:
    return f"'{text}" if text.lstrip("'").startswith(RUNNABLE) else text


def file_kg(load: Load) -> Decimal:
    """A mass (kg) as files hold it: to the milligram, so that pounds fit into the digits that a load may have."""
    return plain(load.magnitude.quantize(_MILLIGRAM))


def _kg(body: SetBody) -> str:
    return f"{file_kg(body.load):f}" if body.load is not None and body.load.unit != "mark" else ""


def _count(body: SetBody) -> str:
    """Repetitions; nothing where time or a distance is counted, which have columns of their own."""
    is_measured = body.seconds is not None or body.metres is not None
    return str(body.reps) if body.reps is not None else "" if is_measured else "0"


def _pain(pain: Pain | None) -> str:
    if pain is None:
        return ""
    return f"{pain.words} {pain.score}".strip() if pain.score is not None else pain.words
