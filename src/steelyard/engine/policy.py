"""The coach's settings: each with its default, bounds, source and mark in one place."""

from datetime import date
from decimal import Decimal
from functools import cache
from typing import Annotated, Literal, get_args, get_type_hints

import msgspec
from msgspec import Struct

from .formulas import EQUATIONS
from .refused import ValueRefused

Mark = Literal["common practice", "published", "from memory", "our judgement"]


class PolicyRefused(ValueRefused):
    """A setting outside its bounds, or one that does not exist."""


class Setting(Struct, frozen=True, kw_only=True):
    """What is known of one setting: bounds (inclusive), where its default comes from, what it means.

    `surveyed` is what nearly all people asked in a survey do; outside it is not wrong, and said.
    """

    least: Decimal | None = None
    most: Decimal | None = None
    choices: tuple[str, ...] = ()
    surveyed: tuple[Decimal, Decimal] | None = None
    mark: Mark
    source: str
    meaning: str


def _number(least: str, most: str, mark: Mark, source: str, meaning: str) -> Setting:
    return Setting(least=Decimal(least), most=Decimal(most), mark=mark, source=source, meaning=meaning)


CP = "common practice, no source"
J = "our judgement, no source"
PRESSURE = "AHA 2007 (Williams et al., Circulation 116:572-584); our caution"


class Policy(Struct, frozen=True, kw_only=True):
    """Every number that the rules read."""

    scheme: Annotated[
        str,
        Setting(mark="common practice", source=CP, meaning="progression rule of every line"),
    ] = "double-progression"
    equation: Annotated[
        str,
        Setting(
            choices=tuple(EQUATIONS),
            mark="published",
            source="Epley 1985; which equation serves best differs by lift (LeSuer et al. 1997, from memory)",
            meaning="equation behind equivalent 1RMs",
        ),
    ] = "epley"
    trained_since: Annotated[
        date | None,
        Setting(
            mark="our judgement",
            source=J,
            meaning="day on which regular training began; unknown means the stricter limits",
        ),
    ] = None
    target_rir: Annotated[
        int,
        _number("0", "5", "common practice", CP, "repetitions in reserve at which work sets end"),
    ] = 2
    weekly_ceiling: Annotated[
        Decimal,
        _number(
            "0.005",
            "0.05",
            "common practice",
            "2-5 % a week; not shown to protect tissue",
            "most that a line's equivalent 1RM may rise over the best of the weeks before",
        ),
    ] = Decimal("0.03")
    weekly_ceiling_beginner: Annotated[
        Decimal,
        _number(
            "0.005",
            "0.05",
            "common practice",
            "2-5 % a week; not shown to protect tissue",
            "the same in the first 26 weeks of training",
        ),
    ] = Decimal("0.05")
    twelve_week_ceiling: Annotated[
        Decimal,
        _number("0.02", "0.25", "our judgement", J, "most that the equivalent may rise over twelve weeks"),
    ] = Decimal("0.10")
    twelve_week_ceiling_beginner: Annotated[
        Decimal,
        _number(
            "0.02",
            "0.60",
            "our judgement",
            "early gains are partly learning (Hammarstrom et al. 2020)",
            "the same in the first 26 weeks of training",
        ),
    ] = Decimal("0.25")
    step_ceiling: Annotated[
        Decimal,
        _number(
            "0.01",
            "0.10",
            "common practice",
            CP,
            "most that the load of one range may rise at once, if one loadable step is less",
        ),
    ] = Decimal("0.05")
    step_upper_kg: Annotated[
        Decimal,
        _number(
            "0.25",
            "5",
            "from memory",
            "NSCA load increases, smaller lifter, upper body: 1-2 kg",
            "load added to an upper-body line (kg)",
        ),
    ] = Decimal(2)
    step_lower_kg: Annotated[
        Decimal,
        _number(
            "0.25",
            "10",
            "from memory",
            "NSCA load increases, smaller lifter, lower body: 2-4 kg",
            "load added to a lower-body line (kg)",
        ),
    ] = Decimal(4)
    reference_training_weeks: Annotated[
        int,
        _number("3", "12", "our judgement", J, "latest weeks of normal training whose best is the reference"),
    ] = 6
    ease_after_misses: Annotated[
        Decimal,
        _number(
            "0.05",
            "0.10",
            "common practice",
            CP,
            "load taken off after the same line was missed twice, or technique broke",
        ),
    ] = Decimal("0.075")
    deload_after_training_weeks: Annotated[
        int,
        Setting(
            least=Decimal(1),
            most=Decimal(26),
            # 5.6 +- two standard deviations of 2.3 weeks
            surveyed=(Decimal("1.0"), Decimal("10.2")),
            mark="common practice",
            source="every 5.6 +- 2.3 weeks in a survey of 246 (Rogerson et al. 2024); untested against other intervals",
            meaning="training weeks after which a deload is offered",
        ),
    ] = 6
    deload_set_cut: Annotated[
        Decimal,
        _number(
            "0.30",
            "0.60",
            "common practice",
            "borrowed from taper studies, 41-60 % (Bosquet et al. 2007); no deload trial compared amounts",
            "share of the session's work sets left out in a deload",
        ),
    ] = Decimal("0.45")
    deload_load_cut: Annotated[
        Decimal,
        _number("0", "0.15", "common practice", CP, "load taken off in a deload"),
    ] = Decimal("0.075")
    return_cut_short: Annotated[
        Decimal,
        _number("0.05", "0.30", "common practice", CP, "load taken off after 14-27 days without training"),
    ] = Decimal("0.10")
    return_cut_long: Annotated[
        Decimal,
        _number("0.10", "0.50", "common practice", CP, "load taken off after 28-62 days without training"),
    ] = Decimal("0.20")
    return_rir: Annotated[
        int,
        _number("3", "4", "common practice", CP, "repetitions in reserve on the first sessions back"),
    ] = 3
    regain_ceiling: Annotated[
        Decimal,
        _number("0.05", "0.10", "common practice", CP, "most regained a week after a layoff, up to the reference"),
    ] = Decimal("0.075")
    ramp_below: Annotated[
        Decimal,
        _number(
            "0.50", "1", "our judgement", J, "unmarked sets below this share of the day's heaviest count as warm-up"
        ),
    ] = Decimal("0.85")
    assumed_body_mass_kg: Annotated[
        Decimal,
        _number(
            "30",
            "120",
            "our judgement",
            "light on purpose: a heavier guess would let added load rise faster",
            "body mass while none is known (kg)",
        ),
    ] = Decimal(50)
    most_repetitions: Annotated[
        int,
        _number(
            "12",
            "30",
            "published",
            "sizes grow over about 5-30 repetitions taken near failure (Schoenfeld et al. 2021, from memory)",
            "repetitions beyond which a line never goes",
        ),
    ] = 30
    rest_heavy_s: Annotated[
        int,
        _number(
            "120", "420", "published", "3-5 min for heavy work (ACSM 2009)", "rest of main lifts at six or fewer (s)"
        ),
    ] = 240
    rest_usual_s: Annotated[
        int,
        _number("60", "300", "common practice", CP, "rest of other large lifts (s)"),
    ] = 150
    rest_small_s: Annotated[
        int,
        _number("30", "240", "common practice", CP, "rest of small muscles (s)"),
    ] = 90
    # Settings of the gates: every default is the least careful value there is, so that a setting only makes a gate
    # stricter. See docs/reference/gates.md.
    moderate_rir: Annotated[
        int,
        _number("4", "5", "our judgement", J, "repetitions in reserve that stand for moderate effort"),
    ] = 4
    entry_training_weeks: Annotated[
        int,
        _number("4", "26", "our judgement", J, "weeks of a light start, for the inactive and from sixty-five"),
    ] = 4
    after_clearance_training_weeks: Annotated[
        int,
        _number("6", "26", "our judgement", J, "weeks of moderate effort after a birth, an operation, a heart event"),
    ] = 6
    clearance_months: Annotated[
        int,
        _number(
            "1", "12", "published", "within 12 months (Riebe et al. 2015, read second-hand)", "how long clearance lasts"
        ),
    ] = 12
    fever_wait_days: Annotated[
        int,
        _number(
            "2", "14", "our judgement", J, "days from the last fever to the check-in without it that opens training"
        ),
    ] = 2
    pressure_stop_upper: Annotated[
        int,
        _number("140", "180", "from memory", PRESSURE, "upper blood pressure above which there is no session (mmHg)"),
    ] = 180
    pressure_stop_lower: Annotated[
        int,
        _number("90", "110", "from memory", PRESSURE, "lower blood pressure above which there is no session (mmHg)"),
    ] = 110
    pressure_ask_upper: Annotated[
        int,
        _number("130", "160", "from memory", PRESSURE, "upper blood pressure above which a clinician is asked (mmHg)"),
    ] = 160
    pressure_ask_lower: Annotated[
        int,
        _number("85", "100", "from memory", PRESSURE, "lower blood pressure above which a clinician is asked (mmHg)"),
    ] = 100
    alone_rir: Annotated[
        int,
        _number("3", "5", "our judgement", J, "repetitions in reserve, alone without safeties, on lifts that can pin"),
    ] = 3
    youth_least_repetitions: Annotated[
        int,
        _number("6", "15", "from memory", "Lloyd et al. 2014", "fewest repetitions under eighteen without a sign-off"),
    ] = 6

    def __post_init__(self) -> None:
        for name, setting in settings().items():
            _check(name, getattr(self, name), setting)

    def is_beginner(self, on: date) -> bool:
        """Whether regular training is known to have begun less than 26 weeks before."""
        return self.trained_since is not None and 0 <= (on - self.trained_since).days < 26 * 7


def _no_such_value(name: str, typed: str, hint: object) -> PolicyRefused:
    """What was typed is no value of the setting's type."""
    if hint is Decimal:
        return PolicyRefused("{name} cannot be {typed!r}; write a number such as 0.02", name=name, typed=typed)
    if hint is int:
        return PolicyRefused("{name} cannot be {typed!r}; write a whole number such as 3", name=name, typed=typed)
    return PolicyRefused("{name} cannot be {typed!r}; write a day such as 2026-09-01", name=name, typed=typed)


def outside_survey(name: str, value: object) -> bool:
    """Whether a setting lies outside what surveyed people do."""
    surveyed = settings()[name].surveyed
    return surveyed is not None and not surveyed[0] <= Decimal(str(value)) <= surveyed[1]


@cache
def settings() -> dict[str, Setting]:
    """Every setting by name."""
    hints = get_type_hints(Policy, include_extras=True)
    return {name: get_args(hint)[1] for name, hint in hints.items()}


def _check(name: str, value: object, setting: Setting) -> None:
    if setting.choices and value not in setting.choices:
        raise PolicyRefused(
            "{name} is one of {choices}, not {value}", name=name, choices=", ".join(setting.choices), value=value
        )
    if setting.least is not None and setting.most is not None:
        number = Decimal(str(value))
        if not (number.is_finite() and setting.least <= number <= setting.most):
            raise PolicyRefused(
                "{name} is between {least} and {most}, not {value}",
                name=name,
                least=setting.least,
                most=setting.most,
                value=value,
            )


def changed(policy: Policy, changes: dict[str, str]) -> Policy:
    """The policy with some settings replaced by what was typed; refuses what is out of bounds or unknown."""
    hints = get_type_hints(Policy)
    values: dict[str, object] = {}
    for name, typed in changes.items():
        if name not in hints:
            raise PolicyRefused("there is no setting {name}; see `steelyard policy` for all of them", name=name)
        try:
            values[name] = msgspec.convert(typed or None, hints[name], strict=False)
        except msgspec.ValidationError as refused:
            raise _no_such_value(name, typed, hints[name]) from refused
    return msgspec.structs.replace(policy, **values)
