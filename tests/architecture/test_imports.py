"""What the pure floors may import: named here, since a list of what is forbidden forgets."""

import sys

import grimp
import pytest

# The standard library without anything that reads a clock, chance, the environment, a disk or a network.
ALLOWED = {
    "steelyard.engine": {
        *("msgspec", "bisect", "collections", "collections.abc", "copy", "dataclasses", "datetime", "decimal", "enum"),
        *("fractions", "functools", "hashlib", "itertools", "math", "operator", "re", "statistics", "types", "typing"),
        *("unicodedata", "numpy", "scipy"),
    },
    "steelyard.wording": {
        *("msgspec", "collections", "collections.abc", "datetime", "decimal", "errno", "functools", "re", "typing"),
        # The catalogues of messages lie beside it, and what language is spoken holds for one command or request.
        *("contextvars", "gettext", "pathlib"),
    },
}


@pytest.fixture(scope="module")
def graph() -> grimp.ImportGraph:
    """Who imports whom."""
    return grimp.build_graph("steelyard", include_external_packages=True, cache_dir=None)


def external(graph: grimp.ImportGraph, floor: str) -> set[str]:
    """Top names outside Steelyard that a floor imports."""
    modules = graph.find_descendants(floor) | {floor}
    imported = {name for module in modules for name in graph.find_modules_directly_imported_by(module)}
    return {name for name in imported if not name.startswith("steelyard")}


@pytest.mark.parametrize("floor", sorted(ALLOWED))
def test_a_pure_floor_imports_only_what_is_named(graph: grimp.ImportGraph, floor: str) -> None:
    found = external(graph, floor)
    assert "msgspec" in found
    assert found <= ALLOWED[floor]


def test_only_the_engine_is_below_the_engine(graph: grimp.ImportGraph) -> None:
    modules = graph.find_descendants("steelyard.engine")
    assert len(modules) > 10
    inner = {name for module in modules for name in graph.find_modules_directly_imported_by(module)}
    assert {n for n in inner if n.startswith("steelyard") and not n.startswith("steelyard.engine")} == set()


def test_what_the_program_imports_is_what_it_says_it_needs(graph: grimp.ImportGraph) -> None:
    """The dependencies of pyproject.toml, the extra for PostgreSQL, and the standard library."""
    found = {name.partition(".")[0] for name in external(graph, "steelyard")}
    declared = {"django", "msgspec", "click", "rich", "platformdirs", "tzdata", "psycopg", "rapidfuzz"}
    declared |= {"python_calamine", "charset_normalizer", "numpy", "scipy"}
    assert found - set(sys.stdlib_module_names) <= declared
