"""Messages outside reasons (refusals, problems, answers): English stands in the code, other languages in gettext files."""

from contextvars import ContextVar
from functools import cache
from gettext import NullTranslations, translation
from pathlib import Path

from .quantity import Language

_LANGUAGE: ContextVar[Language] = ContextVar("language", default="en")
_LOCALES = Path(__file__).parent / "locale"


def speak(language: Language) -> None:
    """Choose the language of all messages from here on, in this context (one command, one request)."""
    _LANGUAGE.set(language)


def tell(text: str, /, **values: object) -> str:
    """A message in the language chosen; `text` is its English, with {names} in braces that are filled from `values`."""
    return _translations(_LANGUAGE.get()).gettext(text).format(**values)


def tell_count(one: str, many: str, count: int, /, **values: object) -> str:
    """The same for a message that counts: `one` for a single thing, `many` else; {count} is filled in."""
    return _translations(_LANGUAGE.get()).ngettext(one, many, count).format(count=count, **values)


@cache
def _translations(language: Language) -> NullTranslations:
    return NullTranslations() if language == "en" else translation("steelyard", _LOCALES, [language], fallback=True)
