"""The tables: brought up once, never down, and no further than this version knows."""

import pytest
from django.db import connections
from tests.command_line import Cli

from steelyard.site.place import Place, PlaceRefused
from steelyard.site.wiring import open_log
from steelyard.store.schema import NewerLog, prepare


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
