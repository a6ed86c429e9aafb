"""What the open data say, figure by figure, and how close a simulated figure must come to agree."""

from math import inf
from typing import NamedTuple

# Sources, all own computations from public rows (figures only; the rows are not part of the project):
# training: supervised training log of 289 trained people, 12 weeks, one set to failure on three machines
#   (Gschneidner, Carlson, Steele, Fisher, data posted with a 2024 preprint).
# beginners: Hammarstrom et al. 2020, J Physiol 598:543-565, 39 untrained people, one leg one set, the other three.
# meets: public-domain results of unassisted three-lift meets to 2018, 33,901 lifters with two meets or more.
# curve: Nuzzo et al. 2024, Sports Med 54(2):303-321, general model: mean and between-person SD of repetitions.
# reserve: Halperin et al. 2022, Sports Med 52(2):377-390: people report 0.95 (0.17-1.73) repetitions too few.
CLOSENESS = 0.15  # of the figure; our judgement


class Published(NamedTuple):
    """One figure: its key among the measured, what it is, its value as published, and the bounds of agreement."""

    key: str
    says: str
    value: float
    least: float
    most: float
    bounds: str = "15 %"


def _close(key: str, says: str, value: float) -> Published:
    least, most = sorted((value * (1 - CLOSENESS), value * (1 + CLOSENESS)))
    return Published(key, says, value, least, most)


TRAINING = (
    _close("repetitions uncertain", "one set to failure is uncertain by (repetitions)", 1.06),
    _close("scatter", "estimated 1RM around the own 12-week line, % (median)", 3.0),
    _close("scatter 25th", "estimated 1RM around that line, 25th percentile", 2.3),
    _close("scatter 75th", "estimated 1RM around that line, 75th percentile", 4.1),
    _close("gain a week", "gain a week, % (median)", 0.43),
    # The data's own error is wider than 15 %: that of a quartile is 1.36 SD / root n, with the SD (0.87 - 0.11) / 1.35
    # and n = 867 series 0.026.
    Published("gain a week 25th", "gain a week, 25th percentile", 0.11, 0.06, 0.16, "two errors, n = 867"),
    _close("gain a week 75th", "gain a week, 75th percentile", 0.87),
    _close("upward", "series that trend upward, %", 82),
    _close("runs of four", "series with four sessions running without a best, %", 70),
    _close("runs of six", "series with six or more, %", 41),
    _close("load rise", "load steps up, % (median)", 1.6),
    _close("load rise 25th", "load steps up, 25th percentile", 1.0),
    _close("load rise 75th", "load steps up, 75th percentile", 2.8),
    _close("load rise 90th", "load steps up, 90th percentile", 4.6),
    _close("same-load change", "the load repeated: change of repetitions, mean", 0.53),
    _close("same-load change SD", "the load repeated: change of repetitions, SD", 1.5),
    Published(
        "flat to 12 days",
        "the load repeated: change after 7-12 days less after 3-7 days",
        0,
        -0.2,
        0.2,
        "our judgement",
    ),
    # The data's count is not known here; "flat" and +0.2 are read as means of the change itself, not beside +0.53.
    Published("change after 12-21 days", "the load repeated: change after 12-21 days", 0.2, -0.1, 0.5, "our judgement"),
    # n = 25 and SD 1.5: two standard errors are 0.6.
    Published(
        "change beyond 21 days", "the load repeated: change beyond 21 days", -1.1, -1.7, -0.5, "two errors, n = 25"
    ),
)

BEGINNERS = (
    _close("after one session", "leg press after a single session, %", 9),
    *(
        _close(f"{sets}, week {week}", f"leg press, {sets}, week {week}, %", gain)
        for sets, gains in (("one set", (30, 44, 53, 57)), ("three sets", (34, 49, 61, 65)))
        for week, gain in zip((2, 5, 9, 12), gains, strict=True)
    ),
    # By Fisher's z with n = 39 an r of 0.875 lies in 0.77-0.93.
    Published("legs agree", "the two legs' gains correlate", 0.875, 0.77, 0.93, "two errors, n = 39"),
)


def _meets(
    changes: tuple[float, ...], down: float, ratios: tuple[float, ...], exponent: float
) -> tuple[Published, ...]:
    lifts = ("squat", "bench", "deadlift")
    return (
        *(
            _close(f"change to year {year}", f"best total, year {year - 1} to {year}, % (median)", change)
            for year, change in enumerate(changes, 2)
        ),
        _close("down in year 2", "lifters whose total fell to year 2, %", down),
        _close("bench/squat", "bench / squat at the best total", ratios[0]),
        _close("bench/squat SD", "bench / squat, SD between lifters", ratios[1]),
        _close("deadlift/squat", "deadlift / squat at the best total", ratios[2]),
        _close("deadlift/squat SD", "deadlift / squat, SD between lifters", ratios[3]),
        *(
            Published(f"{lift} scatter", f"{lift} around the own curve, %", 3.45, 3.0, 3.9, "as given")
            for lift in lifts
        ),
        Published("total scatter", "total around the own curve, %", 2.55, 2.3, 2.8, "as given"),
        _close("exponent", "total by body mass, exponent", exponent),
        Published("exponent bend", "exponent below the median mass less above", 0, 0, inf, "steeper below"),
    )


MEN = _meets((4.2, 2.4, 1.7), 19, (0.69, 0.14, 1.20, 0.19), 0.64)
WOMEN = _meets((5.7, 3.3, 2.2), 16, (0.58, 0.12, 1.27, 0.21), 0.43)
BOTH_SEXES = (_close("bench/squat within", "bench / squat, SD within a lifter", 0.034),)

CURVE = tuple(
    _close(f"{kind} at {per_cent} %", f"repetitions at {per_cent} % of 1RM, {kind}", value)
    for per_cent, mean, deviation in ((90, 4.94, 1.90), (80, 9.75, 2.51), (70, 14.80, 3.31), (60, 19.53, 4.37))
    for kind, value in (("mean", mean), ("SD", deviation))
)

RESERVE = (Published("reserve too low", "reserve reported too low by (repetitions)", 0.95, 0.17, 1.73, "as given"),)
