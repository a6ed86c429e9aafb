"""Text for a terminal: paragraphs, and what is louder or quieter than the rest."""

import shutil
import textwrap

import click

INDENT = "  "


def width() -> int:
    """Columns of the terminal, within what reads well."""
    return max(60, min(shutil.get_terminal_size((92, 24)).columns, 100))


def wrapped(text: str, indent: str = INDENT) -> str:
    """A paragraph under its heading."""
    return textwrap.fill(text, width(), initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)


def quiet(text: str) -> str:
    """One step quieter; plain where there is no terminal."""
    return click.style(text, dim=True)


def strong(text: str) -> str:
    """A name or a number that the eye should find."""
    return click.style(text, bold=True)
