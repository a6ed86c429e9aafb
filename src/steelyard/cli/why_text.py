"""Reasons with everything behind them, as text."""

from datetime import date

from steelyard.services.explaining import Why
from steelyard.services.sheets import LineShown
from steelyard.wording.labels import label, long_date
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice
from steelyard.wording.say import lever_word

from .paragraph import INDENT, quiet, strong, wrapped
from .past_text import HANDLE
from .screen import head_text


def why_text(answer: Why, voice: Voice) -> str:
    """The lines that were asked about."""
    language = voice.language
    state = label("shown" if answer.was_shown else "coming", language)
    parts = [strong(f"{answer.lifter} · {long_date(date.fromisoformat(answer.date), language)}") + f" ({state})"]
    parts += [wrapped(sentence) for sentence in answer.as_said]
    parts += [_line(line, voice) for line in answer.lines]
    parts += [wrapped(c.text) for c in answer.cautions if c.code == "stop-signs"]
    if answer.basis is not None:
        basis = answer.basis
        parts.append(
            quiet(
                tell(
                    "Made from: log {log}, policy {policy}, catalogue {catalogue}, engine {engine}",
                    log=basis.log_revision,
                    policy=basis.policy,
                    catalogue=basis.catalogue,
                    engine=basis.engine,
                )
            )
        )
    return "\n\n".join(parts)


def _line(line: LineShown, voice: Voice) -> str:
    language = voice.language
    out = [head_text(line, voice), strong(f"{INDENT}{label('reasons', language)}")]
    for reason in line.reasons:
        role = label("limit-role" if reason.role == "limit" else reason.role, language)
        out.append(wrapped(f"{role}: {reason.text}", INDENT * 2))
        evidence = ", ".join(i[-HANDLE:] for i in reason.evidence[:6])
        shown = f"; {label('entries', language)} {evidence}" if evidence else ""
        out.append(quiet(wrapped(f"{reason.code} · {label('source', language)}: {reason.source}{shown}", INDENT * 3)))
    if line.considered:
        out.append(strong(f"{INDENT}{label('considered', language)}"))
        out += [wrapped(f"{lever_word(c.lever, voice)}: {c.text}", INDENT * 2) for c in line.considered]
    return "\n".join(out)
