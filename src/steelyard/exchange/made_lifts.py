"""A column that says of each lift whether it was made, missed or not tried."""

from typing import Literal

from msgspec import structs

from steelyard.wording.message import tell

from .cells import CellRefused
from .set_style import SaidCell

Made = Literal["made", "missed", "not-done"]
_SAID: dict[str, Made] = {
    **dict.fromkeys(("y", "yes", "j", "ja", "ok", "✓", "✔", "+", "1", "good", "made", "gut", "true"), "made"),
    **dict.fromkeys(("x", "✗", "✘", "n", "no", "nein", "0", "miss", "missed", "fail", "failed", "false"), "missed"),
    **dict.fromkeys(("-", "–", "—", "not done", "skipped", "dns"), "not-done"),
}  # fmt: skip


def made_said(text: str) -> Made | None:
    """What a cell says of a lift, None where it is no such word."""
    return _SAID.get(text.strip().casefold())


def as_made(said: SaidCell, text: str) -> SaidCell:
    """The sets of a row as made or missed; raises CellRefused where that leaves open how much was lifted."""
    made = made_said(text)
    if made is None:
        raise CellRefused(tell("does not say whether the lift was made"), tell("write yes, no or -"))
    if made == "made":
        return said
    if made == "missed" and (len(said.sets) > 1 or any((s.reps or 0) > 1 for s in said.sets)):
        raise CellRefused(
            tell("says that it was missed, and not how many repetitions were made"),
            tell("write the repetitions that were made, and leave this cell empty"),
        )
    why = "not-done" if made == "not-done" else "unsaid"
    sets = (structs.replace(s, reps=0, seconds=None, metres=None, cluster=(), missed=why) for s in said.sets)
    return structs.replace(said, sets=tuple(sets))
