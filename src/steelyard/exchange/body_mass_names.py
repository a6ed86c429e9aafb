"""Names of rows that say a body mass instead of sets."""

from steelyard.engine.exercises import folded_name

BODY_MASS_WORDS = frozenset({
    "bodyweight", "body weight", "body mass", "bodymass", "bw", "korpergewicht", "koerpergewicht", "korpermasse", "kgw",
    "weigh in", "body wt", "gewogen", "weighed",
})  # fmt: skip
# In free lines these may as well be the load of the exercise above.
_IN_TABLES = frozenset({"gewicht", "weight", "mass", "masse"})


def is_body_mass(name: str, *, is_line: bool) -> bool:
    """Whether a row that is called so says a body mass."""
    folded = folded_name(name)
    return folded in BODY_MASS_WORDS or (folded in _IN_TABLES and not is_line)


def may_be_body_mass(name: str) -> bool:
    """Whether a line that is called so may say a body mass, or a load."""
    return folded_name(name) in _IN_TABLES
