"""What an empty cell means: the same as the one above, where the whole column shows that its writer means that."""

from collections import Counter
from collections.abc import Sequence

from msgspec import Struct, field

from steelyard.engine.exercises import folded_name

from .blocks import Block, is_empty
from .grid import Cell
from .headers import Role

COUNTED: frozenset[Role] = frozenset({"sets", "reps", "load", "load-kg", "load-typed", "set-cell", "seconds", "metres"})
CARRIED: tuple[Role, ...] = ("date", "exercise", "lifter")
_NEWER: frozenset[Role] = frozenset({"date", "day", "week", "lifter"})
Key = tuple[Role, str]


class Habits(Struct):
    """Of the columns of one role and name: cells left empty below a full one, and cells that say the same again."""

    empty: Counter[Key] = field(default_factory=Counter)
    again: Counter[Key] = field(default_factory=Counter)
    beside_full: Counter[Key] = field(default_factory=Counter)
    on_new_day: Counter[Key] = field(default_factory=Counter)

    def of(self, block: Block) -> set[Role]:
        """The roles of this block whose empty cells mean the one above."""
        if is_own(block):
            return set()
        return {role for role, index in _columns(block).items() if self._is_carried((role, _name(block, index)))}

    def _is_carried(self, key: Key) -> bool:
        # Who trains again on the next day is named again, where a name is never left out beside a day.
        is_named_daily = key[0] == "lifter" and not self.beside_full[key]
        empty, again = self.empty[key], self.again[key] - (self.on_new_day[key] if is_named_daily else 0)
        # One empty lifter beside a full day and exercise is an omission.
        is_omission = key[0] == "lifter" and empty == self.beside_full[key] == 1
        return empty > 0 and again * 4 <= empty and (not again or empty > 1) and not is_omission


def is_own(block: Block) -> bool:
    """Whether our own export is read, in which an empty cell is empty."""
    return any(c.word.role == "exercise-code" for c in block.columns)


def habits_of(blocks: Sequence[Block]) -> Habits:
    """The habits that all blocks of a file show together."""
    habits = Habits()
    for block in blocks:
        if not is_own(block):
            _look(block, habits)
    return habits


def _columns(block: Block) -> dict[Role, int]:
    return {
        role: c.index for role in CARRIED for c in reversed(block.columns) if c.word.role == role and not c.heading_kind
    }


def _name(block: Block, index: int) -> str:
    return next(folded_name(c.name) for c in block.columns if c.index == index)


def _look(block: Block, habits: Habits) -> None:
    counted = [c.index for c in block.columns if c.word.role in COUNTED]
    columns = _columns(block)
    keys: dict[Role, Key] = {role: (role, _name(block, index)) for role, index in columns.items()}
    newer = [c.index for c in block.columns if c.word.role in _NEWER]
    lifters = [c.index for c in block.columns if c.word.role == "lifter"]
    last: dict[Role, Cell] = {}
    for row in block.rows:
        cells = row.cells
        width = len(cells)
        has_sets = any(i < width and not is_empty(cells[i]) for i in counted)
        day = columns.get("date", width)
        is_other_day = day < width and not is_empty(cells[day]) and cells[day] != last.get("date")
        for role, index in columns.items():
            cell = cells[index] if index < width else ""
            if not is_empty(cell):
                # The same exercise on a new day is no repetition, nor is the same day of the next lifter.
                above = newer if role == "exercise" else lifters if role == "date" else []
                is_new = any(i < width and not is_empty(cells[i]) for i in above)
                is_again = has_sets and last.get(role) == cell and not is_new
                habits.again[keys[role]] += is_again
                habits.on_new_day[keys[role]] += is_again and role == "lifter" and is_other_day
                last[role] = cell
            elif has_sets and role in last:
                habits.empty[keys[role]] += 1
                others = [i for r, i in columns.items() if r != "lifter"]
                is_full = all(i < width and not is_empty(cells[i]) for i in others)
                habits.beside_full[keys[role]] += is_full and role == "lifter"
