"""The invented club: what its lifters do could be done, and its stories are in the logs."""

import random
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from msgspec import structs

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import match_name
from steelyard.engine.equipment import loads_for
from steelyard.engine.formulas import EQUATIONS, estimate_one_rm
from steelyard.exchange.opening import open_file
from steelyard.exchange.reading import read_grids
from steelyard.services.demo_club import DEMO_DAY, SEED, DemoFile, DemoMember, club_files, club_members

FILES = club_files(random.Random(SEED))
BY_LIFTER = {file.lifter: file for file in FILES}


def test_the_same_seed_gives_the_same_bytes_and_another_gives_others() -> None:
    assert club_files(random.Random(SEED)) == FILES
    assert all(a.content != b.content for a, b in zip(FILES, club_files(random.Random(SEED + 1)), strict=True))


def test_eight_members_keep_eight_files() -> None:
    assert [file.lifter for file in FILES] == [member.name for member in club_members()]
    assert len({file.name for file in FILES}) == 8
    assert 4000 <= sum(len(file.truth) for file in FILES) <= 6000


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_half_a_year_to_a_year_that_ends_in_the_days_before_the_demo(file: DemoFile) -> None:
    days = [done.on for done in file.truth]
    assert days == sorted(days)
    assert timedelta(days=178) <= days[-1] - days[0] <= timedelta(days=366)
    assert timedelta(days=1) <= DEMO_DAY - days[-1] <= timedelta(days=5)


@pytest.mark.parametrize("member", club_members(), ids=lambda member: member.name)
def test_every_load_can_be_made_where_it_was_lifted(member: DemoMember) -> None:
    for done in BY_LIFTER[member.name].truth:
        if done.load is not None and done.load.unit != "mark":
            assert done.load.unit == member.about.unit
            made = loads_for(catalogue()[done.exercise], member.place.equipment)
            assert done.load.magnitude in made.magnitudes, done


def test_the_seed_of_the_demo_tells_its_stories() -> None:
    def best(lifter: str, code: str, earliest: int, until: int) -> float:
        """The best estimated 1RM of a lift from so many weeks before the demo until so many."""
        start, end = (DEMO_DAY - timedelta(days=7 * weeks) for weeks in (earliest, until))
        found = [s for s in BY_LIFTER[lifter].truth if s.exercise == code and start <= s.on < end and s.reps]
        # What was left in reserve is not counted here.
        loads = [(float(s.load.magnitude), s.reps) for s in found if s.load is not None and s.reps]
        return max(estimate_one_rm(EQUATIONS["epley"], load, reps) for load, reps in loads)

    spring, summer, now = (best("Ines Falk", "bench-press", *weeks) for weeks in ((25, 19), (19, 13), (6, 0)))
    assert abs(summer / spring - 1) < 0.03, "the bench press stands still"
    assert now > summer * 1.05, "and comes back"
    days = sorted({done.on for done in BY_LIFTER["Tomas Veldkamp"].truth})
    assert max(b - a for a, b in pairwise(days)) >= timedelta(days=35)
    knee = [done for done in BY_LIFTER["Odile Marchetti"].truth if done.pain is not None]
    assert {done.pain.words for done in knee if done.pain} == {"right knee"}
    assert any(done.missed == "pain" for done in knee)
    assert knee[-1].on < DEMO_DAY - timedelta(days=42)
    hasty = BY_LIFTER["Warren Teague"].truth
    assert sum(done.missed == "strength" for done in hasty) >= 2
    assert best("Lene Abara", "seated-row", 4, 0) > 1.3 * best("Lene Abara", "seated-row", 26, 25)
    assert {catalogue()[done.exercise].implement for done in BY_LIFTER["Ewan Tresk"].truth} == {"dumbbell", "body-mass"}


def test_the_files_have_the_habits_that_they_are_there_for() -> None:
    german = BY_LIFTER["Hartwig Seelmann"].content
    with pytest.raises(UnicodeDecodeError):
        german.decode()
    assert "Bankdrücken;;1;47,5;" in german.decode("cp1252")
    assert BY_LIFTER["Tomas Veldkamp"].content.decode().splitlines()[5].startswith("Date,Exercise,Load,Set 1")
    assert BY_LIFTER["Warren Teague"].content.startswith(b"\xef\xbb\xbfDate,Exercise")
    assert "pull-ups BW+5 x 6, BW+5 x " in BY_LIFTER["Ewan Tresk"].content.decode()
    assert "3x8@42.5kg" in BY_LIFTER["Ines Falk"].content.decode()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_each_file_is_read_exactly_as_it_was_done(file: DemoFile, tmp_path: Path) -> None:
    path = tmp_path / file.name
    path.write_bytes(file.content)
    reading = read_grids(
        open_file(path),
        lifter=file.lifter,
        answers=file.answers,
        is_exercise=lambda text: match_name(text, catalogue()).sure,
        today=date(2026, 11, 2),
    )
    assert (reading.problems, reading.questions) == ((), ())
    assert [found.body for found in reading.sets] == [structs.replace(done, exercise="") for done in file.truth]
    assert tuple((mass.on, mass.body_mass) for mass in reading.body_masses) == file.body_masses
    assert {found.lifter for found in reading.sets} <= {file.lifter, ""}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_name_is_known_slips_included(file: DemoFile) -> None:
    for written, code in {(done.as_written, done.exercise) for done in file.truth}:
        match = match_name(written, catalogue())
        assert (match.sure, match.exercise) == (True, code), written
