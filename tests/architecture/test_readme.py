"""The README shows what the program really prints."""

import re
from pathlib import Path

import click
import pytest

from steelyard.cli.demo_text import demo_text
from steelyard.services.demo import demo
from steelyard.services.scribe import Scribe
from steelyard.wording.quantity import Voice

README = Path(__file__).parents[2] / "README.md"
VOICE = Voice("en", "kg")


def test_the_demo_in_the_readme_is_the_demo(scribe: Scribe, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "92")
    shown = re.search(r"`make demo` prints:\n\n```\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert shown is not None
    assert shown[1] == click.unstyle(demo_text(demo(VOICE, scribe), VOICE, "steelyard --data DIR"))
