"""A person's file holds all of them and nobody else, and makes the same log elsewhere."""

import csv
import json
import random
import stat
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.services.people import marked_entries
from tests.services.test_erasing import found_in, plant
from tests.services.training import month, train
from tests.strategies import bodies

from steelyard.engine.body import Body
from steelyard.engine.log import THE_HOUSE, LifterBody
from steelyard.exchange.person_file import PersonFile, write_person_file
from steelyard.services.backing_up import content_hash
from steelyard.services.lifters import all_lifters, find_lifter
from steelyard.services.person_file import export_person, is_person_file, read_person_file, take_in
from steelyard.services.refusal import Refused
from steelyard.services.roster import About, add_lifter
from steelyard.services.scribe import Scribe
from steelyard.site.place import Place
from steelyard.site.wiring import open_log
from steelyard.store import queries

NAME = "Zerline Quast"


def test_every_mark_of_the_person_is_in_it_and_none_of_others(scribe: Scribe, tmp_path: Path) -> None:
    _, others_marks = plant(scribe, "Berta Vogt", "Wy5")
    person, marks = plant(scribe)
    made = export_person(NAME, tmp_path / "z.jsonl", tmp_path / "z.csv", scribe)
    content = (tmp_path / "z.jsonl").read_bytes()
    assert found_in(content, marks) == marks
    assert found_in(content, others_marks) == []
    entries = queries.entries_of(person)
    assert (made.entries, made.set_aside, made.hash) == (len(entries), 1, content_hash(entries))
    assert stat.S_IMODE((tmp_path / "z.jsonl").stat().st_mode) == 0o600
    for line in content.decode().splitlines():
        assert isinstance(json.loads(line), dict)


def test_taken_in_elsewhere_it_is_the_same_log(scribe: Scribe, tmp_path: Path) -> None:
    person, _ = plant(scribe)
    entries, aside = queries.entries_of(person), queries.set_aside_of(person)
    made = export_person(NAME, tmp_path / "z.jsonl", None, scribe)
    open_log(Place(tmp_path / "other"))
    taken = take_in(tmp_path / "z.jsonl", scribe)
    assert (taken.entries_added, taken.entries_known, taken.set_aside) == (len(entries), 0, 1)
    assert taken.is_same_as_file
    assert taken.hash == made.hash == content_hash(queries.all_entries())
    assert (queries.entries_of(person), queries.set_aside_of(person)) == (entries, aside)
    again = take_in(tmp_path / "z.jsonl", scribe)
    assert (again.entries_added, again.entries_known, again.set_aside) == (0, len(entries), 1)
    assert (queries.entries_of(person), queries.set_aside_of(person)) == (entries, aside)


@given(st.lists(bodies(), min_size=1, max_size=4))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], max_examples=40)
def test_bodies_of_every_kind_come_back_byte_for_byte(scribe: Scribe, tmp_path: Path, generated: list[Body]) -> None:
    file = tmp_path / "p.jsonl"
    file.unlink(missing_ok=True)
    made = [scribe.entry("p", body) for body in (*generated, LifterBody(name="Ada"))]
    content = PersonFile(person="p", name="Ada", entries=tuple(made[1:]), set_aside=tuple(made[:1]))
    write_person_file(file, content, "2026-11-02")
    assert read_person_file(file) == content


def test_the_csv_is_that_of_export(scribe: Scribe, tmp_path: Path) -> None:
    train(scribe, "Ada", month())
    made = export_person("Ada", tmp_path / "a.jsonl", tmp_path / "a.csv", scribe)
    with (tmp_path / "a.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert made.sets == len(rows) == len(month())
    assert {(row["lifter"], row["exercise"], row["kg"]) for row in rows} == {("Ada", "Bench press", "60")}


def test_damage_is_refused_and_changes_nothing(scribe: Scribe, tmp_path: Path) -> None:
    train(scribe, "Ada", month())
    export_person("Ada", tmp_path / "a.jsonl", None, scribe)
    whole, rng = (tmp_path / "a.jsonl").read_bytes(), random.Random(7)
    open_log(Place(tmp_path / "other"))
    for number in range(200):
        place = rng.randrange(len(whole) - 1)
        bad = whole[:place] if number % 2 else whole[:place] + bytes([whole[place] ^ 4]) + whole[place + 1 :]
        (tmp_path / "bad.jsonl").write_bytes(bad)
        with pytest.raises(Refused, match=r"bad\.jsonl"):
            take_in(tmp_path / "bad.jsonl", scribe)
    assert queries.count_entries() == 0


def test_what_is_no_person_file_is_told_apart(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter("Ada", About(), scribe)
    export_person("Ada", tmp_path / "a.jsonl", None, scribe)
    assert is_person_file(tmp_path / "a.jsonl")
    other = tmp_path / "other"
    for content in (
        b"",
        b"date,exercise\n",
        b"{}\n",
        b'{"steelyard_backup":1,"made":""}\n',
        b"\xff\xfe\x00",
        b"[" * 9000,
    ):
        other.write_bytes(content)
        assert not is_person_file(other)
        with pytest.raises(Refused, match=r"is damaged"):
            read_person_file(other)
    assert not is_person_file(tmp_path / "nowhere")
    assert not is_person_file(tmp_path)


def test_a_file_that_would_bring_more_than_one_person_is_refused(scribe: Scribe, tmp_path: Path) -> None:
    theirs, _ = marked_entries(scribe, NAME, "Qx7")
    for number, content in enumerate(
        (
            PersonFile(person=theirs[0].person, name=NAME, entries=(*theirs, scribe.entry("x", LifterBody(name="B")))),
            PersonFile(person=THE_HOUSE, name=NAME, entries=(scribe.entry(THE_HOUSE, LifterBody(name="B")),)),
            PersonFile(person="x", name=NAME, entries=()),
        )
    ):
        write_person_file(tmp_path / f"{number}.jsonl", content, "")
        with pytest.raises(Refused, match=r"more than one person|does not say whose"):
            take_in(tmp_path / f"{number}.jsonl", scribe)
    assert queries.count_entries() == 0


def test_a_later_format_is_refused_in_words(tmp_path: Path) -> None:
    file = tmp_path / "f.jsonl"
    file.write_text('{"made":"","name":"A","person":"x","steelyard_person":2}\n{}\n')
    assert is_person_file(file)
    with pytest.raises(Refused, match="format that this version does not know"):
        read_person_file(file)


def test_another_lifter_of_the_same_name_must_be_told_apart_first(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter("Ada", About(), scribe)
    export_person("Ada", tmp_path / "a.jsonl", None, scribe)
    open_log(Place(tmp_path / "other"))
    train(scribe, "ADA", [])
    with pytest.raises(Refused, match="another lifter called 'ADA'"):
        take_in(tmp_path / "a.jsonl", scribe)
    assert [x.name for x in all_lifters()] == ["ADA"]
    assert queries.entries_of(find_lifter("Ada").person) == list(queries.all_entries())


def test_files_that_are_there_are_not_written_over(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter("Ada", About(), scribe)
    (tmp_path / "a").write_text("mine")
    with pytest.raises(Refused, match="exists already"):
        export_person("Ada", tmp_path / "a", None, scribe)
    with pytest.raises(Refused, match="exists already"):
        export_person("Ada", tmp_path / "b", tmp_path / "a", scribe)
    with pytest.raises(Refused, match="cannot write"):
        export_person("Ada", tmp_path / "nowhere" / "b", None, scribe)
    assert (tmp_path / "a").read_text() == "mine"
