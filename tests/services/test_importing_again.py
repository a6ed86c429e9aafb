"""What a file that is not simply new does: corrected, doubtful, half good, with names that must be asked about."""

from collections.abc import Callable
from pathlib import Path

import pytest

from steelyard.engine.log import THE_HOUSE
from steelyard.services.amending import amend
from steelyard.services.importing import Imported, ImportOptions, import_file
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.next_session import Asked, next_session
from steelyard.services.own_exercises import catalogue_of
from steelyard.services.scribe import Scribe
from steelyard.store import queries
from steelyard.wording.quantity import Voice

HEADER = "date,lifter,exercise,kg,reps"
WEEKS = tuple(
    f"2026-{month:02d}-{day:02d},Ada,Squat,{load},5"
    for month, day, load in ((9, 1, 90), (9, 4, 90), (9, 8, 92.5), (9, 11, 92.5), (9, 15, 95))
    for _ in range(2)
)
Importer = Callable[..., Imported]


@pytest.fixture
def bring_in(tmp_path: Path, scribe: Scribe) -> Importer:
    """Import a file of these rows."""

    def run(*rows: str, header: str = HEADER, name: str = "sets.csv", keep_good: bool = False,
            dry: bool = False, attest: str = "", **answers: str) -> Imported:  # fmt: skip
        file = tmp_path / name
        file.write_text("\n".join((header, *rows)) + "\n", encoding="utf-8")
        said = {key.replace("__", ":").replace("_", "-"): value for key, value in answers.items()}
        options = ImportOptions(
            answers=said,
            keep_good=keep_good,
            is_dry_run=dry,
            attested_by=attest,
            mend_to=tmp_path / "rest.to-mend.csv",
        )
        return import_file(file, options, Voice(), scribe)

    return run


def loads(name: str = "Ada") -> list[str]:
    """Day and load of each set as it stands."""
    return [f"{s.body.on:%m-%d} {s.body.load.value if s.body.load else ''}" for s in log_of(find_lifter(name)).sets]


def test_a_corrected_load_amends_the_set_it_brought(bring_in: Importer) -> None:
    bring_in(*WEEKS)
    ids = {s.id for s in log_of(find_lifter("Ada")).sets}
    imported = bring_in(*WEEKS[:-1], WEEKS[-1].replace(",95,", ",97.5,"))
    assert (imported.entries_added, imported.entries_known, imported.entries_amended) == (0, 9, 1)
    assert imported.amended == ("Ada: 2026-09-15 Squat 95 kg × 5 -> 2026-09-15 Squat 97.5 kg × 5",)
    assert loads()[-2:] == ["09-15 95", "09-15 97.5"]
    assert len({s.id for s in log_of(find_lifter("Ada")).sets} - ids) == 1
    again = bring_in(*WEEKS[:-1], WEEKS[-1].replace(",95,", ",97.5,"))
    assert (again.entries_added, again.entries_known, again.entries_amended) == (0, 10, 0)


def test_a_corrected_day_moves_the_set(bring_in: Importer) -> None:
    bring_in(*WEEKS)
    moved = [row.replace("09-11", "09-12") for row in WEEKS]
    imported = bring_in(*moved)
    assert (imported.entries_added, imported.entries_amended) == (0, 2)
    assert "09-11" not in " ".join(loads())


def test_a_corrected_file_under_another_name_is_known_by_its_rows(bring_in: Importer) -> None:
    bring_in(*WEEKS)
    imported = bring_in(*WEEKS[:-1], WEEKS[-1].replace(",95,", ",97.5,"), name="sets (2).csv")
    assert (imported.entries_added, imported.entries_amended) == (0, 1)


def test_another_file_of_the_same_days_amends_nothing(bring_in: Importer) -> None:
    bring_in(*WEEKS)
    bench = [row.replace("Squat", "Bench press") for row in WEEKS]
    imported = bring_in(*bench, name="bench.csv")
    assert (imported.entries_added, imported.entries_amended, imported.questions) == (10, 0, ())
    assert len(loads()) == 20


@pytest.mark.parametrize(("answer", "left"), [("keep", 10), ("withdraw", 9)])
def test_what_has_vanished_is_asked_about(bring_in: Importer, answer: str, left: int) -> None:
    bring_in(*WEEKS)
    without = [*WEEKS[:3], *WEEKS[4:]]
    asked = bring_in(*without)
    assert [q.key for q in asked.questions] == ["vanished"]
    assert asked.questions[0].examples == ("Ada: 2026-09-04 Squat 90 kg × 5",)
    assert len(loads()) == 10
    done = bring_in(*without, vanished=answer)
    assert (done.questions, done.entries_withdrawn) == ((), 10 - left)
    assert len(loads()) == left


def test_a_file_that_goes_on_where_the_last_ended_has_lost_nothing(bring_in: Importer) -> None:
    bring_in(*WEEKS[:6])
    imported = bring_in(*WEEKS[6:])
    assert (imported.entries_added, imported.questions) == (4, ())


@pytest.mark.parametrize(("answer", "load"), [("log", "100"), ("file", "97.5")])
def test_where_hand_and_file_disagree_a_person_decides(
    bring_in: Importer, scribe: Scribe, answer: str, load: str
) -> None:
    bring_in(*WEEKS)
    amend(log_of(find_lifter("Ada")).sets[-1].id, "squat 5 @ 100kg", "", "kg", scribe)
    corrected = [*WEEKS[:-1], WEEKS[-1].replace(",95,", ",97.5,")]
    assert [q.key for q in bring_in(*corrected).questions] == ["amended-by-hand"]
    bring_in(*corrected, amended_by_hand=answer)
    assert loads()[-1] == f"09-15 {load}"
    assert len(loads()) == 10


def test_a_tenfold_load_is_a_question_with_three_ways_out(bring_in: Importer) -> None:
    odd = "2026-09-18,Ada,Squat,950,5"
    asked = bring_in(*WEEKS, odd)
    (question,) = asked.questions
    assert (question.key, [c.answer for c in question.choices]) == ("tenfold", ["keep", "as-meant", "leave-out"])
    assert asked.entries_held_back == 1
    assert list(queries.all_entries()) == []
    meant = bring_in(*WEEKS, odd, tenfold="as-meant")
    assert (meant.entries_added, loads()[-1]) == (11, "09-18 95")


def test_days_to_come_are_questions(bring_in: Importer) -> None:
    imported = bring_in(*WEEKS, "2099-01-01,Ada,Squat,95,5", future_day="leave-out")
    assert (imported.entries_added, imported.entries_left_out) == (10, 1)


def test_a_dry_run_writes_nothing_and_says_what_it_would(bring_in: Importer) -> None:
    shown = bring_in(*WEEKS, dry=True)
    assert (shown.is_dry_run, shown.entries_added, shown.lifters) == (True, 10, ("Ada",))
    assert {c.column for c in shown.columns} == {"date", "lifter", "exercise", "kg", "reps"}
    assert list(queries.all_entries()) == []


def test_good_rows_are_kept_and_the_rest_comes_back_mended(bring_in: Importer, tmp_path: Path) -> None:
    bad = "2026-09-18,Ada,Squat,heavy,5"
    stopped = bring_in(*WEEKS, bad)
    assert (stopped.entries_added, stopped.is_stopped, list(queries.all_entries())) == (0, True, [])
    kept = bring_in(*WEEKS, bad, keep_good=True)
    assert (kept.entries_added, kept.is_stopped) == (10, False)
    (rest,) = kept.files_to_mend
    text = Path(rest).read_text(encoding="utf-8-sig")
    assert text.splitlines()[0].startswith(HEADER)
    assert "heavy" in text
    assert "90" not in text
    mended = text.replace("heavy", "95")
    header, *rows = mended.splitlines()
    again = bring_in(*rows, header=header, name="mended.csv")
    assert (again.problems, again.questions, again.entries_added) == ((), (), 1)
    assert loads()[-1] == "09-18 95"


def test_an_unknown_name_becomes_the_lifters_own_exercise(bring_in: Importer, scribe: Scribe) -> None:
    rows = [row.replace("Squat", "Wobble board zigzag squat") for row in WEEKS]
    asked = bring_in(*rows)
    if asked.questions:  # near enough to something to be asked about
        assert [q.key for q in asked.questions] == ["name:Wobble board zigzag squat"]
        bring_in(*rows, names="own")
    log = log_of(find_lifter("Ada"))
    (own,) = log.own_exercises
    assert own.name == "Wobble board zigzag squat"
    assert {s.body.exercise for s in log.sets} == {own.code}
    assert catalogue_of(log)[own.code].pattern == catalogue_of(log)[own.parent].pattern
    sheet = next_session(Asked(name="Ada"), Voice(), scribe)
    assert [line.exercise for line in sheet.lines] == ["Wobble board zigzag squat"]


def test_a_name_once_said_is_remembered_for_the_club(bring_in: Importer, scribe: Scribe, tmp_path: Path) -> None:
    rows = [row.replace("Squat", "Row") for row in WEEKS]
    (question,) = bring_in(*rows).questions
    assert question.key == "name:Row"
    file = tmp_path / "sets.csv"
    options = ImportOptions(answers={"name:Row": "Barbell row"})
    assert import_file(file, options, Voice(), scribe).entries_added == 10
    other = [row.replace("Ada", "Bo") for row in rows]
    imported = bring_in(*other, name="bo.csv")
    assert (imported.questions, imported.entries_added) == ((), 10)
    assert [n.how for n in imported.names] == ["remembered"]
    assert {s.body.exercise for s in log_of(find_lifter("Bo")).sets} == {"barbell-row"}


def test_numbered_machines_are_histories_of_their_own(bring_in: Importer) -> None:
    rows = [row.replace("Squat", f"Leg press #{n % 2 + 1}") for n, row in enumerate(WEEKS)]
    bring_in(*rows)
    found = {(s.body.exercise, s.body.implement) for s in log_of(find_lifter("Ada")).sets}
    assert len(found) == 2
    assert len({exercise for exercise, _ in found}) == 1


def test_an_order_of_dates_once_said_is_remembered_for_the_layout(bring_in: Importer) -> None:
    rows = ["03/04/2025,Ada,Squat,90,5", "05/04/2025,Ada,Squat,90,5", "07/04/2025,Ada,Squat,92.5,5"]
    asked = bring_in(*rows)
    (question,) = asked.questions
    assert question.key.startswith("date-order")
    day_first = next(c.answer for c in question.choices if "day" in c.answer)
    bring_in(*rows, **{question.key.replace(":", "__").replace("-", "_"): day_first})
    assert loads()[0].startswith("04-03")
    more = ["08/05/2025,Ada,Squat,95,5"]
    imported = bring_in(*more, name="may.csv")
    assert (imported.questions, imported.remembered) == ((), {question.key: day_first})
    assert loads()[-1].startswith("05-08")


def test_a_coachs_word_is_recorded_once(bring_in: Importer) -> None:
    assert bring_in(*WEEKS, attest="Coach Berg").attested == ("Ada",)
    assert bring_in(*WEEKS, attest="Coach Berg").attested == ()
    assert len(log_of(find_lifter("Ada")).attests) == 1


def test_a_near_name_of_a_lifter_is_asked_about(bring_in: Importer) -> None:
    bring_in(*(row.replace("Ada", "Ada Lind") for row in WEEKS))
    (question,) = bring_in(*WEEKS, name="other.csv").questions
    assert (question.key, [c.answer for c in question.choices]) == ("lifter:Ada", ["Ada Lind", "new"])


def test_sets_without_a_load_are_asked_about(bring_in: Importer) -> None:
    rows = [*WEEKS, "2026-09-18,Ada,Squat,,5"]
    (question,) = bring_in(*rows).questions
    assert question.key == "no-load:Squat"
    assert bring_in(*rows, no_load="leave-out").entries_left_out == 1


def test_nothing_of_the_house_names_a_lifter(bring_in: Importer) -> None:
    bring_in(*[row.replace("Squat", "Row") for row in WEEKS], no_such="x")
    assert all(b"Ada" not in entry.body for entry in queries.entries_of(THE_HOUSE))
