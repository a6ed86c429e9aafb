"""Agreement with the published load-repetition tables (checks S2.1-S2.6)."""

from itertools import pairwise
from math import log

import pytest

from steelyard.engine.formulas import (
    NSCA_CHART,
    NSCA_TEXTBOOK,
    NUZZO_BENCH_PRESS,
    NUZZO_GENERAL,
    NUZZO_LEG_PRESS,
)


def test_s2_1_loads_of_the_chart() -> None:
    # NSCA, Training Load Chart: the row of 200.
    loads = [200 * NSCA_CHART.percent_at(repetitions) / 100 for repetitions in range(1, 11)]
    assert loads == [200, 190, 186, 180, 174, 170, 166, 160, 154, 150]


def test_s2_2_the_two_tables_differ_at_twelve_and_say_which_they_are() -> None:
    # NSCA, Training Load Chart: 70; Essentials of Strength Training and Conditioning, 4th ed 2016: 67 (from memory).
    assert (NSCA_CHART.percent_at(12), NSCA_TEXTBOOK.percent_at(12)) == (70, 67)
    assert NSCA_CHART.name != NSCA_TEXTBOOK.name
    assert NSCA_CHART.source != NSCA_TEXTBOOK.source


def test_s2_2_the_textbook_goes_on() -> None:
    # Essentials, 4th ed 2016 (read second-hand): 11 repetitions at 70 %, 15 at 65 %; one to ten as the chart.
    assert (NSCA_TEXTBOOK.percent_at(11), NSCA_TEXTBOOK.percent_at(15)) == (70, 65)
    for repetitions in range(1, 11):
        assert NSCA_TEXTBOOK.percent_at(repetitions) == NSCA_CHART.percent_at(repetitions)


# Nuzzo et al. 2024, Sports Med 54(2):303-321, table of figure 2 (read second-hand): mean and between-person SD.
GENERAL = {90: (4.94, 1.90), 85: (7.15, 2.19), 80: (9.75, 2.51), 75: (12.37, 2.88), 70: (14.80, 3.31)}
GENERAL |= {65: (17.11, 3.80), 60: (19.53, 4.37)}


@pytest.mark.parametrize("percent", GENERAL)
def test_s2_3_the_general_table(percent: int) -> None:
    row = NUZZO_GENERAL.rows[percent]
    assert (row.mean, row.between_person_sd) == pytest.approx(GENERAL[percent], abs=0.01)
    assert NUZZO_GENERAL.mean_at(percent) == row.mean


def test_s2_5_the_leg_press_allows_more_than_the_bench_press() -> None:
    # The same paper, tables of single exercises (read second-hand).
    assert NUZZO_BENCH_PRESS.mean_at(80) == pytest.approx(8.82, abs=0.01)
    assert NUZZO_LEG_PRESS.mean_at(80) == pytest.approx(13.05, abs=0.01)
    for percent in (70, 80):
        assert NUZZO_LEG_PRESS.mean_at(percent) > NUZZO_BENCH_PRESS.mean_at(percent)


def test_s2_6_heavier_means_fewer_repetitions_and_people_closer_together() -> None:
    # The same paper: holds at every step from 60 to 90 %.
    for lighter, heavier in pairwise(sorted(NUZZO_GENERAL.rows)):
        light, heavy = NUZZO_GENERAL.rows[lighter], NUZZO_GENERAL.rows[heavier]
        assert light.between_person_sd is not None
        assert heavy.between_person_sd is not None
        assert heavy.mean < light.mean
        assert heavy.between_person_sd < light.between_person_sd
        # The paper models log SD as a straight line; the printed rows fall by 0.0273-0.0284 a point.
        a_point = log(light.between_person_sd / heavy.between_person_sd) / (heavier - lighter)
        assert a_point == pytest.approx(0.0278, abs=0.0007)
