"""Columns of a fixed width: where they begin, and what is no gap between two of them."""

from steelyard.exchange.fixed_width import find_columns


def cells(text: str) -> list[list[str]]:
    """The cells of each line of a text that stands in columns."""
    lines = text.splitlines()
    columns = find_columns(lines)
    assert columns is not None
    return [columns.cells(line) for line in lines]


def test_a_count_and_its_unit_are_one_cell() -> None:
    assert cells(
        "date        lift   load  reps  rir\n"
        "2026-03-02  squat  65kg  11       \n"
        "            plank  bw    30 s  2\n"
        "            plank  bw    35 s  3\n"
        "2026-03-04  squat  70kg  10    1\n"
    ) == [
        ["date", "lift", "load", "reps", "rir"],
        ["2026-03-02", "squat", "65kg", "11", ""],
        ["", "plank", "bw", "30 s", "2"],
        ["", "plank", "bw", "35 s", "3"],
        ["2026-03-04", "squat", "70kg", "10", "1"],
    ]


def test_a_header_of_two_words_over_short_numbers_is_one_cell() -> None:
    assert cells("lift   kg  # sets  reps\nsquat  70  1       8\nrow    50  2       7\npress  40  3       6\n") == [
        ["lift", "kg", "# sets", "reps"],
        ["squat", "70", "1", "8"],
        ["row", "50", "2", "7"],
        ["press", "40", "3", "6"],
    ]


def test_a_cell_that_is_far_longer_than_the_others_is_not_torn() -> None:
    short = "".join(f"2026-03-{day:02d}  squat  2x5 @ 110                        128\n" for day in range(1, 20))
    table = cells("day         lift   done                             e1rm\n" + short +
                  "2026-03-20  squat  2x5 @ 110, 1x4 @ 110, 1x5 @ 110  128\n")  # fmt: skip
    assert table[0] == ["day", "lift", "done", "e1rm"]
    assert table[-1] == ["2026-03-20", "squat", "2x5 @ 110, 1x4 @ 110, 1x5 @ 110", "128"]


def test_a_header_longer_than_its_column_does_not_run_across_a_gap() -> None:
    assert cells(
        "lift   weight (lb)  set 1  set 2\n"
        "squat  100 lb       5      5\n"
        "row    bw           8\n"
        "press  95 lb        6      6\n"
    ) == [
        ["lift", "weight (lb)", "set 1", "set 2"],
        ["squat", "100 lb", "5", "5"],
        ["row", "bw", "8", ""],
        ["press", "95 lb", "6", "6"],
    ]


def test_one_blank_between_a_date_and_a_number_parts_them() -> None:
    assert cells("date        kg  reps\n2026-03-02 100  5\n2026-03-03  90  5\n2026-03-04  85  6\n") == [
        ["date", "kg", "reps"],
        ["2026-03-02", "100", "5"],
        ["2026-03-03", "90", "5"],
        ["2026-03-04", "85", "6"],
    ]


def test_a_date_and_its_time_are_one_cell() -> None:
    rows = [f"2026-03-{day:02d} 10:30  squat  100" for day in range(1, 6)]
    assert cells("\n".join(["date              lift   kg", *rows]))[:2] == [
        ["date", "lift", "kg"],
        ["2026-03-01 10:30", "squat", "100"],
    ]


def test_a_blank_within_the_few_longest_cells_is_no_gap() -> None:
    assert cells(
        "day         done                           e1rm\n"
        "2026-03-02  2x5 @ 110, 1x4 @ 110           128\n"
        "2026-03-04  2x5 @ 110, 1x4 @ 110, 1x5 @ 9  128\n"
        "2026-03-06  2x5 @ 110, 1x4 @ 110, 1x5 @ 8  128\n"
        "2026-03-09  2x5 @ 110, 1x4 @ 110, 1x5 @ 7  128\n"
        "2026-03-10  2x5 @ 110                      128\n"
    )[2] == ["2026-03-04", "2x5 @ 110, 1x4 @ 110, 1x5 @ 9", "128"]


def test_a_blank_at_the_same_place_of_every_cell_is_no_gap() -> None:
    assert cells(
        "day         Lying leg raise         Squat\n"
        "2026-03-02  2 x 9 x BW              2 x 8 x 215lb\n"
        "2026-03-04  1 x 9 x BW, 1 x 8 x BW\n"
        "2026-03-06  1 x 9 x BW, 1 x 7 x BW  2 x 8 x 220lb\n"
        "2026-03-09  2 x 9 x BW\n"
    )[:2] == [
        ["day", "Lying leg raise", "Squat"],
        ["2026-03-02", "2 x 9 x BW", "2 x 8 x 215lb"],
    ]


def test_a_number_before_each_name_is_a_column_of_its_own_without_any_header() -> None:
    assert cells("2026-03-02 squat        100  5\n2026-03-03 bench press   90  5\n2026-03-04 row           85  6\n")[
        :2
    ] == [
        ["2026-03-02", "squat", "100", "5"],
        ["2026-03-03", "bench press", "90", "5"],
    ]


def test_a_short_table_below_many_titles_is_found() -> None:
    titles = "".join(f"a line of words number {n}\n" for n in range(20))
    table = "day         Squat   Row     Dips\n2026-03-02  3x5@60          2x8\n2026-03-04  3x5@62  3x8@40\n"
    assert cells(titles + table)[-3:] == [
        ["day", "Squat", "Row", "Dips"],
        ["2026-03-02", "3x5@60", "", "2x8"],
        ["2026-03-04", "3x5@62", "3x8@40", ""],
    ]
