"""What a corrected file does to sets that it brought before: amend, or ask."""

from collections.abc import Iterable, Mapping

from msgspec import Struct

from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.log import Entry, TombstoneBody
from steelyard.exchange.found import Choice, Question
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

from .doubts import EXAMPLES, KEEP
from .lifters import Lifter
from .reconciling import Changed
from .scribe import Scribe
from .set_words import set_words

FROM_FILE, FROM_LOG, WITHDRAW = "file", "log", "withdraw"


class FileChanges(Struct, frozen=True, kw_only=True):
    """Entries that amend or withdraw, the differences in words, and what must be asked."""

    entries: tuple[Entry, ...] = ()
    amended: tuple[str, ...] = ()
    withdrawn: int = 0
    vanished: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


class FileWord(Struct, frozen=True, kw_only=True):
    """The file's name, what was answered about it, and how to speak."""

    source: str
    answers: Mapping[str, str]
    voice: Voice


def amend_from(
    pairs: Iterable[Changed], lifter: Lifter, log: TrainingLog, word: FileWord, scribe: Scribe
) -> FileChanges:
    """Amend what the file corrects; where a person amended it by hand since, ask whose word holds."""
    answer = word.answers.get("amended-by-hand", "")
    versions = {i: dispute.versions for dispute in log.disputes for i in dispute.versions}
    entries: list[Entry] = []
    amended: list[str] = []
    asked: list[str] = []
    for pair in pairs:
        if pair.is_hand_amended and answer == FROM_LOG:
            continue
        if pair.is_hand_amended and answer != FROM_FILE:
            asked.append(_difference(lifter, pair, word.voice))
            continue
        replaces = versions.get(pair.before.id, (pair.before.id,))
        fresh = pair.after
        entries.append(scribe.entry(lifter.person, fresh.body, entry_id=fresh.entry_id, replaces=replaces))
        amended.append(_difference(lifter, pair, word.voice))
    questions = (_ask_whose_word(asked),) if asked else ()
    return FileChanges(entries=tuple(entries), amended=tuple(amended), questions=questions)


def ask_vanished(gone: tuple[LoggedSet, ...], lifter: Lifter, word: FileWord, scribe: Scribe) -> FileChanges:
    """Sets that this file brought before and does not hold any more: withdrawn only on a person's word."""
    if not gone:
        return FileChanges()
    answer = word.answers.get("vanished", "")
    lines = tuple(f"{lifter.name}: {set_words(s.body, word.voice)}" for s in gone)
    if answer == WITHDRAW:
        body = TombstoneBody(why=f"not in {word.source} any more")
        entry = scribe.entry(lifter.person, body, replaces=[s.id for s in gone])
        return FileChanges(entries=(entry,), withdrawn=len(gone), vanished=lines)
    return FileChanges(vanished=lines, questions=() if answer == KEEP else (_ask_what_of(lines),))


def _ask_whose_word(lines: list[str]) -> Question:
    return Question(
        key="amended-by-hand",
        asks=tell_count(
            "{count} set was amended by hand since, and the file says otherwise. Which holds?",
            "{count} sets were amended by hand since, and the file says otherwise. Which holds?",
            len(lines),
        ),
        examples=tuple(lines[:EXAMPLES]),
        choices=(
            Choice(FROM_LOG, tell("what was amended by hand")),
            Choice(FROM_FILE, tell("what the file says")),
        ),
    )


def _ask_what_of(lines: tuple[str, ...]) -> Question:
    return Question(
        key="vanished",
        asks=tell_count(
            "{count} set came from this file before and is not in it any more. What of it?",
            "{count} sets came from this file before and are not in it any more. What of them?",
            len(lines),
        ),
        examples=lines[:EXAMPLES],
        choices=(
            Choice(KEEP, tell("stay in the log")),
            Choice(WITHDRAW, tell("withdraw from the log")),
        ),
    )


def _difference(lifter: Lifter, pair: Changed, voice: Voice) -> str:
    before, after = set_words(pair.before.body, voice), set_words(pair.after.body, voice)
    return f"{lifter.name}: {before} -> {after}"
