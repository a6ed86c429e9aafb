"""An entry as a line of JSON, its body as the text that it was sent as."""

from msgspec import Struct, structs

from steelyard.engine.log import Entry


class EntryLine(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One entry; `set_aside` where its id was known with another body, so that it waits beside the log."""

    id: str
    person: str
    author: str
    device: str
    kind: str
    schema: int
    hlc: str
    wall_time: str
    replaces: tuple[str, ...]
    body: str
    set_aside: bool = False


def line_of(entry: Entry, *, set_aside: bool = False) -> EntryLine:
    """The line of an entry."""
    return EntryLine(**{**structs.asdict(entry), "body": entry.body.decode()}, set_aside=set_aside)


def entry_of(line: EntryLine) -> Entry:
    """The entry of a line."""
    values = {name: getattr(line, name) for name in Entry.__struct_fields__}
    return Entry(**{**values, "body": line.body.encode()})
