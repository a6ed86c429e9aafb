"""Where these tests can run: on files of SQLite, and some only where a process may be traced."""

import os

import pytest

from .tracing import missing_tracer


@pytest.fixture(autouse=True)
def sqlite_files() -> None:
    """Skip where the log lies on a server, whose disk is not ours to cut off."""
    if os.environ.get("STEELYARD_TEST_DATABASE"):
        pytest.skip("SQLite files only")


@pytest.fixture(scope="session")
def tracer() -> None:
    """Skip where strace is missing or forbidden; in CI that is a failure."""
    reason = missing_tracer()
    if reason is not None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(reason)
