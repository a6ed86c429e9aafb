"""Whose blocks are whose: titles and names of sheets that may be somebody's name, settled or asked."""

from collections.abc import Callable, Sequence

from msgspec import Struct, field

from steelyard.wording.message import tell

from .findings import Findings
from .found import Choice, Place
from .survey import NamedTitle, Survey


class Names(Struct, kw_only=True):
    """The titles that name lifters, and who it is where the file does not say."""

    lifter: str
    titles: frozenset[str] = field(default_factory=frozenset)
    is_asked: bool = False
    is_nobody: bool = False

    def at(self, survey: Survey, row: int) -> str:
        """The lifter of a row of a block, by the nearest name above it."""
        if self.titles:
            for name in reversed(survey.names):
                if name.at <= row and name.text in self.titles:
                    return name.text
        return self.lifter


def settle_names(surveys: Sequence[Survey], lifter: str | None, findings: Findings) -> Names:
    """Ask whether titles are names where it could matter; nobody named anywhere is a problem."""
    open_ = [s for s in surveys if not _says_lifter(s) and s.rows]
    found: set[str] = set()
    is_asked = False
    for key, is_sheet in (("sheet-names", True), ("titles", False)):
        texts = _candidates(open_, is_sheet)
        if not texts or (len(texts) == 1 and lifter) or found:
            continue
        answer = findings.ask(key, *_question(is_sheet, texts), _answers(texts))
        if answer is None:
            is_asked = True
            break
        found |= _named(answer, texts) or set()
    nameless = [s for s in open_ if not _names_all(s, found)] if not lifter and not is_asked else []
    if nameless:
        _nobody(nameless[0], findings)
    return Names(lifter=lifter or "", titles=frozenset(found), is_asked=is_asked, is_nobody=bool(nameless))


def _answers(texts: Sequence[str]) -> Callable[[str], bool]:
    return lambda said: _named(said, texts) is not None


def _named(said: str, texts: Sequence[str]) -> set[str] | None:
    """The titles that an answer says are names: all, none, or those that it lists; None for no answer."""
    if said in {"lifter", "ignore"}:
        return set(texts) if said == "lifter" else set()
    listed = {part.strip() for part in said.split(";")}
    return listed if listed <= set(texts) else None


def _question(is_sheet: bool, texts: Sequence[str]) -> tuple[str, tuple[str, ...], tuple[Choice, ...]]:
    asks = (
        tell("Are the names of the sheets those of lifters? List those that are, parted by ; if only some.")
        if is_sheet
        else tell("Are these titles the names of lifters? List those that are, parted by ; if only some.")
    )
    choices = (
        Choice("lifter", tell("yes, each names a lifter")),
        Choice("ignore", tell("no, they say nothing of sets")),
    )
    return asks, tuple(texts), choices


def _candidates(surveys: Sequence[Survey], is_sheet: bool) -> list[str]:
    """The titles that may be names; one that stands on several sheets, or above all of many blocks, is none."""
    places: dict[str, set[str]] = {}
    for survey in surveys:
        for name in _nearest(survey, is_sheet):
            places.setdefault(name.text, set()).add(survey.block.sheet)
    return [text for text, sheets in places.items() if is_sheet or len(sheets) == 1]


def _nearest(survey: Survey, is_sheet: bool) -> list[NamedTitle]:
    """Of the titles above a table the last one; every one between its rows."""
    kind = [name for name in survey.names if (name.place.row == 0) == is_sheet]
    above = [name for name in kind if name.at == 0]
    return [*above[-1:], *(name for name in kind if name.at)]


def _says_lifter(survey: Survey) -> bool:
    has_column = any(c.word.role == "lifter" for c in survey.block.columns)
    return has_column or bool(survey.facts.lifter) or all(row.lifter for row in survey.rows)


def _names_all(survey: Survey, names: set[str]) -> bool:
    return any(n.text in names and n.at == 0 for n in survey.names)


def _nobody(survey: Survey, findings: Findings) -> None:
    row = survey.block.header_rows[-1].number if survey.block.header_rows else 1
    place = Place(survey.block.sheet, row, "lifter")
    findings.wrong(place, "lifter", tell("nobody is named"), tell("say whose log it is with --lifter NAME"))
