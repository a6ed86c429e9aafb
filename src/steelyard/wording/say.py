"""One door to the sentences of each language."""

from steelyard.engine.reasons import AnyReason

from . import english, german
from .quantity import Voice


def say(reason: AnyReason, voice: Voice) -> str:
    """One reason as a sentence."""
    return german.german(reason, voice) if voice.language == "de" else english.english(reason, voice)


def lever_word(lever: str, voice: Voice) -> str:
    """What a lever is called."""
    return (german.LEVERS if voice.language == "de" else english.LEVERS)[lever]


def course_word(course: str, voice: Voice) -> str:
    """What a line does, in a word or two."""
    return (german.COURSES if voice.language == "de" else english.COURSES)[course]
