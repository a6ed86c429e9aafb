"""What is wrong with a file: where, which value, what to try."""

from msgspec import Struct, field


class Problem(Struct, frozen=True, kw_only=True):
    """One thing that cannot be read; rows are counted as a spreadsheet does, the header being row 1."""

    row: int
    column: str
    value: str
    problem: str
    remedy: str = field(name="try")
    sheet: str = ""
