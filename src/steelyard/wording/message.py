"""Messages outside reasons (refusals, problems, answers): English in the code, other languages in gettext files."""

from collections.abc import Iterable
from contextvars import ContextVar
from functools import cache
from gettext import NullTranslations, translation
from pathlib import Path

from steelyard.engine.refused import ValueRefused

from .quantity import Language

_LANGUAGE: ContextVar[Language] = ContextVar("language", default="en")
LOCALES = Path(__file__).parent / "locale"


def speak(language: Language) -> None:
    """Choose the language of all messages from here on, in this context (one command, one request)."""
    _LANGUAGE.set(language)


def spoken() -> Language:
    """The language of messages now, for names that come in each language."""
    return _LANGUAGE.get()


def tell(text: str, /, **values: object) -> str:
    """A message in the language chosen; `text` is its English, whose {names} are filled where there are values."""
    said = _translations(_LANGUAGE.get()).gettext(text)
    return said.format(**values) if values else said


def told_later(text: str) -> str:
    """The English of a message that is told elsewhere: marked where it stands, so that it gets its translation."""
    return text


def tell_count(one: str, many: str, count: int, /, **values: object) -> str:
    """The same for a message that counts: `one` for a single thing, `many` else; {count} is filled in."""
    return _translations(_LANGUAGE.get()).ngettext(one, many, count).format(count=count, **values)


def tell_refused(refused: ValueRefused) -> str:
    """What the engine refuses, in the language chosen."""
    return tell(refused.text, **refused.values)


def tell_either(names: Iterable[str]) -> str:
    """Names to choose from, as one part of a sentence: `a or b`."""
    return tell(" or ").join(names)


@cache
def _translations(language: Language) -> NullTranslations:
    return NullTranslations() if language == "en" else translation("steelyard", LOCALES, [language], fallback=True)
