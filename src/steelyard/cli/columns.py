"""Tables for a terminal."""

from collections.abc import Iterator, Sequence

from .paragraph import INDENT, quiet


def columns(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """A table: the first column to the left, all others to the right, each as wide as it must be."""
    widths = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    for row in (heads, *rows):
        cells = [f"{cell:>{width}}" for cell, width in zip(row[1:], widths[1:], strict=True)]
        line = f"{INDENT}{row[0]:<{widths[0]}}  {'  '.join(cells)}"
        yield quiet(line) if row is heads else line
