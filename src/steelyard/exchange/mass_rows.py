"""Body mass in a column of its own, or in a row that is called so."""

from steelyard.wording.message import tell

from .cells import CellRefused
from .findings import Findings
from .found import Choice, Place
from .habits import COUNTED
from .headers import Role
from .row_cells import RowCells
from .set_line import HEAVIEST_KG, LIGHTEST_KG

WEIGHED: tuple[Role, ...] = ("load", "set-cell", "reps", "load-kg")


def ask_weight(name: str, text: str, findings: Findings) -> str | None:
    """What such a line says: "body-mass", "ignore", or None while that is open."""
    choices = (Choice("body-mass", tell("body mass")), Choice("ignore", tell("nothing about sets: leave it out")))
    asks = tell("What does the line {name} say?", name=name)
    return findings.ask(f"weight:{name}", asks, (f"{name} {text}",), choices)


def read_body_mass(line: RowCells) -> bool:
    """Add the body mass that a line says; whether it holds nothing else."""
    if "body-mass" in line.values:
        _add(line, "body-mass")
        return not line.values.keys() & COUNTED
    said = [role for role in WEIGHED if role in line.values]
    if len(said) != 1:
        return False
    _add(line, said[0])
    return True


def _add(line: RowCells, role: Role) -> None:
    found = line.take(role, line.context.memory.load)
    if found is None:
        return
    if len(found.loads) != 1 or found.loads[0].value is None or found.is_of_two:
        line.wrong(role, CellRefused(tell("is no body mass"), tell("write it as 81.5 or 81.5kg")))
        return
    mass = line.load(found.loads[0], role)
    on, lifter = line.day(), line.lifter()
    if mass is None or on is None or not lifter or mass.unit == "mark" or line.is_bad:
        return
    if not LIGHTEST_KG <= mass.magnitude <= HEAVIEST_KG:
        hint = tell("check the decimal mark and the unit")
        line.wrong(role, CellRefused(tell("is no body mass of a lifter"), hint))
        return
    held = (lifter, on, mass.magnitude)
    if held not in line.context.masses:
        line.context.masses.add(held)
        place = Place(line.context.sheet, line.surveyed.row.number, line.values[role][0].name)
        line.context.findings.add_body_mass(place, lifter, on, mass)
