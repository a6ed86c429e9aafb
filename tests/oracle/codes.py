"""The codes of the reasons as the page and the reasons' own page use them, and the part each plays."""

GATES = {
    "screening-not-asked", "screening-closed", "pregnancy-holds", "clearance-first", "after-clearance",
    "clinician-limits", "stop-sign-said", "fever-stops", "blood-pressure-high", "pain-episode-stop",
    "pain-episode-reduce", "pain-episode-hold", "restricted",
    "alone-under-the-bar", "youth-unsupervised", "youth-technique", "older-entry",
}  # fmt: skip
OWN_STOPS = {"pain-stop"}
DRIVERS = {
    "repetitions-rise", "range-filled", "beyond-range", "heaviest-load-reached", "sets-short", "effort-below-target",
    "technique-rough", "technique-broke", "pain-hold", "pain-stop", "missed-once", "missed-twice", "days-off-repeat",
    "days-off-return", "regain", "baseline-ramp", "baseline-after-layoff", "deload-taken", "limits-hold", "limits-ease",
    "scheme-holds", "own-range",
    "baseline-after-clearance", "range-not-full", "sets-later", "density-never",
}  # fmt: skip
LIMITS = {
    "weekly-limit", "twelve-week-limit", "pause-served", "regain-limit", "step-limit", "smallest-jump",
    "smallest-jump-refused", "no-load-under-limit", "limit-overruled", "return-index",
}  # fmt: skip
CAUTIONS = {
    "equipment-assumed", "marks-as-numbers",
    "body-mass-assumed", "screening-attested", "alone-not-asked", "older-defaults",
    "stop-signs", "own-rotation", "deload-offered",
    "unlogged-days", "two-versions",
}  # fmt: skip
ROLES = {
    **dict.fromkeys(GATES, "gate"),
    **dict.fromkeys(DRIVERS, "driver"),
    **dict.fromkeys(LIMITS, "limit"),
    **dict.fromkeys(CAUTIONS, "caution"),
    "rounded-down": "rounding",
}
WHY_UP = {"repetitions-rise", "range-filled", "beyond-range", "sets-short", "regain", "heaviest-load-reached"}
# A load that cannot be made here any more is brought down by rounding alone.
WHY_NOT_UP = (GATES | DRIVERS | LIMITS | {"rounded-down"}) - {"own-range", "repetitions-rise", "range-filled"}
