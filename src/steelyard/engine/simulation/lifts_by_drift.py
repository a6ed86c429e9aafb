"""What the body by drift knows of each exercise: how much of the person's strength it shows, how it gains and tires."""

from typing import Literal

from msgspec import Struct

Sex = Literal["female", "male"]


class LiftByDrift(Struct, frozen=True):
    """One exercise; ratios are of its 1RM (total kg) to the squat's, by sex."""

    men: float
    women: float
    gain: float = 1.0  # how fast it gains beside the squat
    stamina: float = 1.0  # repetitions beside the general curve's
    by_side: bool = False  # either side may also be trained apart, as "code/left" and "code/right"


# Competition lifts: ratios at the best total (public-domain meet results to 2018, own computation): bench/squat 0.69 in
# men and 0.58 in women, deadlift/squat 1.20 and 1.27. Those are means; where a ratio scatters as exp(normal) the middle
# lies below: 0.69 / exp(0.20**2 / 2), and so on.
_BENCH = (0.676, 0.568)
_DEADLIFT = (1.185, 1.253)

# Stamina: leg press 13.05 repetitions at 80 % of 1RM against 9.75 in general, bench press 8.82 (Nuzzo et al. 2024,
# Sports Med 54:303-321). The leg press gains as in Hammarstrom et al. 2020 (J Physiol 598:543-565); that the others
# gain less, and all other ratios: our judgement.
LIFTS: dict[str, LiftByDrift] = {
    "squat": LiftByDrift(1.0, 1.0),
    "front-squat": LiftByDrift(0.82, 0.82),
    "body-mass-squat": LiftByDrift(1.6, 1.6),
    "leg-press": LiftByDrift(1.9, 2.0, gain=1.85, stamina=1.33),
    "single-leg-leg-press": LiftByDrift(1.0, 1.05, gain=1.85, stamina=1.33, by_side=True),
    "leg-extension": LiftByDrift(0.55, 0.55),
    "leg-curl": LiftByDrift(0.40, 0.40),
    "deadlift": LiftByDrift(*_DEADLIFT),
    "romanian-deadlift": LiftByDrift(0.95, 1.0),
    "bench-press": LiftByDrift(*_BENCH, stamina=0.91),
    "incline-bench-press": LiftByDrift(0.56, 0.46, stamina=0.91),
    "dumbbell-bench-press": LiftByDrift(0.27, 0.22, stamina=0.91),
    "machine-chest-press": LiftByDrift(0.70, 0.59),
    "push-up": LiftByDrift(0.70, 0.62),
    "overhead-press": LiftByDrift(0.42, 0.35, stamina=0.91),
    "dip": LiftByDrift(0.95, 0.84),
    "barbell-row": LiftByDrift(0.60, 0.54),
    "seated-row": LiftByDrift(0.66, 0.60),
    "machine-row": LiftByDrift(0.66, 0.60),
    "inverted-row": LiftByDrift(0.64, 0.58),
    "lat-pulldown": LiftByDrift(0.62, 0.56),
    "pull-up": LiftByDrift(0.80, 0.78),
    "chin-up": LiftByDrift(0.83, 0.80),
}
