"""True answers to a reader's questions: what a person would say who was there."""

import re
from collections import Counter
from datetime import timedelta

from .judge import Asked
from .truth import MessyFile, Topic

# What an offered answer must say to be the right one.
_MEANS = {
    "kg": r"\bkg\b|kilogram",
    "lb": r"\blbs?\b|pound",
    "load": r"\bloads?\b",
    "rpe": r"\brpe\b",
}
# What a column holds, in the words of the reader's offer; the rest says nothing of sets.
_HOLDS = {
    "date": "date", "lifter": "lifter", "exercise": "exercise", "sets": "sets", "reps": "reps", "load": "load",
    "cell": "set-cell", "rpe": "rpe", "rir": "rir", "note": "note", "pain": "pain", "side": "side", "why": "missed",
    "technique": "technique", "seconds": "seconds", "metres": "metres", "body-mass": "body-mass",
}  # fmt: skip
_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def true_answer(asked: Asked, file: MessyFile) -> str | None:
    """The right answer, chosen from those offered; None where none of them is right."""
    wanted = _truth(asked, file)
    if wanted is None or not asked.choices or asked.topic in {"name", "weekdays", "start", "titles"}:
        return wanted
    for answer, _ in asked.choices:
        if answer == wanted:
            return answer
    pattern = re.compile(_MEANS.get(wanted, re.escape(wanted)), re.IGNORECASE)
    fitting = [answer for answer, meaning in asked.choices if pattern.search(f"{answer} {meaning}")]
    return fitting[0] if len(fitting) == 1 else None


def _truth(asked: Asked, file: MessyFile) -> str | None:
    if asked.topic == "name":
        return _code(asked.about, file)
    if asked.topic == "column":
        return _holds(asked.about, file)
    days = sorted({s.on for s in file.sets})
    monday = days[0] - timedelta(days=days[0].weekday())
    true: dict[Topic, str | None] = {
        "unit": _unit(asked.about, file),
        "date-order": _order(file),
        "at-number": next((f.answer for f in file.open_facts if f.topic == "at-number"), "load"),
        "start": monday.isoformat(),
        "weekdays": ",".join(_DAYS[n] for n in sorted({d.weekday() for d in days})),
        "year": str(days[0].year),
        "titles": _titles(asked, file),
        "sheet-names": "lifter" if file.made["shape"] == "sheet-per-lifter" else "ignore",
        "pair": "load-first" if file.made["cell style"].startswith("60") else "sets-first",
        "bare-number": "reps",
        "slash": "sets",
        "range": "leave-out",
        "date": days[0].isoformat() if len(days) == 1 else None,
    }
    return true.get(asked.topic)


def _order(file: MessyFile) -> str:
    is_english_weekday = file.made["date"] == "weekday-full" and file.made["language"] == "en"
    return "month-first" if "mdy" in file.made["date"] or is_english_weekday else "day-first"


def _titles(asked: Asked, file: MessyFile) -> str:
    """All are lifters, none is, or those that are, parted by semicolons."""
    if file.made["shape"] not in {"lifter-blocks", "side-by-side"}:
        return "ignore"
    lifters = dict.fromkeys(s.lifter for s in file.sets)
    return "lifter" if all(e in lifters for e in asked.examples) else ";".join(lifters)


def _unit(column: str, file: MessyFile) -> str:
    if any(role == "body-mass" and column.endswith(header) for header, role in file.columns.items()):
        return "kg"
    return next(
        (f.answer for f in file.open_facts if f.topic == "unit" and not f.about),
        Counter(s.unit for s in file.sets if s.load is not None).most_common(1)[0][0],
    )


def _holds(column: str, file: MessyFile) -> str:
    if _code(column, file) is not None:
        return "set-cell"  # a column that is headed by its exercise
    plain = re.sub(r" \(\d+\)$", "", column)  # the second of its name
    role = next((r for h, r in file.columns.items() if plain == h or plain.endswith(f" {h}")), "")
    if role == "nth":
        return "set-cell" if file.made["cell style"] != "-" else "reps"
    return _HOLDS.get(role, "ignore")


def _code(written: str, file: MessyFile) -> str | None:
    plain = " ".join(written.split()).casefold()
    return next((s.exercise for s in file.sets if " ".join(s.written.split()).casefold() == plain), None)
