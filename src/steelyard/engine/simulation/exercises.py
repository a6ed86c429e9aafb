"""What simulated lifters do, and what a simulated body must know of it; a test compares it with the catalogue."""

from typing import Literal

from msgspec import Struct

Ability = Literal["push", "pull", "legs"]

# One side of a lifter may be trained apart: such a lift is written "single-leg-leg-press/left".
SIDE_MARK = "/"


class SimulatedExercise(Struct, frozen=True):
    """One exercise: its ratio to the main lift of its ability, how much of it is learned, and what can be loaded.

    `ratio` compares total loads (kg; body mass counted by its share, one dumbbell of a pair) at full skill. `learning`
    is the natural logarithm of what practice alone adds; `endurance` multiplies the repetitions beyond the first.
    `spread` is the between-lifter SD of the exercise's own offset (natural logarithm). `step_kg` is the usual rise.
    """

    ability: Ability
    pattern: str
    ratio: float
    learning: float
    spread: float
    step_kg: float
    body_mass_share: float = 0.0
    endurance: float = 1.0


# Ratios of the meet lifts: open competition results (deadlift/squat 1.20 (0.19) men, 1.27 (0.21) women). Leg press:
# Nuzzo et al. 2024 (13.05 repetitions at 80 % against 9.75 in general; bench press 8.82). Learning of the leg press:
# +9 % after one session in untrained people (Hammarstrom et al. 2020). Body-mass shares as in the catalogue. All
# others: our judgement.
EXERCISES: dict[str, SimulatedExercise] = {
    "squat": SimulatedExercise("legs", "squat", 1.0, 0.25, 0.09, 2.5),
    "front-squat": SimulatedExercise("legs", "squat", 0.82, 0.27, 0.07, 2.5),
    "body-mass-squat": SimulatedExercise("legs", "squat", 1.6, 0.15, 0.07, 2.5, 0.88),
    "leg-press": SimulatedExercise("legs", "squat", 2.2, 0.32, 0.15, 5.0, 0.0, 1.37),
    "single-leg-leg-press": SimulatedExercise("legs", "squat", 1.15, 0.32, 0.15, 2.5, 0.0, 1.37),
    "leg-extension": SimulatedExercise("legs", "knee-extension", 0.6, 0.12, 0.15, 2.5),
    "leg-curl": SimulatedExercise("legs", "knee-flexion", 0.4, 0.12, 0.15, 2.5),
    "deadlift": SimulatedExercise("legs", "hinge", 1.2, 0.25, 0.12, 2.5),
    "romanian-deadlift": SimulatedExercise("legs", "hinge", 0.9, 0.20, 0.10, 2.5),
    "bench-press": SimulatedExercise("push", "horizontal-push", 1.0, 0.15, 0.05, 2.5, 0.0, 0.92),
    "incline-bench-press": SimulatedExercise("push", "horizontal-push", 0.8, 0.15, 0.06, 2.5, 0.0, 0.92),
    "dumbbell-bench-press": SimulatedExercise("push", "horizontal-push", 0.38, 0.20, 0.06, 2.0, 0.0, 0.92),
    "machine-chest-press": SimulatedExercise("push", "horizontal-push", 0.95, 0.12, 0.15, 2.5),
    "push-up": SimulatedExercise("push", "horizontal-push", 0.95, 0.10, 0.06, 1.25, 0.64),
    "overhead-press": SimulatedExercise("push", "vertical-push", 0.62, 0.15, 0.07, 1.25),
    "dip": SimulatedExercise("push", "vertical-push", 1.25, 0.15, 0.08, 1.25, 1.0),
    "barbell-row": SimulatedExercise("pull", "horizontal-pull", 1.0, 0.15, 0.08, 2.5),
    "seated-row": SimulatedExercise("pull", "horizontal-pull", 1.0, 0.12, 0.12, 2.5),
    "machine-row": SimulatedExercise("pull", "horizontal-pull", 1.0, 0.12, 0.15, 2.5),
    "inverted-row": SimulatedExercise("pull", "horizontal-pull", 0.9, 0.10, 0.08, 1.25, 0.6),
    "lat-pulldown": SimulatedExercise("pull", "vertical-pull", 1.0, 0.12, 0.12, 2.5),
    "pull-up": SimulatedExercise("pull", "vertical-pull", 1.3, 0.15, 0.08, 1.25, 1.0),
    "chin-up": SimulatedExercise("pull", "vertical-pull", 1.35, 0.15, 0.08, 1.25, 1.0),
}


def exercise_of(written: str) -> SimulatedExercise:
    """What is known of an exercise, also where only one side does it; KeyError where nothing is."""
    return EXERCISES[written.partition(SIDE_MARK)[0]]
