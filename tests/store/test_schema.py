"""The tables: brought up once, never down, and no further than this version knows."""

from datetime import UTC, datetime

import pytest
from django.db import connections
from msgspec import structs
from tests.builders import a_set, entries
from tests.command_line import Cli

from steelyard.site.place import Place, PlaceRefused
from steelyard.site.wiring import open_log
from steelyard.store import commands, queries
from steelyard.store.schema import NewerLog, prepare

RECEIVED = datetime(2026, 11, 2, 18, 0, tzinfo=UTC)


def tables() -> list[str]:
    """Names of all tables of the open log."""
    return sorted(connections["default"].introspection.table_names())


def later_change(then: str) -> None:
    """Note in the open log that a later version has changed its tables, or take that note away."""
    with connections["default"].cursor() as cursor:
        if then == "add":
            cursor.execute(
                "INSERT INTO django_migrations (app, name, applied) "
                "VALUES ('store', '9999_of_a_later_version', '2027-01-01 00:00:00+00:00')"
            )
        else:
            cursor.execute("DELETE FROM django_migrations WHERE name LIKE '9999%'")


@pytest.mark.usefixtures("log_place")
def test_tables_that_are_there_are_left_alone() -> None:
    before = tables()
    assert {"log_entry", "log_set_aside"} <= set(before)
    prepare("default")
    assert tables() == before


def test_a_log_that_a_later_version_has_changed_is_refused_with_words(log_place: Place, cli: Cli) -> None:
    later_change("add")
    try:
        with pytest.raises(NewerLog, match="9999_of_a_later_version"):
            prepare("default")
        with pytest.raises(PlaceRefused, match="written by a newer Steelyard"):
            open_log(log_place)
        said = cli("history", status=1).err
        assert "newer Steelyard" in said
        assert "update this one" in said
    finally:
        later_change("remove")


def test_the_models_have_no_change_that_a_migration_lacks(log_place: Place) -> None:
    from django.core.management import call_command  # noqa: PLC0415

    assert log_place.folder.is_dir()
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


def test_a_log_of_the_first_version_is_brought_up_and_loses_nothing(log_place: Place) -> None:
    """The tables are taken back to what the first version made, with entries in them."""
    from django.core.management import call_command  # noqa: PLC0415

    batch = entries(*(a_set("2026-11-02", "squat", 100, n) for n in range(20)))
    commands.append(batch, RECEIVED)
    other = structs.replace(batch[0], body=batch[1].body)
    commands.append([other], RECEIVED)
    with connections["default"].constraint_checks_disabled():
        call_command("migrate", "store", "0001", verbosity=0, interactive=False)
    assert "log_erased_person" not in tables()
    open_log(log_place)
    assert "log_erased_person" in tables()
    assert list(queries.all_entries()) == list(batch)
    assert [e for _, e in queries.all_set_aside()] == [other]
    assert commands.append(batch, RECEIVED).count("known") == len(batch)
