"""After an erasure nothing of the person is left in the log, in its files, or in what is brought back later."""

from pathlib import Path

import pytest
from msgspec import structs
from tests.builders import an_equipment
from tests.services.people import marked_entries
from tests.services.training import MONDAY, month, train

from steelyard.engine.body import Body
from steelyard.engine.fold import fold
from steelyard.engine.log import (
    KIND_OF,
    THE_HOUSE,
    EquipmentBody,
    FileAnswersBody,
    LifterBody,
    NamingBody,
    OverruleBody,
    SetBody,
    encode_body,
)
from steelyard.services.backing_up import back_up, content_hash, restore
from steelyard.services.erased_names import is_erased_name
from steelyard.services.erasing import Surroundings, apply_ledger, erase_lifter
from steelyard.services.gear import places
from steelyard.services.lifters import all_lifters, find_lifter, folded
from steelyard.services.person_file import export_person, take_in
from steelyard.services.refusal import Refused
from steelyard.services.roster import About, add_lifter, rename_lifter
from steelyard.services.scribe import Scribe
from steelyard.services.set_logging import log_line
from steelyard.site.place import Place
from steelyard.site.wiring import open_log, scratch_log
from steelyard.store import commands, queries
from steelyard.store.ledger import ledger
from steelyard.wording.quantity import Voice

NAME = "Zerline Quast"
AROUND = Surroundings()


def bytes_on_disk(folder: Path) -> bytes:
    """Every byte of every file of a data folder."""
    return b"".join(file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file())


def found_in(content: bytes, marks: list[str]) -> list[str]:
    """Marks that stand in some bytes, as UTF-8 or UTF-16, in either case."""
    low = content.lower()
    ways = ("utf-8", "utf-16-le", "utf-16-be")
    return [mark for mark in marks if any(mark.lower().encode(way) in low for way in ways)]


def plant(scribe: Scribe, name: str = NAME, stem: str = "Qx7") -> tuple[str, list[str]]:
    """The marked lifter, also with an entry that waits beside the log; the person, and every mark."""
    entries, marks = marked_entries(scribe, name, stem)
    scribe.write(entries)
    other = structs.replace(entries[1], body=encode_body(SetBody(on=MONDAY, exercise="squat", note=f"{stem}aside")))
    assert scribe.write([other]).outcomes == ("set-aside",)
    return entries[0].person, [*marks, f"{stem}aside", name, entries[0].person]


def erase(scribe: Scribe, name: str = NAME) -> None:
    """Erase a lifter whose name is typed right."""
    erase_lifter(name, name, scribe, AROUND)


def test_nothing_planted_is_found_in_any_file_and_others_are_as_they_were(scribe: Scribe, log_place: Place) -> None:
    train(scribe, "Ada", month(), is_vouched=False)
    other, others_marks = plant(scribe, "Berta Vogt", "Wy5")
    person, marks = plant(scribe)
    count = len(queries.entries_of(person))
    ada = find_lifter("Ada").person
    before = {p: content_hash(queries.entries_of(p)) for p in (ada, other)}
    if log_place.database is None:
        assert found_in(bytes_on_disk(log_place.folder), marks) == marks
    done = erase_lifter(NAME, f" {NAME.upper()} ", scribe, AROUND)
    assert done.is_scrubbed
    assert (done.set_aside_removed, queries.entries_of(person), queries.set_aside_of(person)) == (1, [], [])
    assert done.entries_removed == count > 2 * len(KIND_OF) - 3
    assert {x.name for x in all_lifters()} == {"Ada", "Berta Vogt"}
    assert {p: content_hash(queries.entries_of(p)) for p in (ada, other)} == before
    assert len(queries.set_aside_of(other)) == 1
    if log_place.database is None:
        assert found_in(bytes_on_disk(log_place.folder), [m for m in marks if m != person]) == []
        assert found_in(bytes_on_disk(log_place.folder), others_marks) == others_marks


def test_the_name_must_be_typed_in_full(scribe: Scribe) -> None:
    plant(scribe)
    before = list(queries.all_entries())
    for typed in ("", "Zerline", "yes", f"{NAME} of old"):
        with pytest.raises(Refused, match="nothing was erased"):
            erase_lifter(NAME, typed, scribe, AROUND)
    assert list(queries.all_entries()) == before
    assert ledger() == []


def test_the_ledger_knows_every_name_and_holds_none(scribe: Scribe) -> None:
    person, _ = plant(scribe)
    rename_lifter(NAME, "Zerline Quast-Ott", scribe)
    erase(scribe, "Zerline Quast-Ott")
    (gone,) = ledger()
    assert (gone.person, gone.on, len(gone.names)) == (person, scribe.today(), 3)
    assert len({hashed.salt for hashed in gone.names}) == 3
    for name in (NAME, f"{NAME} of old", "ZERLINE  quast-ott"):
        assert is_erased_name(folded(name))
    assert not is_erased_name("zerline")


def test_a_name_that_was_erased_comes_back_only_when_it_is_said(scribe: Scribe) -> None:
    add_lifter(NAME, About(), scribe)
    person = find_lifter(NAME).person
    log_line("squat 5 @ 100kg", NAME, MONDAY, Voice(), scribe)
    erase(scribe)
    for again in (
        lambda: log_line("squat 5 @ 100kg", NAME.lower(), MONDAY, Voice(), scribe),
        lambda: add_lifter(NAME, About(), scribe),
    ):
        with pytest.raises(Refused, match=r'was erased.*lifter add "(?i:zerline quast)" --again'):
            again()
    add_lifter(NAME, About(), scribe, is_again=True)
    assert find_lifter(NAME).person != person, "the same day, the same device, the same name: another person"
    log_line("squat 5 @ 80kg", NAME, MONDAY, Voice(), scribe)
    assert len(queries.entries_of(find_lifter(NAME).person)) == 2
    erase(scribe)
    assert len(ledger()) == 2
    add_lifter(NAME, About(), scribe, is_again=True)
    assert find_lifter(NAME).person not in {gone.person for gone in ledger()}


def test_entries_of_an_erased_person_are_refused_whole(scribe: Scribe) -> None:
    person, _ = plant(scribe)
    erase(scribe)
    late = scribe.entry(person, SetBody(on=MONDAY, exercise="squat", reps=5))
    mine = scribe.entry("00000000-0000-7000-8000-0000000000aa", LifterBody(name="Cy"))
    with pytest.raises(Refused, match="was erased"):
        scribe.write([mine, late])
    with pytest.raises(commands.PersonErased):
        commands.append([mine, late], scribe.now())
    assert list(queries.all_entries()) == []
    assert commands.append([mine, late], scribe.now(), skip_erased=True).outcomes == ("stored", "erased")


def test_numbers_of_erased_entries_are_not_given_again(scribe: Scribe) -> None:
    from steelyard.store.models import StoredEntry  # noqa: PLC0415 - what only this test may see

    train(scribe, "Ada", [], is_vouched=False)
    plant(scribe)
    latest = StoredEntry.objects.order_by("-number").values_list("number", flat=True)[0]
    erase(scribe)
    train(scribe, "Cy", [], is_vouched=False)
    assert list(StoredEntry.objects.order_by("number").values_list("number", flat=True)) == [1, latest + 1]


def test_a_backup_of_before_brings_back_everybody_else(scribe: Scribe, tmp_path: Path, log_place: Place) -> None:
    train(scribe, "Ada", month(), is_vouched=False)
    _, marks = plant(scribe)
    old = back_up(tmp_path / "old.gz", scratch_log, scribe)
    erase(scribe)
    after = list(queries.all_entries())
    restored = restore(tmp_path / "old.gz", scribe)
    assert (restored.entries_added, restored.people_erased, restored.is_same_as_backup) == (0, 1, True)
    assert restored.entries_erased == old.entries - len(after)
    assert list(queries.all_entries()) == after
    if log_place.database is None:
        name_only = [m for m in marks if not m.startswith("0")]
        assert found_in(bytes_on_disk(log_place.folder), name_only) == []


def test_a_backup_of_after_keeps_them_out_of_a_new_log_too(scribe: Scribe, tmp_path: Path) -> None:
    """In both orders: the older backup after the newer one, and before it."""
    train(scribe, "Ada", month(), is_vouched=False)
    person, marks = plant(scribe)
    back_up(tmp_path / "old.gz", scratch_log, scribe)
    erase(scribe)
    back_up(tmp_path / "new.gz", scratch_log, scribe)
    wanted = content_hash(queries.all_entries())
    for number, order in enumerate((("new.gz", "old.gz"), ("old.gz", "new.gz"))):
        place = Place(tmp_path / f"other{number}")
        open_log(place)
        for file in order:
            restored = restore(tmp_path / file, scribe)
            assert restored.is_same_as_backup
        assert content_hash(queries.all_entries()) == wanted
        assert [gone.person for gone in ledger()] == [person]
        assert is_erased_name(folded(NAME))
        assert found_in(bytes_on_disk(place.folder), [m for m in marks if m != person]) == []


def test_their_own_file_is_refused_by_id_and_by_name(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter(NAME, About(), scribe)
    export_person(NAME, tmp_path / "zerline.jsonl", None, scribe)
    erase(scribe)
    with pytest.raises(Refused, match="was erased"):
        take_in(tmp_path / "zerline.jsonl", scribe)
    with pytest.raises(Refused, match="was erased"):
        take_in(tmp_path / "zerline.jsonl", scribe, is_again=True)
    home = ledger()
    open_log(Place(tmp_path / "other"))
    elsewhere = Scribe("Coach Brandt", "00000000000000d2", scribe.now)
    add_lifter(NAME.upper(), About(), elsewhere)
    export_person(None, tmp_path / "same-name.jsonl", None, elsewhere)
    open_log(Place(tmp_path / "third"))
    apply_ledger(home, scribe.now())
    with pytest.raises(Refused, match="was erased"):
        take_in(tmp_path / "same-name.jsonl", scribe)
    assert take_in(tmp_path / "same-name.jsonl", scribe, is_again=True).entries_added == 1


def reopened_has_nothing_due() -> bool:
    """Whether the ledger says that everything was overwritten."""
    from steelyard.store.models import ErasedPerson  # noqa: PLC0415 - what only this test may see

    return list(ErasedPerson.objects.values_list("to_scrub", flat=True)) == [False]


def house(scribe: Scribe, *bodies: Body) -> list[str]:
    """Shared entries; their ids."""
    entries = [scribe.entry(THE_HOUSE, body) for body in bodies]
    scribe.write(entries)
    return [entry.id for entry in entries]


def test_what_the_house_keeps_says_the_same_without_the_name(scribe: Scribe, log_place: Place) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    add_lifter(NAME, About(place="cellar"), scribe)
    named = EquipmentBody(place="Zerline  QUAST's garage", equipment=an_equipment())
    ids = house(
        scribe,
        EquipmentBody(place="gym", equipment=an_equipment()),
        NamingBody(written="presses of zerline quast", exercise="bench-press"),
        named,
        EquipmentBody(place="cellar", equipment=an_equipment()),
    )
    scribe.write([scribe.entry(THE_HOUSE, structs.replace(named, alone="yes"), replaces=[ids[2]])])
    kept = {e.id: e for e in queries.entries_of(THE_HOUSE)}
    done = erase_lifter(NAME, NAME, scribe, AROUND)
    now = queries.entries_of(THE_HOUSE)
    assert [kept[e.id] for e in now if e.id in kept] == [kept[ids[0]], kept[ids[3]]]
    assert done.shared_rewritten == 3
    assert places()["erased's garage"].alone == "yes"
    assert set(places()) == {"gym", "cellar", "erased's garage"}
    assert [b"presses of erased" in e.body for e in now].count(True) == 1
    assert any("'cellar' stays" in sentence for sentence in done.to_do)
    if log_place.database is None:
        assert found_in(bytes_on_disk(log_place.folder), [NAME, "presses of zerline"]) == []


def test_answers_and_authors_that_name_them_go_and_the_rest_of_an_entry_stays(scribe: Scribe) -> None:
    add_lifter(NAME, About(), scribe)
    answers = {"lifter:QUAST": NAME, f"name:{NAME}": "own", "date-order": "day-first"}
    house(scribe, FileAnswersBody(layout="a|b", answers=answers))
    hers = Scribe(NAME, scribe.device, scribe.now)
    house(hers, EquipmentBody(place="gym", equipment=an_equipment()))
    assert erase_lifter(NAME, NAME, scribe, AROUND).shared_rewritten == 2
    now = queries.entries_of(THE_HOUSE)
    (kept,) = fold(now).file_answers
    assert kept == FileAnswersBody(layout="a|b", answers={"date-order": "day-first"})
    assert [e.author for e in now if e.kind == "equipment"] == ["erased"]
    assert places()["gym"].equipment == an_equipment()


def test_a_shared_entry_of_which_nothing_sensible_is_left_goes(scribe: Scribe) -> None:
    """Also one that this version cannot read."""
    add_lifter(NAME, About(), scribe)
    (entry_id,) = house(scribe, NamingBody(written="press", exercise="bench-press"))
    (known,) = [e for e in queries.entries_of(THE_HOUSE) if e.id == entry_id]
    for number, body in enumerate((f'{{"of": "{NAME}"}}'.encode(), f"not JSON: {NAME}".encode())):
        later = structs.replace(known, id=f"00000000-0000-7000-8000-00000000000{number}", kind="of-a-later-version")
        scribe.write([structs.replace(later, body=body)])
    assert erase_lifter(NAME, NAME, scribe, AROUND).shared_rewritten == 2
    assert queries.entries_of(THE_HOUSE) == [known]


def test_what_the_house_said_of_them_stays_out_after_a_restore(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter(NAME, About(), scribe)
    house(scribe, NamingBody(written=f"press of {NAME}", exercise="bench-press"))
    back_up(tmp_path / "old.gz", scratch_log, scribe)
    erase(scribe)
    after = list(queries.all_entries())
    assert restore(tmp_path / "old.gz", scribe).entries_erased == 2
    assert list(queries.all_entries()) == after


def test_their_place_goes_with_them_where_it_is_said_and_nobody_else_trains_there(scribe: Scribe) -> None:
    add_lifter(NAME, About(place="cellar"), scribe)
    add_lifter("Bo", About(place="cellar"), scribe)
    house(scribe, *(EquipmentBody(place=place, equipment=an_equipment()) for place in ("gym", "cellar")))
    with pytest.raises(Refused, match="Bo trains at 'cellar' too"):
        erase_lifter(NAME, NAME, scribe, AROUND, with_place=True)
    erase_lifter("Bo", "Bo", scribe, AROUND)
    erase_lifter(NAME, NAME, scribe, AROUND, with_place=True)
    assert set(places()) == {"gym"}
    train(scribe, "Cy", [], is_vouched=False)
    with pytest.raises(Refused, match="no place is known as theirs"):
        erase_lifter("Cy", "Cy", scribe, AROUND, with_place=True)


def test_what_others_wrote_of_them_is_theirs_and_counted(scribe: Scribe) -> None:
    ada = train(scribe, "Ada", [SetBody(on=MONDAY, exercise="squat", reps=5, note=f"with {NAME}, heavy")])
    add_lifter(NAME, About(), scribe)
    theirs = Scribe(NAME, scribe.device, scribe.now)
    why = OverruleBody(on=MONDAY, until=MONDAY, exercise="squat", limit="weekly-limit", by="B", why="x")
    theirs.write([theirs.entry(ada, why)])
    before = content_hash(queries.entries_of(ada))
    done = erase_lifter(NAME, NAME, scribe, AROUND)
    assert done.named_by_others == 2
    assert any(sentence.startswith("2 entries of other lifters") for sentence in done.to_do)
    assert content_hash(queries.entries_of(ada)) == before


def test_a_short_name_inside_another_word_is_no_trace(scribe: Scribe) -> None:
    add_lifter("Al", About(), scribe)
    ids = house(scribe, NamingBody(written="alternating press", exercise="bench-press"))
    assert erase_lifter("Al", "al", scribe, AROUND).shared_rewritten == 0
    assert [e.id for e in queries.entries_of(THE_HOUSE)] == ids


def test_backups_that_are_found_are_named_and_left(scribe: Scribe, tmp_path: Path) -> None:
    add_lifter(NAME, About(), scribe)
    file = tmp_path / "steelyard-backup-2026-11-02-180000.jsonl.gz"
    back_up(file, scratch_log, scribe)
    done = erase_lifter(NAME, NAME, scribe, Surroundings(folders=(tmp_path,), is_server=True))
    assert done.backups_found == (str(file),)
    assert file.exists()
    assert any("35 days" in sentence and str(file) in sentence for sentence in done.to_do)
    assert any("The server's own" in sentence for sentence in done.to_do)


def test_a_reader_in_the_way_delays_only_the_scrubbing(scribe: Scribe, log_place: Place) -> None:
    if log_place.database is not None:
        pytest.skip("the embedded database only")
    import sqlite3  # noqa: PLC0415

    _, marks = plant(scribe)
    texts = [m for m in marks if not m.startswith("0")]
    reader = sqlite3.connect(log_place.log_file)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM log_entry").fetchone()
    done = erase_lifter(NAME, NAME, scribe, AROUND)
    assert not done.is_scrubbed
    assert any("at the next start" in sentence for sentence in done.to_do)
    assert list(queries.all_entries()) == []
    assert found_in(bytes_on_disk(log_place.folder), texts) != []
    reader.close()
    open_log(log_place)
    assert found_in(bytes_on_disk(log_place.folder), texts) == []
    assert reopened_has_nothing_due()
