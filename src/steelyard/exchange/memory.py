"""Cells that were read once, remembered by their text: a log says the same few things again and again."""

from .cells import CellRefused
from .load_cells import LoadCell, read_load_cell
from .set_cells import read_set_cell
from .set_style import SaidCell
from .ways import CountKey, Ways


class Memory:
    """What the texts of cells were read as, in the ways of one file."""

    def __init__(self, ways: Ways) -> None:
        self.ways = ways
        self._counts: dict[CountKey, SaidCell | CellRefused] = dict(ways.sure)
        self._loads: dict[str, LoadCell | CellRefused] = {}

    def count(self, key: CountKey) -> SaidCell:
        """A cell of counts or of whole sets; raises CellRefused."""
        found = self._counts.get(key)
        if found is None:
            found = self._counts[key] = self._read_count(key)
        if isinstance(found, CellRefused):
            raise found
        return found

    def _read_count(self, key: CountKey) -> SaidCell | CellRefused:
        try:
            return read_set_cell(key.text, self.ways.style, gives_load=key.gives_load, is_count=key.is_count)
        except CellRefused as refused:
            return refused

    def load(self, text: str) -> LoadCell:
        """A cell of loads; raises CellRefused."""
        found = self._loads.get(text)
        if found is None:
            try:
                found = read_load_cell(text, self.ways.mark)
            except CellRefused as refused:
                found = refused
            self._loads[text] = found
        if isinstance(found, CellRefused):
            raise found
        return found
