"""Figures that a simulated body does not meet, and why: named, so that no other may go unseen."""

# By study, body and figure.
NAMED: dict[tuple[str, str, str], str] = {}
