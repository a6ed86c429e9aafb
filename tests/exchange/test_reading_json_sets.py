"""JSON with lists in it: sets within a session, counts within an exercise."""

from pathlib import Path

from tests.exchange.grids import brief, counts, keys, read_text

from steelyard.exchange.found import Reading


def read(folder: Path, *lines: str, answers: dict[str, str] | None = None) -> Reading:
    """JSON lines."""
    return read_text(folder, "\n".join(lines), answers=answers, unit="kg", name="log.jsonl")


def test_a_list_of_counts_is_a_set_each(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        '{"date": "2026-11-02", "exercise": "squat", "kg": 60, "reps": [5, 5, 3], "rpe": [7, 8, 9.5], "note": "slow"}',
        '{"date": "2026-11-02", "exercise": "plank", "seconds": [60, 45]}',
    )
    assert counts(reading) == ["5 x 60kg", "5 x 60kg", "3 x 60kg", "60s", "45s"]
    assert [str(s.body.effort.value) for s in reading.sets if s.body.effort] == ["7", "8", "9.5"]
    assert [s.body.note for s in reading.sets] == ["", "", "slow", "", ""]


def test_lists_of_two_lengths_are_a_problem(tmp_path: Path) -> None:
    reading = read(tmp_path, '{"date": "2026-11-02", "exercise": "squat", "kg": [60, 65], "reps": [5, 5, 3]}')
    assert reading.sets == ()
    assert {p.row for p in reading.problems} == {1}


def test_the_sets_of_a_session_have_its_day(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        '{"date": "2026-11-02", "note": "tired", "sets": [{"exercise": "squat", "kg": 60, "reps": 5},'
        ' {"exercise": "bench press", "kg": 40, "reps": 8, "note": "easy"}]}',
        '{"date": "2026-11-04", "sets": [{"exercise": "squat", "kg": 62.5, "reps": 5}]}',
        '{"date": "2026-11-05", "sets": []}',
    )
    assert brief(reading) == [
        ("Ada", "2026-11-02", "squat", "5 x 60kg"),
        ("Ada", "2026-11-02", "bench press", "8 x 40kg"),
        ("Ada", "2026-11-04", "squat", "5 x 62.5kg"),
    ]
    assert [s.body.note for s in reading.sets] == ["", "easy; tired", ""]
    assert [s.place.row for s in reading.sets] == [1, 1, 2]


def test_words_that_look_like_a_list_stay_words(tmp_path: Path) -> None:
    line = '{"date": "2026-11-02", "exercise": "squat", "kg": 60, "reps": 5, "note": "%s", "gear": "%s"}'
    for words in ("[1, 2]", "[belt]"):
        reading = read(tmp_path, line % (words, words), answers={"column:gear": "note"})
        assert counts(reading) == ["5 x 60kg"]
        assert words in reading.sets[0].body.note


def test_two_names_for_the_same_are_one_column_where_never_both_are_there(tmp_path: Path) -> None:
    lines = (
        '{"when": "2026-11-02", "what": "squat", "kg": 60, "reps": 5}',
        '{"date": "2026-11-04", "exercise": "squat", "kg": 60, "n": 5}',
    )
    assert keys(read(tmp_path, *lines)) == ["column:n"]
    reading = read(tmp_path, *lines, answers={"column:n": "reps"})
    assert [(day, count) for _, day, _, count in brief(reading)] == [
        ("2026-11-02", "5 x 60kg"),
        ("2026-11-04", "5 x 60kg"),
    ]
    both = '{"date": "2026-11-04", "what": "squat", "exercise": "dip", "kg": 60, "reps": 5}'
    assert read(tmp_path, *lines, both, answers={"column:n": "reps"}).problems


def test_a_session_that_is_planned_is_no_session(tmp_path: Path) -> None:
    reading = read(
        tmp_path,
        '{"date": "2026-11-02", "planned": false, "sets": [{"exercise": "squat", "kg": 60, "reps": 5}]}',
        '{"date": "2026-11-04", "planned": true, "sets": [{"exercise": "squat", "kg": 60, "reps": 5}]}',
    )
    assert counts(reading) == ["5 x 60kg"]
    assert [(p.place.row, p.why) for p in reading.passed_over if p.place.row == 2] == [(2, "this row is a plan")]
