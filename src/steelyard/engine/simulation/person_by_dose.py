"""Drawing one person for the first simulated body."""

from math import exp, log
from typing import Literal

from msgspec import Struct
from numpy.random import Generator

from .values import Kind

Sex = Literal["female", "male"]


class PersonByDose(Struct, frozen=True, kw_only=True):
    """What is fixed in one person; logarithms are natural, and shares are of the 1RM."""

    body_mass_kg: float
    main_lift_kg: dict[str, float]  # unskilled 1RM (kg) of each ability's main lift when training began
    ceiling: float  # what growth can add in all (logarithm)
    untouched: dict[str, float]  # share of each ability's growth that is still ahead
    response: dict[str, float]  # how fast this person grows, beside 1 for most
    skill: float  # share of the learning done before the log begins
    learns: float  # how fast, beside 1
    steepness: float  # endurance: multiplies the repetitions beyond the first
    feels_short: float  # how far the felt reserve falls short, beside 1
    unsteady: float  # how much the days scatter, beside 1
    gains: float  # what this sex gains and loses, beside 1


class _Of(Struct, frozen=True):
    """What the people of one kind share; spreads are of natural logarithms."""

    talent: float
    ahead: tuple[float, float]
    skill: float


# How much of the growth is still ahead, and how skilled they come: chosen so that the yearly gain of competition
# lifters (4.2, 2.4, 1.7 %), the 0.43 % a week of the trained on machines and the beginners' 57 % in 12 weeks come out.
# The talents, so that the levels are those of such people: our judgement.
_KINDS: dict[Kind, _Of] = {
    "machine-study": _Of(0.95, (0.46, 0.81), 0.75),
    "novice": _Of(0.95, (0.95, 1.0), 0.0),
    "trained": _Of(1.0, (0.25, 0.50), 0.92),
    "irregular": _Of(0.98, (0.35, 0.60), 0.85),
    "body-mass": _Of(1.2, (0.40, 0.75), 0.7),
    "competitor": _Of(1.15, (0.32, 0.62), 0.95),
}
# Unskilled squat (kg) of an untrained person of the reference mass; our judgement.
_SQUAT_KG: dict[Sex, float] = {"male": 75.0, "female": 46.0}
_MASS_KG: dict[Sex, float] = {"male": 84.0, "female": 66.0}
_MASS_SPREAD: dict[Sex, float] = {"male": 0.18, "female": 0.19}
# Total against body mass (open competition results): exponent 0.64 and 0.43, steeper below the median.
_EXPONENT: dict[Sex, float] = {"male": 0.64, "female": 0.43}
_BEND = 0.5
_PUSH_SHARE: dict[Sex, float] = {"male": 0.76, "female": 0.64}  # bench/squat 0.69 (0.14) and 0.58 (0.12), same data
# Yearly gains of women who compete are a third above those of men (5.7, 3.3, 2.2 against 4.2, 2.4, 1.7 %; same data).
_GAINS: dict[Sex, float] = {"male": 0.97, "female": 1.26}
_PULL_SHARE: dict[Sex, float] = {"male": 0.68, "female": 0.60}  # our judgement


def person_by_dose(kind: Kind, rng: Generator, sex: Sex) -> PersonByDose:
    """Someone of this kind, drawn from the generator alone."""
    of = _KINDS[kind]
    apart = rng.normal(0.0, _MASS_SPREAD[sex])
    talent = of.talent * exp(rng.normal(0.0, 0.13) + _EXPONENT[sex] * apart - _BEND * apart * apart)
    squat_kg = _SQUAT_KG[sex] * talent
    ahead = rng.uniform(*of.ahead)
    response = rng.normal(0.0, 0.95)  # wide and skewed: quartiles of the gain 0.11 and 0.87 % a week (training log)
    abilities = ("push", "pull", "legs")
    # Spreads between people without a source beside them are our judgement; those of push and squat make bench/squat.
    return PersonByDose(
        body_mass_kg=_MASS_KG[sex] * exp(apart),
        main_lift_kg={
            "legs": squat_kg,
            "push": squat_kg * _PUSH_SHARE[sex] * exp(rng.normal(0.0, 0.172)),
            "pull": squat_kg * _PULL_SHARE[sex] * exp(rng.normal(0.0, 0.14)),
        },
        ceiling=0.6 * _GAINS[sex] * exp(rng.normal(0.0, 0.15)),
        untouched={name: min(1.0, ahead * exp(rng.normal(0.0, 0.1))) for name in abilities},
        response={name: _GAINS[sex] * exp(response + rng.normal(0.0, 0.3)) for name in abilities},
        gains=_GAINS[sex],
        unsteady=exp(rng.normal(0.0, 0.25)),
        skill=min(1.0, of.skill * exp(rng.normal(0.0, 0.04))),
        learns=exp(rng.normal(0.0, 0.25)),
        # Between-person SD of 2.51 repetitions about 9.75 at 80 % (Nuzzo et al. 2024).
        steepness=exp(rng.normal(log(0.98), 0.22)),
        feels_short=exp(rng.normal(0.0, 0.35)),
    )
