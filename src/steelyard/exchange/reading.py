"""From the grids of a file to sets: blocks, columns, the writer's ways over the whole file, then every row."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from hashlib import sha256

from msgspec import structs

from steelyard.engine.exercises import folded_name
from steelyard.engine.quantities import Unit
from steelyard.wording.message import tell

from .blocks import Block, Title
from .columns import pass_over_columns, settle_columns
from .describing import describe
from .dittos import settle_dittos
from .finding_blocks import find_blocks
from .findings import Findings
from .found import Place, Reading
from .grid import Opened
from .habits import habits_of
from .json_sets import as_rows
from .lines import as_table
from .memory import Memory
from .naming_titles import Names, settle_names
from .records import RecordReader
from .row_context import RowContext
from .row_survey import RowSurvey
from .sheets import COUNTING, Sheet, ask_about, is_of_masses, read_on
from .survey import Survey, begin_survey
from .ticked_plans import settle_ticks
from .titles import is_generic, without_total
from .training_days import DayPool, asked_day
from .ways import find_ways

JSON = frozenset({"json-lines", "json-list"})
WORKBOOKS = frozenset({"xlsx", "ods", "xls"})
TOLD_EVERY = 1000
Progress = Callable[[int, int], None]


def read_grids(
    opened: Opened,
    *,
    lifter: str | None,
    answers: Mapping[str, str],
    is_exercise: Callable[[str], bool],
    today: date,
    unit: Unit | None = None,
    progress: Progress | None = None,
) -> Reading:
    """Everything the file says; what could be read in two ways is a question, answered by its key in `answers`.

    `lifter` serves where the file names nobody, `unit` where no load says its own; `progress` hears rows of rows.
    """
    findings = Findings(answers)
    knows = _remembered(is_exercise)
    sheets = _sheets(opened, knows)
    blocks = _blocks(read_on(sheets, knows, findings), opened.kind, knows, findings)
    layout = _layout(sheets)
    settle_columns(blocks, knows, findings)
    settle_dittos(blocks, findings)
    settle_ticks(blocks, findings)
    pool = DayPool()
    surveys = _survey(blocks, pool, knows, findings)
    pool.read(today, findings)
    names = settle_names(surveys, lifter, findings)
    surveys = [survey for survey in surveys if _is_whole(survey, sheets, findings)]
    ways = find_ways(surveys, unit, findings)
    memory = Memory(ways)
    _read_rows(surveys, memory, pool, names, _day_of_all(surveys, pool, findings), findings, progress)
    columns = describe(surveys, memory, pool)
    rows = {(s.block.sheet, row.row.number) for s in surveys for row in s.rows}
    _if_nothing(findings)
    return Reading(
        rows_read=len(rows),
        layout=layout,
        columns=columns,
        sets=tuple(findings.sets),
        body_masses=tuple(findings.body_masses),
        passed_over=tuple(findings.passed_over),
        problems=findings.problems,
        questions=tuple(findings.questions.values()),
    )


def _remembered(is_exercise: Callable[[str], bool]) -> Callable[[str], bool]:
    known: dict[str, bool] = {}

    def knows(text: str) -> bool:
        found = known.get(text)
        if found is None:
            found = known[text] = bool(text.strip()) and len(text) < 100 and is_exercise(text.strip())
        return found

    return knows


def _sheets(opened: Opened, knows: Callable[[str], bool]) -> list[Sheet]:
    is_one, is_text = len(opened.grids) == 1, opened.kind == "lines"
    grids = [as_rows(grid) if opened.kind in JSON else grid for grid in opened.grids]
    names = ["" if is_one else grid.name for grid in grids]
    return [
        Sheet(grid=grid, name=name, blocks=find_blocks(grid, name, is_text=is_text, is_exercise=knows))
        for grid, name in zip(grids, names, strict=True)
    ]


def _blocks(sheets: Sequence[Sheet], kind: str, knows: Callable[[str], bool], findings: Findings) -> list[Block]:
    out: list[Block] = []
    for sheet in sheets:
        is_workbook = kind in WORKBOOKS
        name = without_total(sheet.grid.name) if is_workbook and not is_generic(sheet.grid.name) else ""
        for block in sheet.blocks:
            named = as_table(block, knows, findings) if block.is_lines else block
            if kind == "fixed-width":
                named.titles = _whole_rows(named.titles)
            titles = (Title(0, "", name), *named.titles) if name else named.titles
            out.append(structs.replace(named, titles=titles, is_workbook=is_workbook, is_json=kind in JSON))
    return out


def _whole_rows(titles: Sequence[Title]) -> tuple[Title, ...]:
    """A title that stands across columns of a fixed width as one."""
    rows: dict[int, Title] = {}
    for title in titles:
        held = rows.get(title.row)
        rows[title.row] = title if held is None else Title(title.row, held.column, f"{held.text} {title.text}")
    return tuple(rows.values())


def _survey(blocks: list[Block], pool: DayPool, knows: Callable[[str], bool], findings: Findings) -> list[Survey]:
    """Every block with its rows sorted out; the titles of a block hold on below it until others stand there."""
    habits = habits_of(blocks)
    out: list[Survey] = []
    for block in blocks:
        above = next((s for s in reversed(out) if _is_above(s.block, block)), None)
        survey = begin_survey(block, habits.of(block), above, pool, knows, findings)
        RowSurvey(survey, pool, knows, findings).read()
        out.append(survey)
    return out


def _is_above(upper: Block, block: Block) -> bool:
    """Whether a block stands over another: on the same sheet, in the same columns, not beside it."""
    is_beside = upper.header_rows == block.header_rows and bool(upper.header_rows)
    shared = {c.index for c in upper.columns} & {c.index for c in block.columns}
    return upper.sheet == block.sheet and not is_beside and bool(shared)


def _layout(sheets: Sequence[Sheet]) -> str:
    """A fingerprint of headers by position, without anything that changes from one file of a kind to the next."""
    shapes = []
    for block in (block for sheet in sheets if sheet.holds != "nothing" for block in sheet.blocks):
        columns = [c.heading_kind or folded_name(c.name) for c in block.columns]
        shapes.append("lines" if block.is_lines else "|".join(dict.fromkeys(columns)))
    return sha256("\n".join(sorted(set(shapes))).encode()).hexdigest()[:16]


def _is_whole(survey: Survey, sheets: Sequence[Sheet], findings: Findings) -> bool:
    """Whether a block has what sets need; what it lacks is said once, not once a row."""
    block = survey.block
    if not survey.rows:
        pass_over_columns(block, findings)
        return False
    missing = _missing(survey)
    sheet = next(s for s in sheets if s.name == block.sheet)
    if missing and len(sheets) > 1 and sheet.holds != "log" and ask_about(sheet, findings) is None:
        return False
    row = block.header_rows[-1].number if block.header_rows else survey.rows[0].row.number
    for name in missing:
        place = Place(block.sheet, row, name)
        findings.wrong(
            place, name, tell("column is missing"), tell("name a column {column} in the header", column=name)
        )
    if not missing:
        pass_over_columns(block, findings)
    return not missing


def _missing(survey: Survey) -> list[str]:
    """The columns without which the rows of a block are no sets."""
    roles = {c.word.role for c in survey.block.columns}
    if is_of_masses(roles, survey.facts.exercise):
        return []
    has_exercise = any(row.exercise for row in survey.rows) or bool(roles & {"exercise", "unknown"})
    is_across = any(c.heading_kind == "exercise" for c in survey.block.columns)
    missing = [] if has_exercise or is_across else ["exercise"]
    return missing if roles & {*COUNTING, "body-mass", "missed", "unknown"} else [*missing, "reps"]


def _day_of_all(surveys: list[Survey], pool: DayPool, findings: Findings) -> date | None:
    """The day of a file in which no day stands at all, when somebody says it."""
    if not surveys or pool.cells or pool.has_weeks:
        return None
    return asked_day(findings)


def _read_rows(
    surveys: list[Survey],
    memory: Memory,
    pool: DayPool,
    names: Names,
    day: date | None,
    findings: Findings,
    progress: Progress | None,
) -> None:
    total = sum(len(s.rows) for s in surveys)
    done = 0
    for survey in surveys:
        reader = RecordReader(RowContext(survey, memory, pool, names, day, findings))
        for at in range(len(survey.rows)):
            reader.read_row(at)
            done += 1
            if progress is not None and (done % TOLD_EVERY == 0 or done == total):
                progress(done, total)


def _if_nothing(findings: Findings) -> None:
    if not (findings.sets or findings.problems or findings.questions or findings.body_masses):
        findings.wrong(Place("", 0, ""), "", tell("holds no sets"), tell("add a row a set under the header"))
