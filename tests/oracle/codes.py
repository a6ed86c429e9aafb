"""The codes of the reasons as the page and the reasons' own page use them, and the part each plays."""

DRIVERS = {
    "repetitions-rise", "range-filled", "beyond-range", "heaviest-load-reached", "sets-short", "effort-below-target",
    "technique-rough", "technique-broke", "pain-hold", "pain-stop", "missed-once", "missed-twice", "days-off-repeat",
    "days-off-return", "regain", "baseline-ramp", "baseline-after-layoff", "deload-taken", "limits-hold", "limits-ease",
    "scheme-holds", "own-range",
    "range-not-full", "sets-later", "density-never",
}  # fmt: skip
LIMITS = {
    "weekly-limit", "twelve-week-limit", "pause-served", "regain-limit", "step-limit", "smallest-jump",
    "smallest-jump-refused", "no-load-under-limit", "limit-overruled",
}  # fmt: skip
CAUTIONS = {
    "equipment-assumed", "body-mass-assumed", "screening-not-asked", "stop-signs", "own-rotation", "deload-offered",
    "unlogged-days", "two-versions",
}  # fmt: skip
ROLES = {
    **dict.fromkeys(DRIVERS, "driver"),
    **dict.fromkeys(LIMITS, "limit"),
    **dict.fromkeys(CAUTIONS, "caution"),
    "rounded-down": "rounding",
}
WHY_UP = {"repetitions-rise", "range-filled", "beyond-range", "sets-short", "regain", "heaviest-load-reached"}
# A load that cannot be made here any more is brought down by rounding alone.
WHY_NOT_UP = (DRIVERS | LIMITS | {"rounded-down"}) - {"own-range", "repetitions-rise", "range-filled"}
