"""An invented club for the demo: eight lifters, how they train, and the eight files in which they keep it."""

from .files import SEED, DemoFile, club_files
from .lifters import COACH, DEMO_DAY, DemoMember, club_members

__all__ = ["COACH", "DEMO_DAY", "SEED", "DemoFile", "DemoMember", "club_files", "club_members"]
