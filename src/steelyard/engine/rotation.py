"""Without a plan: which session comes next in the lifter's own rotation, as the log shows it."""

from .history import History, LineKey, SessionDone

LOOK_BACK = 12
ALIKE = 0.5  # two sessions that share half of their exercises are the same day of a rotation: our judgement, no source


def next_lines(history: History) -> tuple[SessionDone | None, tuple[LineKey, ...]]:
    """The earlier session that comes round again, and its lines; what followed the last one before follows it again."""
    sessions = history.sessions[-LOOK_BACK:]
    if not sessions:
        return None, ()
    latest = sessions[-1]
    for place in range(len(sessions) - 2, -1, -1):
        if _alike(sessions[place], latest):
            following = sessions[place + 1]
            newest = next(s for s in reversed(sessions) if _alike(s, following))
            return newest, newest.keys
    oldest = _least_lately(sessions)
    return oldest, oldest.keys


def _alike(a: SessionDone, b: SessionDone) -> bool:
    shared, either = set(a.keys) & set(b.keys), set(a.keys) | set(b.keys)
    return len(shared) >= ALIKE * len(either)


def _least_lately(sessions: tuple[SessionDone, ...]) -> SessionDone:
    """The kind of session that was left out longest."""
    newest: list[SessionDone] = []
    for session in reversed(sessions):
        if not any(_alike(session, known) for known in newest):
            newest.append(session)
    return newest[-1]
