"""The exercises in the form that is read at each start, made from the file that people edit: run this module."""

import tomllib
from pathlib import Path
from typing import Any

import msgspec

FOLDER = Path(__file__).parent
EDITED, COMPILED = FOLDER / "exercises.toml", FOLDER / "exercises.json"


def compiled(edited: str) -> bytes:
    """The exercises of a TOML file as JSON, one a line: JSON is read some fifty times faster."""
    exercises: list[dict[str, Any]] = tomllib.loads(edited)["exercise"]
    return b"[\n" + b",\n".join(map(msgspec.json.encode, exercises)) + b"\n]\n"


if __name__ == "__main__":
    COMPILED.write_bytes(compiled(EDITED.read_text("utf-8")))
