"""`2x24` in a column of loads: two bells, dumbbells or sides of 24 each, or 48 together; only its writer knows."""

import re
from collections.abc import Mapping

from steelyard.wording.message import tell

from .findings import Findings
from .found import Choice
from .set_tokens import NUM, plain_signs

TWO = re.compile(rf"2\s*x\s*({NUM}\s*(?:kgs?|lbs?)?)", re.IGNORECASE)


def one_of_two(text: str) -> str:
    """The load of one where a cell says two of a kind, else ""."""
    match = TWO.fullmatch(plain_signs(text))
    return match[1] if match is not None else ""


def find_pieces(columns: Mapping[str, Mapping[str, None]], findings: Findings) -> dict[str, str | None]:
    """For each column with loads such as 2x24: "each" or "together", None while that is open."""
    out: dict[str, str | None] = {}
    for name, texts in columns.items():
        examples = tuple(text for text in texts if one_of_two(text))
        if examples:
            asks = tell("What is the load {cell} in {column}?", cell=examples[0], column=name)
            one = one_of_two(examples[0])
            choices = (
                Choice("each", tell("{load} on each side or in each hand: the load is {load}", load=one)),
                Choice("together", tell("both together are the load")),
            )
            out[name] = findings.ask(f"pieces:{name}", asks, examples, choices)
    return out
