"""What each of the eight writes for an exercise; every slip happens once."""

from .writing.names import Handwriting

INES = Handwriting(
    {
        "bench-press": ("Bench", "Bench press"),
        "squat": ("Squat",),
        "seated-row": ("Cable row", "Seated row"),
        "romanian-deadlift": ("RDL",),
        "chin-up": ("Chin-ups", "Chins"),
    },
    (("squat", "Sqaut"),),
)
TOMAS = Handwriting(
    {
        "squat": ("Back squat",),
        "bench-press": ("Bench press", "Bench"),
        "deadlift": ("Deadlift",),
        "overhead-press": ("OHP", "Overhead press"),
        "barbell-row": ("Bent over row",),
        "pull-up": ("Pull-ups", "Weighted pull-ups"),
    }
)
ODILE = Handwriting(
    {
        "squat": ("Squat",),
        "bench-press": ("Bench press",),
        "leg-curl": ("Leg curl",),
        "deadlift": ("Deadlift",),
        "dumbbell-shoulder-press": ("DB shoulder press",),
        "lat-pulldown": ("Lat pulldown", "Pulldown"),
        "hip-thrust": ("Hip thrust",),
        "goblet-squat": ("Goblet squat",),
    }
)
WARREN = Handwriting(
    {
        "squat": ("Squat",),
        "bench-press": ("Bench press", "BP"),
        "deadlift": ("Deadlift", "DL"),
        "overhead-press": ("Military press",),
        "barbell-row": ("BB row",),
        "lat-pulldown": ("Lat pull-down",),
    },
    (("deadlift", "Daedlift"),),
)
LENE = Handwriting(
    {
        "leg-press": ("leg press",),
        "dumbbell-bench-press": ("dumbbell bench press",),
        "seated-row": ("seated cable row",),
        "plank": ("plank",),
        "goblet-squat": ("goblet squat",),
        "romanian-deadlift": ("romanian deadlift",),
        "dumbbell-shoulder-press": ("dumbbell shoulder press",),
        "lat-pulldown": ("lat pulldown",),
        "leg-extension": ("leg extension",),
    }
)
HARTWIG = Handwriting(
    {
        "leg-press": ("Beinpresse",),
        "bench-press": ("Bankdrücken",),
        "seated-row": ("Rudern am Kabel", "Kabelrudern"),
        "leg-curl": ("Beinbeuger",),
        "squat": ("Kniebeuge", "Kniebeugen"),
        "lat-pulldown": ("Latziehen", "Latzug"),
        "dumbbell-shoulder-press": ("Schulterdrücken Kurzhantel",),
        "dumbbell-curl": ("KH-Curls",),
    },
    (("squat", "Kniebeueg"), ("bench-press", "Bankdrüken")),
)
EWAN = Handwriting(
    {
        "goblet-squat": ("goblet squat", "goblet"),
        "dumbbell-bench-press": ("db bench",),
        "pull-up": ("pull-ups", "pullups"),
        "plank": ("plank",),
        "split-squat": ("split squats",),
        "dumbbell-shoulder-press": ("db shoulder press",),
        "dumbbell-row": ("one-arm row",),
        "farmers-carry": ("farmers walk",),
    }
)
MARA = Handwriting(
    {
        "goblet-squat": ("Goblet squat",),
        "dumbbell-row": ("One-arm row",),
        "side-plank": ("Side plank",),
        "step-up": ("Step-ups",),
        "lat-pulldown": ("Lat pulldown",),
        "dumbbell-shoulder-press": ("Dumbbell shoulder press",),
        "hip-thrust": ("Hip thrust",),
        "romanian-deadlift": ("RDL",),
        "push-up": ("Push-ups",),
        "squat": ("Squat",),
        "bench-press": ("Bench press",),
    },
    (("lat-pulldown", "Lat puldown"),),
)
