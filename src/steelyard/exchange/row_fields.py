"""What else a row says of its sets: effort, pain, technique, notes, sides, tempo, why a lift was missed."""

from datetime import date
from typing import Any

from steelyard.engine.effort import Effort
from steelyard.engine.log import Missed, Technique
from steelyard.wording.message import tell

from . import cells
from .cells import CellRefused
from .field_cells import efforts, rest_interval, side
from .headers import Role, kind_named
from .own_columns import OWN
from .remarks import Remark, missed_reason, remark
from .row_cells import RowCells
from .set_style import SaidCell, SaidSet
from .set_tokens import tempo_of

NO = frozenset({"", "no", "nein", "n", "false", "0", "-", "–"})
_YES = frozenset({"yes", "ja", "y", "j", "true", "1", "x", "✓", "✔"})


class RowFields:
    """The fields of one row, read once for all of its sets."""

    def __init__(self, line: RowCells) -> None:
        self.line = line
        context = line.context
        self.efforts, self.effort_words = self._efforts()
        self.pain = line.take("pain", lambda v: cells.pain(context.plain(v)))
        self.sign = ""
        self.technique = self._technique()
        self.note = line.take("note", context.plain) or ""
        self.side = line.take("side", side)
        is_worded = bool(line.text("tempo")) and not any(map(str.isdigit, line.text("tempo")))
        self.tempo_words = f"tempo {line.text('tempo')}" if is_worded else ""
        self.tempo = None if is_worded else line.take("tempo", tempo_of)
        self.implement = line.take("implement", context.plain)
        self.rest = line.take("rest", lambda v: rest_interval(v, line.values["rest"][0].name))
        self.kind = None if context.is_own else kind_named(line.text("kind"))
        self.own = self._own() if context.is_own else {}
        # Where the file has a column for pain, a note is only a note.
        self.said = remark(self.note) if self.note and "pain" not in context.column_names else Remark()

    def _technique(self) -> Technique | None:
        """Technique in words, or in signs of the writer's own; a sign that says nothing of it becomes a note."""
        text = self.line.text("technique")
        if not text:
            return None
        column = self.line.values["technique"][0]
        signs = self.line.context.memory.ways.signs.get(column.base, {})
        if text in signs:
            self.sign = "" if signs[text] else f"{column.base} {text}"
            return signs[text]
        try:
            return cells.technique(text)
        except CellRefused as refused:
            self.line.wait("technique", refused, "signs")
            return None

    def _own(self) -> dict[str, Any]:
        line = self.line
        out: dict[str, Any] = {}
        for role, (field, read) in OWN.items():
            found = line.take(role, line.context.plain if read is None else read)  # type: ignore[arg-type]  # every key of OWN is a role
            if found is not None:
                out[field] = found
        return out

    def _efforts(self) -> tuple[list[Effort], str]:
        line = self.line
        if "rir" in line.values:
            return line.take("rir", lambda v: efforts(v, "rir")) or ([], "")
        return line.take("rpe", lambda v: efforts(v, "rpe")) or ([], "")

    def each(self, said: SaidCell, lifter: str, on: date) -> list[dict[str, Any]] | None:
        """The fields of every set; effort, pain, technique and notes of a row belong to its last one."""
        last = len(said.sets) - 1
        if len(self.efforts) not in {0, 1, len(said.sets)}:
            role: Role = "rir" if "rir" in self.line.values else "rpe"
            problem = tell("names another number of efforts than of sets")
            self.line.wrong(role, CellRefused(problem, tell("write one, or one for each set")))
            return None
        by_set = {last - i: effort for i, effort in enumerate(reversed(self.efforts))}
        session = self._session(lifter, on)
        out = []
        for i, one in enumerate(said.sets):
            fields = self._of_set(one, said, by_set.get(i), is_last=i == last)
            out.append({"session": session} | fields | self.own)
        return out

    def _of_set(self, one: SaidSet, said: SaidCell, effort: Effort | None, *, is_last: bool) -> dict[str, Any]:
        group = self.line.group.columns
        row = self.said if is_last else Remark()
        fields: dict[str, Any] = {
            "reps": one.reps,
            "seconds": one.seconds,
            "metres": one.metres,
            "cluster": one.cluster,
            "side": one.side or self.side,
            "kind": one.kind or self.kind or (group[0].word.kind if group else None),
            "effort": one.effort or effort,
            "missed": self._missed(one),
            "pain": one.pain or (self.pain if is_last else None) or row.pain,
            "technique": one.technique or (self.technique if is_last else None) or row.technique,
            "note": self._note(one, is_last),
            "tempo": self.tempo or said.tempo,
            "rest_interval_s": self.rest if self.rest is not None else said.rest_interval_s,
            "implement": self.implement,
        }
        return fields

    def _note(self, one: SaidSet, is_last: bool) -> str:
        parts = [one.note]
        if is_last:
            parts += [self.line.load_words, self.note, self._missed_words(), self._other_words(), self.sign]
        return "; ".join(dict.fromkeys(part for part in parts if part))

    def _missed_words(self) -> str:
        """Words of why a lift was missed that are more than the reason itself."""
        text = self.line.text("missed")
        is_plain = self.line.context.is_own or text.casefold() in NO | _YES
        return "" if is_plain or text in {"strength", "technique", "pain", "not-done", "unsaid"} else text

    def _other_words(self) -> str:
        """Words for effort or the kind of set that no scale holds, and a share of a maximum beside a load."""
        line = self.line
        parts = [line.text("effort"), self.effort_words, self.tempo_words]
        if line.text("kind") and self.kind is None and not line.context.is_own:
            parts.append(line.text("kind"))
        if "rir" in line.values and line.text("rpe"):
            parts.append(f"RPE {line.text('rpe')}")
        percent = line.text("percent")
        parts.append(percent if "%" in percent or not percent else f"{percent} %")
        return ", ".join(part for part in parts if part)

    def _missed(self, one: SaidSet) -> Missed | None:
        text = self.line.text("missed")
        is_said = text.casefold() not in NO
        if one.reps != 0 and one.missed is None and not is_said:
            return None
        if one.missed not in {None, "unsaid"}:
            return one.missed
        reason = missed_reason(text) if is_said else None
        if reason is None and one.reps == 0:
            reason = missed_reason(self.note) or ("pain" if self.pain is not None else None)
        return reason or "unsaid"

    def _session(self, lifter: str, on: date) -> int:
        """Which session of the day: its own number in our exports, else counted by the names that a day has."""
        said = self.line.text("session")
        if not said:
            return 1
        if self.line.context.is_own and said.isdecimal():
            return int(said)
        held = self.line.context.sessions.setdefault((lifter, on), {})
        return held.setdefault(said, len(held) + 1)
