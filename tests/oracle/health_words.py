"""Words that generated logs use, with what the page says of them: which are stop signs, which joints a part means."""

# Each names a sign of the page's list and does not deny it.
SIGN_WORDS = frozenset(
    {
        "dark urine since yesterday",
        "chest pain on the last set",
        "fainted after the session",
        "left leg went numb",
        "Brustschmerzen",
        "Urin ist colafarben",
    }
)
HARMLESS_WORDS = (
    "no chest pain",
    "keine Brustschmerzen",
    "chest day",
    "lockout slow",
    "60 gerissen",
    "stop if dizzy",
    "legs tired",
)
PARTS = {
    "knee": {"knee"},
    "Schulter": {"shoulder"},
    "elbow": {"elbow"},
    "lower back": {"lower-spine"},
    "somewhere": set[str](),
}
