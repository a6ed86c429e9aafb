"""A block before its sets are read: what its titles say, and which of its rows may hold sets, on which day."""

from collections.abc import Callable, Sequence

from msgspec import Struct, field

from steelyard.wording.message import tell

from .blocks import Block, Column, Title, filled
from .cell_text import text_of
from .findings import Findings
from .found import Place
from .grid import Cell, Row
from .headers import Role
from .set_tokens import looks_like_sets
from .titles import Facts, facts_of, is_generic, is_goal, is_total, names_body_mass, over, starts_day
from .training_days import DayPool, RowDay, WeekDay

IsExercise = Callable[[str], bool]


class SurveyedRow(Struct, frozen=True):
    """A row that may hold sets: what holds above it, its day, and the cells that it takes from the row above."""

    row: Row
    facts: Facts
    day: RowDay
    exercise: str
    lifter: str


class NamedTitle(Struct, frozen=True):
    """A title that may be somebody's name, and from which row of the block on it holds."""

    place: Place
    text: str
    at: int


class Survey(Struct, kw_only=True):
    """A block with its rows sorted out; `facts` hold above it, `after` below its last row."""

    block: Block
    carried: set[Role]
    rows: list[SurveyedRow] = field(default_factory=list)
    names: list[NamedTitle] = field(default_factory=list)
    headings: dict[int, RowDay] = field(default_factory=dict)
    facts: Facts = field(default_factory=Facts)
    after: Facts = field(default_factory=Facts)


def begin_survey(
    block: Block, carried: set[Role], above: Survey | None, pool: DayPool, is_exercise: IsExercise, findings: Findings
) -> Survey:
    """What the titles of a block and the headings of its columns say; titles of the block `above` hold on."""
    survey = Survey(block=block, carried=carried)
    if above is not None:
        survey.facts = Facts(
            lifter=above.after.lifter, unit=above.after.unit, year=above.after.year, week=above.after.week
        )
        survey.names = [NamedTitle(n.place, n.text, 0) for n in above.names]
    said = _titles(survey, is_exercise, findings)
    if above is not None and not starts_day(said) and said.week is None:
        said = over(Facts(day=above.after.day, weekday=above.after.weekday, day_number=above.after.day_number), said)
    survey.facts = over(survey.facts, said)
    for column in block.columns:
        if column.heading_kind in {"date", "label"}:
            survey.headings[column.index] = _heading_day(column, survey.facts, pool)
    return survey


def _titles(survey: Survey, is_exercise: IsExercise, findings: Findings) -> Facts:
    """What the sheet's name and the titles above say; each is passed over as a title, each header as a header."""
    block = survey.block
    roles = {column.word.role for column in block.columns}
    facts = Facts()
    goals = {t.row for t in block.titles if isinstance(t.text, str) and is_goal(t.text)}
    for title in _joined(block.titles):
        said = facts_of(title.text, is_exercise)
        if title.row == 0 and names_body_mass(text_of(title.text)) and "exercise" not in roles:
            said = Facts(exercise=text_of(title.text), is_read=True)
        place = Place(block.sheet, title.row, title.column)
        if title.row:
            _pass_over_title(place, title.text, said, findings, is_of_goal=title.row in goals)
        if said.name and not starts_day(said) and not is_generic(said.name) and not is_total(said.name):
            survey.names.append(NamedTitle(place, said.name, 0))
        facts = over(facts, said)
    for row in block.header_rows:
        if block.part == 0:
            value = " | ".join(text_of(c) for _, c in filled(row))
            findings.pass_over(Place(block.sheet, row.number, ""), value, tell("this row is the header"))
    return facts


def _joined(titles: Sequence[Title]) -> list[Title]:
    """`Name:` and `Bo` in two cells of a row as one title."""
    out: list[Title] = []
    for title in titles:
        last = out[-1] if out else None
        if (
            last is not None
            and last.row == title.row
            and isinstance(last.text, str)
            and last.text.rstrip().endswith(":")
        ):
            out[-1] = Title(last.row, last.column, f"{last.text} {text_of(title.text)}")
        else:
            out.append(title)
    return out


def _pass_over_title(place: Place, text: Cell, said: Facts, findings: Findings, *, is_of_goal: bool) -> None:
    value = text_of(text)
    if said.is_read or is_of_goal or not looks_like_sets(value) or value.startswith(("#", "//")):
        findings.pass_over(place, value, tell("this is a title"))
    else:
        findings.wrong(
            place, value, tell("looks like sets but stands above the header"), tell("move it into the table")
        )


def _heading_day(column: Column, facts: Facts, pool: DayPool) -> RowDay:
    """The day of a heading: a date, or a weekday or number within a week that a title names."""
    if column.heading_kind == "date":
        return pool.add(column.heading, "header", facts.year)
    said = facts_of(column.heading, lambda _: False)
    near = pool.add(facts.day, "titles", facts.year) if facts.day != "" else -1
    weekday = said.weekday if said.weekday is not None else facts.weekday
    return pool.add_week(WeekDay(said.week or facts.week, weekday, said.day_number, near))
