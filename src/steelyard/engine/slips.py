"""Values that are more likely a slip of the pen than training: they are asked about before they are believed.

All thresholds: our judgement, no source. They are wide on purpose; what lies within them is never asked about.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from statistics import median
from typing import Literal

from msgspec import Struct

from .log import SetBody

SlipKind = Literal["future-day", "lone-day", "tenfold", "tenth", "far-above", "many-repetitions"]
SESSIONS_TO_JUDGE, SETS_TO_JUDGE = 3, 3
TENFOLD_FROM = 5
NEAR = (Decimal("0.5"), Decimal(2))
FAR_ABOVE, FAR_ABOVE_BEST, FAR_ABOVE_KG = Decimal("2.2"), Decimal("1.5"), 25
NOBODY_LIFTS_KG = 700
MANY_REPETITIONS, MANY_ANYHOW, HEAVY_SHARE = 30, 150, Decimal("0.7")
LONE_GAP_DAYS, LONE_DAYS, DAYS_TO_JUDGE = 550, 2, 6


class Slip(Struct, frozen=True, kw_only=True):
    """One doubtful value: which of the sets, what is odd, what it is held against, what may have been meant."""

    index: int
    kind: SlipKind
    usual: Decimal | None = None
    meant: Decimal | None = None


def slips(sets: Sequence[SetBody], known: Iterable[SetBody], today: date) -> tuple[Slip, ...]:
    """Every doubtful value among new sets of one lifter, judged by each other and by what is known of this lifter."""
    known = tuple(known)
    found = {slip.index: slip for slip in _odd_days(sets, known, today)}
    lines: defaultdict[tuple[str, str], list[tuple[int, SetBody]]] = defaultdict(list)
    for body in known:
        lines[_line(body)].append((-1, body))
    for index, body in enumerate(sets):
        lines[_line(body)].append((index, body))
    for line in lines.values():
        if any(index >= 0 for index, _ in line):
            for slip in (*_odd_loads(line), *_odd_counts(line)):
                found.setdefault(slip.index, slip)
    return tuple(found[index] for index in sorted(found))


def _line(body: SetBody) -> tuple[str, str]:
    return (body.exercise, body.implement or "")


def _odd_days(sets: Sequence[SetBody], known: Sequence[SetBody], today: date) -> Iterator[Slip]:
    days = sorted({body.on for body in (*sets, *known)})
    lone = {day for group in _clusters(days) if len(group) <= LONE_DAYS for day in group}
    if len(days) < DAYS_TO_JUDGE or len(lone) * 4 > len(days):
        lone = set()
    for index, body in enumerate(sets):
        if body.on > today:
            yield Slip(index=index, kind="future-day")
        elif body.on in lone:
            yield Slip(index=index, kind="lone-day")


def _clusters(days: list[date]) -> list[list[date]]:
    """Days in groups that lie a year and a half and more apart."""
    groups: list[list[date]] = []
    for day in days:
        if groups and (day - groups[-1][-1]).days <= LONE_GAP_DAYS:
            groups[-1].append(day)
        else:
            groups.append([day])
    return groups


def _odd_loads(line: list[tuple[int, SetBody]]) -> Iterator[Slip]:
    """Loads ten times too large or small, or far above everything else in this line."""
    loads = [(index, body, _kilograms(body)) for index, body in line]
    tops: dict[tuple[date, int], Decimal] = {}
    for _, body, load in loads:
        key = (body.on, body.session)
        tops[key] = max(tops.get(key, Decimal(0)), load)
    usual = median(tops.values())
    is_judged = len(tops) > SESSIONS_TO_JUDGE and usual > 0
    if not is_judged:
        usual = median(load for _, _, load in loads)
        is_judged = len(loads) > SETS_TO_JUDGE and usual > 0
    ordered = sorted(tops.values())
    for index, body, load in loads:
        if index < 0:
            continue
        top = tops[body.on, body.session]
        best_else = ordered[-2] if len(ordered) > 1 and ordered[-1] == top else ordered[-1]
        yield from _odd_load(index, load, top, usual if is_judged else None, best_else)


def _odd_load(index: int, load: Decimal, top: Decimal, usual: Decimal | None, best_else: Decimal) -> Iterator[Slip]:
    if usual is not None and load >= TENFOLD_FROM * usual and _is_near(load / 10, usual):
        yield Slip(index=index, kind="tenfold", usual=usual, meant=load / 10)
    elif usual is not None and load > 0 and top <= usual / TENFOLD_FROM and _is_near(top * 10, usual):
        yield Slip(index=index, kind="tenth", usual=usual, meant=load * 10)
    elif load > NOBODY_LIFTS_KG or (
        usual is not None
        and load > FAR_ABOVE * usual
        and load - usual > FAR_ABOVE_KG
        and load > FAR_ABOVE_BEST * best_else
    ):
        yield Slip(index=index, kind="far-above", usual=usual)


def _odd_counts(line: list[tuple[int, SetBody]]) -> Iterator[Slip]:
    """Repetitions that nobody does at such a load."""
    counted = [(index, body) for index, body in line if body.reps is not None]
    if not counted:
        return
    usual = Decimal(median(body.reps or 0 for _, body in counted))
    heavy = max(_kilograms(body) for _, body in counted) * HEAVY_SHARE
    for index, body in counted:
        reps = body.reps or 0
        is_heavy = heavy > 0 and _kilograms(body) >= heavy and len(counted) > SETS_TO_JUDGE
        if index >= 0 and (
            reps > MANY_ANYHOW or (is_heavy and reps >= MANY_REPETITIONS and reps > TENFOLD_FROM * usual)
        ):
            meant = Decimal(reps // 10) if reps % 10 == 0 and reps >= 10 else None
            yield Slip(index=index, kind="many-repetitions", usual=usual, meant=meant)


def _kilograms(body: SetBody) -> Decimal:
    """The load without its sign; assistance and marks are judged like loads."""
    return abs(body.load.magnitude) if body.load is not None else Decimal(0)


def _is_near(value: Decimal, usual: Decimal) -> bool:
    return NEAR[0] * usual <= value <= NEAR[1] * usual
