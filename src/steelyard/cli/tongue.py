"""The language of the commands: found before anything is parsed, so that help speaks it too."""

import copy
import gettext
import inspect
import os
from collections.abc import Sequence
from itertools import pairwise
from typing import TypeVar

import click

from steelyard.wording.message import LOCALES, speak, tell
from steelyard.wording.quantity import Language

Spoken = TypeVar("Spoken", bound=click.Command)


def usual_language() -> Language:
    """STEELYARD_LANGUAGE, else the language of this session, else English."""
    names = ("STEELYARD_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
    chosen = next((os.environ[n] for n in names if os.environ.get(n)), "en")
    return "de" if chosen.casefold().startswith("de") else "en"


def speak_as_asked(arguments: Sequence[str]) -> Language:
    """Speak the language that --language names among what was typed, else the usual one."""
    asked = [b for a, b in pairwise(arguments) if a == "--language"]
    asked += [a.partition("=")[2] for a in arguments if a.startswith("--language=")]
    language: Language = "de" if asked[-1:] == ["de"] else "en" if asked[-1:] == ["en"] else usual_language()
    speak(language)
    # click says its own few words by the process's text domain; for C nothing is looked for.
    os.environ["LANGUAGE"] = "C" if language == "en" else language
    if language != "en":
        gettext.bindtextdomain("steelyard", str(LOCALES))
        gettext.textdomain("steelyard")
    return language


def in_tongue(command: Spoken) -> Spoken:
    """The command with its help in the language spoken; the command itself stays as it is."""
    spoken = copy.copy(command)
    # Newer Pythons cut the indent of docstrings off by themselves: cut off, a help is the same text everywhere.
    spoken.help = tell(inspect.cleandoc(command.help)) if command.help else command.help
    spoken.epilog = tell(inspect.cleandoc(command.epilog)) if command.epilog else command.epilog
    spoken.params = [copy.copy(parameter) for parameter in command.params]
    for parameter in spoken.params:
        if isinstance(parameter, click.Option) and parameter.help:
            parameter.help = tell(parameter.help)
    return spoken
