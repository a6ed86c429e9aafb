"""The pages that say what the code says are those that the code makes, and leave nothing out."""

import subprocess
import sys
from pathlib import Path
from typing import get_args

import pytest

from steelyard.cli.group import COMMANDS
from steelyard.engine.policy import settings
from steelyard.engine.reasons import AnyReason

DOCS = Path(__file__).parents[2] / "docs"
REFERENCE = DOCS / "reference"
CODES = [str(kind.__struct_config__.tag) for kind in get_args(AnyReason)]


def test_the_committed_pages_are_those_of_the_program(tmp_path: Path) -> None:
    subprocess.run([sys.executable, REFERENCE / "make", tmp_path], check=True, timeout=120)
    made = {p.name: p.read_text(encoding="utf-8") for p in tmp_path.iterdir()}
    assert set(made) == {"commands.md", "exercises.md", "policy.md", "reasons.md"}
    assert made == {name: (REFERENCE / name).read_text(encoding="utf-8") for name in made}


@pytest.mark.parametrize(
    ("page", "names"), [("reasons.md", CODES), ("policy.md", list(settings())), ("commands.md", list(COMMANDS))]
)
def test_nothing_is_left_out(page: str, names: list[str]) -> None:
    text = (REFERENCE / page).read_text(encoding="utf-8")
    said = [line for line in text.splitlines() if line.startswith(("| `", "## "))]
    for name in names:
        wanted = f"## {name}" if page == "commands.md" else f"| `{name}` |"
        assert sum(line == wanted or line.startswith(f"{wanted} ") for line in said) == 1, name


def test_what_the_documents_tell_of_reasons_exists() -> None:
    """A code that a page shows in a table of limits is one of the program's."""
    text = (REFERENCE / "limits.md").read_text(encoding="utf-8")
    shown = {part for row in text.splitlines() if row.startswith("|") for part in row.split("`")[1::2]}
    assert shown
    assert shown <= set(CODES)
