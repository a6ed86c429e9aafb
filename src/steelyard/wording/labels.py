"""The short words around the sentences, in each language."""

from datetime import date

from .quantity import Language

_WORDS: dict[str, tuple[str, str]] = {
    "at": ("at", "mit"),
    "rest": ("rest", "Pause"),
    "reserve": ("in reserve", "in Reserve"),
    "warm-up": ("warm-up", "Aufwärmen"),
    "ramp": ("climb", "hinauf"),
    "side": ("a side", "je Seite"),
    "each-side": ("each side", "jede Seite"),
    "last": ("last", "zuletzt"),
    "today": ("today", "heute"),
    "limit": ("limit", "Grenze"),
    "not-now": ("not now", "jetzt nicht"),
    "changed": ("Changed since it was shown", "Geändert, seit es gezeigt wurde"),
    "same-sheet": ("New entries, same sheet.", "Neue Einträge, gleiches Blatt."),
    "deload": ("Deload", "Entlastung"),
    "nothing": ("no sets today", "heute keine Sätze"),
    "cautions": ("Mind", "Bitte beachten"),
    "reasons": ("Why", "Warum"),
    "considered": ("Considered and not taken", "Erwogen und nicht genommen"),
    "shown": ("as it was shown", "wie gezeigt"),
    "coming": ("not shown yet", "noch nicht gezeigt"),
    "source": ("source", "Quelle"),
    "entries": ("entries", "Einträge"),
    "gate": ("holds closed", "sperrt"),
    "driver": ("drives", "treibt"),
    "limit-role": ("limits", "begrenzt"),
    "rounding": ("rounds", "rundet"),
    "caution": ("cautions", "warnt"),
}
_DAYS = (
    ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
    ("Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag", "Sonntag"),
)
_MONTHS = (
    (
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ),
    (
        "Januar",
        "Februar",
        "März",
        "April",
        "Mai",
        "Juni",
        "Juli",
        "August",
        "September",
        "Oktober",
        "November",
        "Dezember",
    ),
)


def label(key: str, language: Language) -> str:
    """A short word."""
    return _WORDS[key][language == "de"]


def long_date(day: date, language: Language) -> str:
    """A day as it is said."""
    weekday, month = _DAYS[language == "de"][day.weekday()], _MONTHS[language == "de"][day.month - 1]
    return (
        f"{weekday}, {day.day}. {month} {day.year}" if language == "de" else f"{weekday} {day.day} {month} {day.year}"
    )


def month_of(day: date, language: Language) -> str:
    """The month and year of a day."""
    return f"{_MONTHS[language == 'de'][day.month - 1]} {day.year}"
