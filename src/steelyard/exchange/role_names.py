"""What a column can hold, in words."""

from steelyard.wording.message import tell

from .headers import Role


def role_name(role: Role) -> str:
    """A role in words."""
    return {
        "exercise": tell("the exercise"),
        "sets": tell("how many sets"),
        "set-number": tell("the number of the set"),
        "reps": tell("repetitions"),
        "load": tell("the load"),
        "load-kg": tell("the load in kg"),
        "load-typed": tell("the load as typed"),
        "set-cell": tell("whole sets, such as 3x8 @ 60"),
        "rpe": tell("effort as RPE"),
        "rir": tell("repetitions in reserve"),
        "effort": tell("effort"),
        "note": tell("a note"),
        "lifter": tell("the lifter"),
        "date": tell("the date"),
        "day": tell("the day of the week or its number"),
        "week": tell("the week"),
        "seconds": tell("seconds"),
        "metres": tell("metres"),
        "body-mass": tell("body mass"),
        "side": tell("the side"),
        "session": tell("the session of the day"),
        "pain": tell("pain"),
        "technique": tell("technique"),
        "tempo": tell("tempo"),
        "rest": tell("the rest interval"),
        "made": tell("whether the lift was made"),
        "missed": tell("why a lift was missed"),
        "unit": tell("the unit of the load"),
        "kind": tell("the kind of set"),
        "implement": tell("the machine or implement"),
        "percent": tell("a share of a maximum"),
        "cluster": tell("the parts of a cluster"),
        "cluster-pause": tell("the pause in a cluster"),
        "pair": tell("the pair of exercises"),
        "phase": tell("the phase"),
        "effort-typed": tell("effort as typed"),
        "as-written": tell("the exercise as it was written"),
        "exercise-code": tell("the code of the exercise"),
        "ignore": tell("nothing about sets: leave it out"),
        "unknown": tell("not known"),
    }[role]
