"""The gate of screening: never asked, attested, or the row of the published table that the answers lie in."""

from collections.abc import Iterator

from ..closed import Closed
from ..gate_reasons import ScreeningClosed, ScreeningNotAsked
from ..health import Answer
from ..screening import Question, RowName, row_for
from .facts import Facts

QUESTIONS: tuple[Question, ...] = ("active", "disease", "symptoms")


def screened(facts: Facts) -> Iterator[Closed]:
    """What the answers, or their absence, close."""
    answers = {question: facts.answer(question)[0] for question in QUESTIONS}
    is_known = any(answers[q] in {"yes", "unknown"} for q in ("disease", "symptoms"))
    if None in answers.values() and not is_known:
        # Nothing that is known closes; what is not asked yet counts as asked where a coach gave their word.
        if not is_attested(facts):
            yield Closed(reason=ScreeningNotAsked(), no_rise=True)
            return
        answers = {q: a or ("yes" if q == "active" else "no") for q, a in answers.items()}
    yield from _rows(facts, {q: a or "unknown" for q, a in answers.items()})


def is_attested(facts: Facts) -> bool:
    """Whether a coach gave their word up to today."""
    return any(body.on <= facts.on for _, body in facts.log.attests)


def _rows(facts: Facts, answers: dict[Question, Answer]) -> Iterator[Closed]:
    """The row of the answers, as far as no clearance has opened it."""
    unsure = tuple(q for q in QUESTIONS if answers[q] == "unknown")
    row = row_for(answers["active"], answers["disease"], answers["symptoms"]).name
    if row in {"stop", "symptoms-first"}:
        cleared = facts.clearances("symptoms", since=facts.answer("symptoms")[1], months=facts.policy.clearance_months)
        if not cleared:
            yield _closed(facts, row, unsure)
            return
        if not cleared[-1].is_for_vigorous:
            yield _closed(facts, "moderate-only", unsure, is_cleared=True)
        row = row_for(answers["active"], answers["disease"], "no").name
    cleared = facts.clearances("disease", months=facts.policy.clearance_months)
    is_for_vigorous = any(c.is_for_vigorous for c in cleared)
    if row == "disease-first" and cleared:
        row = "light-start" if is_for_vigorous else "moderate-only"
    if row == "moderate-only" and is_for_vigorous:
        return
    if row == "light-start" and facts.training_weeks >= facts.policy.entry_training_weeks:
        return
    if row != "go-on":
        yield _closed(facts, row, unsure, is_cleared=bool(cleared))


def _closed(facts: Facts, row: RowName, unsure: tuple[Question, ...], *, is_cleared: bool = False) -> Closed:
    """One row as a closed gate; what was cleared, but not for vigorous effort, may build within moderate effort."""
    if row == "go-on":
        raise ValueError("this row closes nothing")
    stops = row in {"stop", "disease-first", "symptoms-first"}
    floor = 0 if stops else facts.policy.moderate_rir
    return Closed(
        reason=ScreeningClosed(row=row, unsure=unsure, is_cleared=is_cleared, least_rir=floor),
        stops=stops,
        no_rise=row == "moderate-only" and not is_cleared,
        least_rir=floor,
        is_light_start=True,
    )
