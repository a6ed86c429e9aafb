"""A long command says how far it is, on a person's terminal only and not before two seconds."""

import io
import sys

import pytest

from steelyard.cli.progress import Progress


class Terminal(io.StringIO):
    """A stream that a person looks at."""

    def isatty(self) -> bool:
        return True


def shown(monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, seconds: float) -> str:
    """What is written when half is done after so many seconds."""
    clock = iter((100.0, 100.0 + seconds))
    monkeypatch.setattr("steelyard.cli.progress.time.monotonic", lambda: next(clock, 100.0 + seconds))
    monkeypatch.setattr(sys, "stderr", stream)
    with Progress("log.csv") as told:
        told(50, 100)
        written = stream.getvalue()
    assert stream.getvalue().endswith("\r") or not written
    return written


def test_it_waits_two_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    assert shown(monkeypatch, Terminal(), 1.9) == ""


def test_then_it_says_how_far(monkeypatch: pytest.MonkeyPatch) -> None:
    written = shown(monkeypatch, Terminal(), 2.1)
    assert written == "\rlog.csv ###############--------------- 50% "


def test_a_script_sees_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    assert shown(monkeypatch, io.StringIO(), 60) == ""
