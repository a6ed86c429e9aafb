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
CSV_COLUMNS = ("date", "lifter", "exercise", "kg", "reps", "RIR", "pain", "technique", "note")


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
        load_typed=f"{body.load.value} {body.load.unit}" if body.load is not None else "",
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
    )


def json_lines(lines: Iterable[SetLine]) -> Iterator[str]:
    """A set a line."""
    for line in lines:
        yield msgspec.json.encode(line).decode() + "\n"


def csv_lines(lifter: str, sets: Iterable[LoggedSet], catalogue: Catalogue) -> Iterator[str]:
    """The header and a set a line; text that a spreadsheet would run is marked with an apostrophe."""
    yield _csv_line(CSV_COLUMNS)
    for logged in sets:
        body = logged.body
        rir = plain(body.effort.rir) if body.effort is not None else ""
        texts = (_pain(body.pain), body.technique or "", body.note)
        written = body.as_written or catalogue[body.exercise].name["en"]
        row = (
            body.on.isoformat(),
            _safe(lifter),
            _safe(written),
            _kg(body),
            _count(body),
            f"{rir}",
            *map(_safe, texts),
        )
        yield _csv_line(row)


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
    counts: tuple[int | Decimal | None, ...] = (body.reps, body.seconds, body.metres)
    return next((str(int(c)) for c in counts if c is not None), "0")


def _pain(pain: Pain | None) -> str:
    if pain is None:
        return ""
    return f"{pain.words} {pain.score}".strip() if pain.score is not None else pain.words
