"""Published equations that predict a one-repetition maximum, and the published load-repetition tables."""

from collections.abc import Callable
from math import exp, log

from msgspec import Struct


class UnableToEstimate(ValueError):
    """A set or a percentage that the published source says nothing about."""


class Equation(Struct, frozen=True, kw_only=True):
    """One equation: fraction of 1RM by repetitions to failure, its inverse, where it is defined, where it was tried."""

    name: str
    fraction: Callable[[float], float]
    repetitions: Callable[[float], float]
    defined_below: float
    tried_to: int = 10
    source: str


def _epley(slope: float, name: str) -> Equation:
    return Equation(
        name=name,
        fraction=lambda r: 1 / (1 + slope * r),
        repetitions=lambda f: (1 / f - 1) / slope,
        defined_below=60,
        source="Epley 1985, Poundage chart, Boyd Epley Workout, p. 86",
    )


def _exponential(floor: float, height: float, rate: float, name: str, source: str) -> Equation:
    """Equations that level off: no load below the floor has a repetition count."""

    def repetitions(fraction: float) -> float:
        if fraction * 100 <= floor:
            raise UnableToEstimate(f"{name} ends at {floor} % of 1RM; {fraction:.0%} is below it")
        return -log((fraction * 100 - floor) / height) / rate

    return Equation(
        name=name,
        fraction=lambda r: (floor + height * exp(-rate * r)) / 100,
        repetitions=repetitions,
        defined_below=60,
        source=source,
    )


EQUATIONS: dict[str, Equation] = {
    e.name: e
    for e in (
        _epley(1 / 30, "epley"),
        _epley(0.0333, "epley-0.0333"),
        _epley(0.033, "epley-0.033"),
        Equation(
            name="brzycki",
            fraction=lambda r: (37 - r) / 36,
            repetitions=lambda f: 37 - 36 * f,
            defined_below=37,
            source="Brzycki 1993, JOPERD 64(1):88-90; the form 36/(37-r) from memory",
        ),
        Equation(
            name="lander",
            fraction=lambda r: (101.3 - 2.67123 * r) / 100,
            repetitions=lambda f: (101.3 - 100 * f) / 2.67123,
            defined_below=101.3 / 2.67123,
            source="Lander 1985, NSCA Journal 6(6):60-61",
        ),
        Equation(
            name="lombardi",
            fraction=lambda r: r**-0.10,
            repetitions=lambda f: f**-10,
            defined_below=60,
            source="Lombardi 1989, Beginning Weight Training; from memory",
        ),
        _exponential(52.2, 41.9, 0.055, "mayhew", "Mayhew et al. 1992, J Appl Sport Sci Res 6(4):200-206"),
        Equation(
            name="oconner",
            fraction=lambda r: 1 / (1 + 0.025 * r),
            repetitions=lambda f: (1 / f - 1) / 0.025,
            defined_below=60,
            source="O'Conner et al. 1989, Weight Training Today; from memory",
        ),
        _exponential(48.8, 53.8, 0.075, "wathan", "Wathan 1994, in Baechle (ed), Essentials, 435-446"),
    )
}


def estimate_one_rm(equation: Equation, load: float, repetitions: float) -> float:
    """The 1RM in the load's unit; a lifted single is its own maximum. Raises UnableToEstimate out of range."""
    if repetitions < 1:
        raise UnableToEstimate(f"{repetitions:g} repetitions say nothing of a 1RM; at least one is needed")
    if repetitions >= equation.defined_below:
        raise UnableToEstimate(
            f"{equation.name} is not defined at {repetitions:g} repetitions; use a set of {equation.tried_to} or fewer"
        )
    # Most equations miss a true single by up to 8.9 % (Mayhew), so a single is never put through one.
    return load if repetitions == 1 else load / equation.fraction(repetitions)


def repetitions_at(equation: Equation, load: float, one_rm: float) -> float:
    """How many repetitions to failure a load allows under a 1RM in the same unit: 0 above the 1RM.

    So light a load that the equation ends or levels off above it: the repetitions at which it stops being defined.
    """
    if load > one_rm:
        return 0.0
    try:
        return min(max(1.0, equation.repetitions(load / one_rm)), equation.defined_below)
    except UnableToEstimate:
        return equation.defined_below


# Reynolds, Gordon & Robergs 2006, J Strength Cond Res 20(3):584-592: 1RM (kg) from a 5RM (kg), 70 people aged 18-69.
FROM_FIVE_RM: dict[str, Callable[[float], float]] = {
    "chest-press": lambda five_rm_kg: 1.1307 * five_rm_kg + 0.6999,
    "leg-press": lambda five_rm_kg: 1.0970 * five_rm_kg + 14.2546,
}


class LoadTable(Struct, frozen=True, kw_only=True):
    """Percent of 1RM by repetitions as printed; what is not printed is refused."""

    name: str
    percent: dict[int, int]
    source: str

    def percent_at(self, repetitions: int) -> int:
        """The printed percentage for so many repetitions."""
        if repetitions not in self.percent:
            raise UnableToEstimate(f"{self.name} prints no row for {repetitions} repetitions")
        return self.percent[repetitions]


_NSCA_TO_TEN = dict(zip(range(1, 11), (100, 95, 93, 90, 87, 85, 83, 80, 77, 75), strict=True))
NSCA_CHART = LoadTable(
    name="NSCA training load chart", percent=_NSCA_TO_TEN | {12: 70}, source="NSCA, Training Load Chart"
)
NSCA_TEXTBOOK = LoadTable(
    name="NSCA textbook table",
    percent=_NSCA_TO_TEN | {11: 70, 12: 67, 15: 65},
    source="Essentials of Strength Training and Conditioning, 4th ed 2016 (12 repetitions: from memory)",
)


class RepetitionRow(Struct, frozen=True):
    """Mean repetitions to failure and the spread between people (None where it was not obtained)."""

    mean: float
    between_person_sd: float | None


class RepetitionTable(Struct, frozen=True, kw_only=True):
    """Repetitions to failure by percent of 1RM, from a meta-regression; straight lines between printed rows."""

    name: str
    rows: dict[int, RepetitionRow]
    source: str

    def mean_at(self, percent: float) -> float:
        """Mean repetitions of a single set at a percentage within the printed rows."""
        printed = sorted(self.rows)
        if not printed[0] <= percent <= printed[-1]:
            raise UnableToEstimate(f"{self.name} is printed for {printed[0]}-{printed[-1]} %, not {percent:g} %")
        upper = next(p for p in printed if p >= percent)
        lower = max(p for p in printed if p <= percent)
        share = 0.0 if upper == lower else (percent - lower) / (upper - lower)
        return self.rows[lower].mean * (1 - share) + self.rows[upper].mean * share


_NUZZO = "Nuzzo et al. 2024, Sports Med 54(2):303-321 (read second-hand)"
_GENERAL = {
    90: (4.94, 1.90),
    85: (7.15, 2.19),
    80: (9.75, 2.51),
    75: (12.37, 2.88),
    70: (14.80, 3.31),
    65: (17.11, 3.80),
    60: (19.53, 4.37),
}
NUZZO_GENERAL = RepetitionTable(
    name="general table", rows={p: RepetitionRow(m, s) for p, (m, s) in _GENERAL.items()}, source=_NUZZO
)
NUZZO_BENCH_PRESS = RepetitionTable(
    name="bench press table", rows={80: RepetitionRow(8.82, None), 70: RepetitionRow(14.1, None)}, source=_NUZZO
)
NUZZO_LEG_PRESS = RepetitionTable(
    name="leg press table",
    rows={90: RepetitionRow(8.69, None), 80: RepetitionRow(13.05, None), 70: RepetitionRow(19.0, None)},
    source=_NUZZO,
)
