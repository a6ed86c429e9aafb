"""Answers to the questions of a file, as they are typed: KEY=ANSWER."""

from collections.abc import Iterable

import click

from steelyard.wording.message import tell


def read_answers(texts: Iterable[str]) -> dict[str, str]:
    """Each key with its answer; the key may hold `=`, the answer may not."""
    return dict(_pair(text) for text in texts)


def _pair(text: str) -> tuple[str, str]:
    key, mark, value = text.rpartition("=")
    if not mark or not key.strip():
        raise click.UsageError(tell("--answer {text!r}: write KEY=ANSWER, as the question shows it", text=text))
    return key.strip(), value.strip()
