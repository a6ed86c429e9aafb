"""Who a body by drift is: the constants of one person, drawn for a kind of lifter."""

from collections.abc import Iterator
from math import exp, log

from msgspec import Struct
from numpy.random import Generator

from steelyard.engine.simulation.lifts_by_drift import LIFTS, Sex
from steelyard.engine.simulation.values import Kind


class KindByDrift(Struct, frozen=True, kw_only=True):
    """What sets one kind of lifter apart; all of it our judgement, matched to the open data where they speak."""

    clock_weeks: float  # training behind them, counted as weeks of one hard set twice a week; the median
    sessions: int  # sessions behind them in each exercise
    level: float  # share of a competitor's strength at the same body mass
    form_sd: float = 0.014  # day form shared by all lifts, SD of ln
    lift_form_sd: float = 0.011  # day form of each lift, SD of ln
    walk_sd: float = 0.03  # shared random walk, SD of ln per root of log time
    lift_walk_sd: float = 0.025  # each lift's own random walk, likewise
    unseen: bool = False  # trains between the days that are seen


KINDS_BY_DRIFT: dict[Kind, KindByDrift] = {
    "machine-study": KindByDrift(clock_weeks=6.5, sessions=25, level=0.7, walk_sd=0.018, lift_walk_sd=0.022),
    "novice": KindByDrift(clock_weeks=0, sessions=0, level=0.5, lift_walk_sd=0.04),
    "trained": KindByDrift(clock_weeks=120, sessions=100, level=0.75),
    "irregular": KindByDrift(clock_weeks=60, sessions=60, level=0.65),
    "body-mass": KindByDrift(clock_weeks=20, sessions=20, level=0.8),
    "competitor": KindByDrift(
        clock_weeks=11,
        sessions=100,
        level=1.0,
        form_sd=0.012,
        lift_form_sd=0.024,
        walk_sd=0.047,
        lift_walk_sd=0.042,
        unseen=True,
    ),
}

MASS_KG: dict[Sex, float] = {"female": 63.0, "male": 83.0}  # median body mass; our judgement
MASS_SD = 0.17  # of ln body mass between people; our judgement
SQUAT_KG: dict[Sex, float] = {"female": 105.0, "male": 180.0}  # a competitor's, at that body mass; from memory
SQUAT_SD = 0.14  # of ln strength between people of one body mass; our judgement
# Total against body mass, log-log: men 0.64, women 0.43, steeper below the median (public-domain meet results to 2018,
# own computation). How much steeper: our judgement.
EXPONENT: dict[Sex, float] = {"female": 0.43, "male": 0.64}
BEND = 0.7
# Between people a lift stands off the ratio by so much, SD of ln. Ratios' SDs at the best total, the same results:
# bench/squat 0.14 of 0.69, deadlift/squat 0.19 of 1.20. Of lifts that no meet shows: our judgement.
OFFSET_SD: dict[str, float] = {"squat": 0.11, "bench-press": 0.14, "deadlift": 0.05}
OTHER_OFFSET_SD = 0.12
# Gain per unit of ln(training time): the totals' yearly changes of the same results, 4.2 / 2.4 / 1.7 % in men and 5.7 /
# 3.3 / 2.2 % in women, are nearly 0.059 and 0.080 times ln of 2, 3/2, 4/3. Women a little less here, so that as many
# totals fall as in the results. Scatter between people: our judgement.
DRIFT: dict[Sex, float] = {"female": 0.078, "male": 0.058}
DRIFT_SD = 0.5
# Repetitions between people, SD of ln and of the power of what is left to the 1RM: SD 1.90 of 4.94 at 90 %, 2.51 of
# 9.75 at 80 %, 4.37 of 19.5 at 60 %, less what a test scatters (Nuzzo et al. 2024).
STAMINA_SD = 0.18
ROUNDNESS_SD = 0.27
UNSTEADY_SD = 0.18  # of ln of day form and scatter of sets, between people; our judgement
FEEL_SD = 0.15  # of ln of what is felt of the reserve, between people; our judgement
SIDE_SD = 0.03  # of ln strength between a side and the lift; our judgement
FLOOR, FLOOR_SD = 0.18, 0.3  # the share (ln) that a layoff takes in the end, its scatter between people; our judgement


class LiftOfPerson(Struct, frozen=True):
    """One lift of one person, or one side of it, as training begins."""

    exercise: str
    one_rm_kg: float
    gain: float
    stamina: float


class PersonByDrift(Struct, frozen=True, kw_only=True):
    """The constants of one person."""

    kind: KindByDrift
    sex: Sex
    mass_kg: float
    lifts: tuple[LiftOfPerson, ...]
    clock_weeks: float
    drift: float
    stamina: float
    roundness: float
    unsteady: float
    feel: float
    floor: float


def person_by_drift(kind: Kind, rng: Generator, sex: Sex) -> PersonByDrift:
    """Draw a person of this kind."""
    of_kind = KINDS_BY_DRIFT[kind]
    beside_median = MASS_SD * rng.standard_normal()
    squat = log(SQUAT_KG[sex] * of_kind.level) + SQUAT_SD * rng.standard_normal()
    squat += EXPONENT[sex] * beside_median - BEND * beside_median**2
    return PersonByDrift(
        kind=of_kind,
        sex=sex,
        mass_kg=MASS_KG[sex] * exp(beside_median),
        lifts=tuple(_lifts(rng, sex, squat)),
        clock_weeks=of_kind.clock_weeks * exp(0.4 * rng.standard_normal()),
        drift=DRIFT[sex] * exp(DRIFT_SD * rng.standard_normal()),
        stamina=exp(STAMINA_SD * rng.standard_normal()),
        roundness=max(0.3, 1 + ROUNDNESS_SD * rng.standard_normal()),
        unsteady=exp(UNSTEADY_SD * rng.standard_normal()),
        feel=exp(FEEL_SD * rng.standard_normal()),
        floor=FLOOR * exp(FLOOR_SD * rng.standard_normal()),
    )


def _lifts(rng: Generator, sex: Sex, ln_squat: float) -> Iterator[LiftOfPerson]:
    for exercise, lift in LIFTS.items():
        ratio = lift.men if sex == "male" else lift.women
        offset = OFFSET_SD.get(exercise, OTHER_OFFSET_SD) * rng.standard_normal()
        one_rm_kg = ratio * exp(ln_squat + offset)
        yield LiftOfPerson(exercise, one_rm_kg, lift.gain, lift.stamina)
        for side in ("left", "right") if lift.by_side else ():
            of_side = one_rm_kg * exp(SIDE_SD * rng.standard_normal())
            yield LiftOfPerson(f"{exercise}/{side}", of_side, lift.gain, lift.stamina)
