"""What tuning found, as text."""

from steelyard.services.tuning import Tuning
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell, tell_count
from steelyard.wording.quantity import Voice

from .columns import columns
from .paragraph import strong, wrapped


def tune_text(answer: Tuning, voice: Voice) -> str:
    """What would change, what it gains on lifters left out, whether it is kept."""

    def number(value: float, form: str = ".4g") -> str:
        written = f"{value:{form}}"
        return written.replace(".", ",") if voice.language == "de" else written

    lifters = tell_count("{count} lifter", "{count} lifters", answer.lifters)
    sets = tell_count("{count} set", "{count} sets", answer.sets)
    parts = [strong(tell("Tuned on {lifters}, {sets}", lifters=lifters, sets=sets))]
    if answer.changed:
        rows = [[code_word("strength", c.name, spoken()), number(c.was), number(c.found)] for c in answer.changed]
        parts += columns(["", tell("usual"), tell("here")], rows)
    gain = tell(
        "On lifters left out: {gain} a set (95 %: {low} to {high}) in log score.",
        gain=number(answer.gain, "+.3f"),
        low=number(answer.low, "+.3f"),
        high=number(answer.high, "+.3f"),
    )
    parts.append(wrapped(f"{gain} {_outcome(answer)}"))
    return "\n".join(parts)


def _outcome(answer: Tuning) -> str:
    if not answer.is_kept:
        return tell("Not surely better: the usual settings stay.")
    if answer.is_dry_run:
        return tell("Surely better: it would be kept for this club. Nothing was changed: this was a dry run.")
    return tell("Surely better: kept for this club's estimates of strength.")
