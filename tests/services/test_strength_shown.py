"""What `strength` and `forecast` say through the services, against simulated lifters whose truth is known."""

from datetime import date, timedelta
from decimal import Decimal
from functools import cache

import msgspec
import numpy as np
import pytest
from tests.builders import a_set, sets_of
from tests.services.training import train

from steelyard.engine.log import CheckInBody, SetBody
from steelyard.engine.policy import Policy
from steelyard.engine.quantities import Load, kg
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import KINDS, Kind, Simulated
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.services.strength_shown import (
    ForecastAsked,
    ForecastShown,
    StrengthLine,
    StrengthShown,
    show_forecast,
    show_strength,
)
from steelyard.wording.quantity import Voice

BODIES: tuple[BodyName, ...] = ("by-dose", "by-drift")
LIFTERS, MEET_LIFTERS, WEEKS = 12, 30, 24
MONDAY = date(2026, 3, 2)


@cache
def simulated(number: int, kind: Kind = "trained", body: BodyName = "by-dose", weeks: int = WEEKS) -> Simulated:
    """A simulated lifter that no setting was chosen on."""
    rng = np.random.default_rng([61, number, BODIES.index(body)])
    return simulate(kind, rng, name=f"Ada {number}", begins=date(2026, 1, 5), weeks=weeks, body=body, slip_rate=0.0)


def keep(scribe: Scribe, *lifters: Simulated) -> None:
    """Each in the log with sets and body masses."""
    for lifter in lifters:
        person = train(scribe, lifter.name, lifter.sets)
        scribe.write([scribe.entry(person, check_in) for check_in in lifter.check_ins])


def strength(
    scribe: Scribe, name: str | None = None, *, on: date = MONDAY, exercise: str | None = None, is_all: bool = False
) -> StrengthShown:
    """What `strength` says on a day."""
    return show_strength(name, exercise, on, Voice(), scribe, is_all=is_all)


def line(shown: StrengthShown, exercise: str = "squat") -> StrengthLine:
    """The line of an exercise."""
    (found,) = [line for line in shown.lines if line.exercise == exercise]
    return found


def forecast(scribe: Scribe, exercise: str, on: date = MONDAY, **asked: object) -> ForecastShown:
    """What `forecast` says on a day."""
    return show_forecast(ForecastAsked(exercise=exercise, on=on, **asked), Voice(), scribe)  # type: ignore[arg-type] # by name


def squats(*, weeks: int = 8, load: int = 100, until: date = MONDAY) -> list[SetBody]:
    """A session a week up to a day: three sets of five with two left in the last."""
    days = [until - timedelta(weeks=week) for week in reversed(range(weeks))]
    return [body for on in days for body in sets_of(on, "squat", load, 5, 5, 5, rir=2)]


def weighed(on: date, mass: int) -> CheckInBody:
    """A body mass of a day."""
    return CheckInBody(on=on, body_mass=kg(mass))


@pytest.mark.parametrize("body", BODIES)
def test_the_estimate_is_near_the_truth_of_simulated_lifters(scribe: Scribe, body: BodyName) -> None:
    """Measured on these: median error 3.5 and 4.0 %, nine of ten within 8.6 and 11.3 %."""
    errors = []
    for lifter in (simulated(number, body=body) for number in range(LIFTERS)):
        keep(scribe, lifter)
        on = lifter.sets[-1].on
        shown = strength(scribe, lifter.name, on=on, is_all=True)
        assert {x.exercise for x in shown.lines} == set(lifter.levels)
        truth = {code: levels[-1] for code, levels in lifter.levels.items()}
        errors += [abs(x.one_rm_kg / truth[x.exercise][1] - 1) for x in shown.lines if truth[x.exercise][0] == on]
    assert len(errors) > 2 * LIFTERS
    assert np.median(errors) < 0.06
    assert np.quantile(errors, 0.9) < 0.15


def test_an_earlier_day_never_uses_what_came_later_to_the_bit(scribe: Scribe) -> None:
    lifter = simulated(0, "body-mass")
    on = lifter.sets[len(lifter.sets) // 2].on
    before = msgspec.structs.replace(
        lifter,
        name="Before",
        sets=tuple(body for body in lifter.sets if body.on <= on),
        check_ins=tuple(c for c in lifter.check_ins if c.on <= on),
    )
    after = [msgspec.structs.replace(b, reps=1, load=kg(500)) for b in lifter.sets if b.on > on]
    later = msgspec.structs.replace(
        before,
        name="Later",
        sets=(*before.sets, *after),
        check_ins=(*before.check_ins, *(weighed(c.on, 140) for c in lifter.check_ins if c.on > on)),
    )
    assert len(after) > 20 and len(later.check_ins) > len(before.check_ins)
    keep(scribe, before, later)
    one, two = (strength(scribe, name, on=on) for name in ("Before", "Later"))
    assert msgspec.json.encode(one.lines) == msgspec.json.encode(two.lines)
    code = one.lines[0].exercise
    asked = {"exercise": code, "on": on, "load": kg(20), "repetitions": 5, "goal": kg(60)}
    ahead = [msgspec.structs.asdict(forecast(scribe, name=name, **asked)) for name in ("Before", "Later")]  # type: ignore[arg-type] # by name
    assert {k for k in ahead[0] if ahead[0][k] != ahead[1][k]} == {"lifter"}
    today = [strength(scribe, name, on=lifter.sets[-1].on) for name in ("Before", "Later")]
    assert today[0].lines != today[1].lines


def test_what_a_level_rests_on_is_counted(scribe: Scribe) -> None:
    train(scribe, "Ada", [*squats(weeks=3), a_set(MONDAY, "squat", 140, 0, missed="strength", session=2)])
    found = line(strength(scribe))
    assert (found.sessions, found.last_session) == (4, "2026-03-02")
    assert found.sets == {"bound": 6, "reserve": 3, "attempt": 1}
    assert [point.date for point in found.course] == ["2026-02-16", "2026-02-23", "2026-03-02", "2026-03-02"]
    last = found.course[-1]
    assert (last.one_rm_kg, last.low_kg, last.high_kg) == (found.one_rm_kg, found.low80_kg, found.high80_kg)
    assert found.low95_kg < found.low80_kg < found.one_rm_kg < found.high80_kg < found.high95_kg
    assert found.gain_low_pct < found.gain_pct_per_week < found.gain_high_pct


def test_the_body_counts_by_its_share_with_the_mass_of_that_day(scribe: Scribe) -> None:
    days = [MONDAY - timedelta(weeks=week) for week in reversed(range(8))]
    for name, mass, added in (("Light", 80, 10), ("Heavy", 85, 5)):
        sets = [body for on in days for body in sets_of(on, "pull-up", added, 5, 5, rir=2)]
        person = train(scribe, name, sets)
        scribe.write([scribe.entry(person, weighed(days[0], mass)), scribe.entry(person, weighed(MONDAY, 200))])
    on = MONDAY - timedelta(days=1)
    light, heavy = (forecast(scribe, "pull-up", on, name=name, load=kg(15)) for name in ("Light", "Heavy"))
    assert (light.line.body_mass_kg, heavy.line.body_mass_kg) == (80, 85)
    assert not light.line.is_body_mass_assumed
    assert light.line.one_rm_kg == pytest.approx(heavy.line.one_rm_kg, rel=1e-12)
    # Seven possible at 90 kg: 111 kg by Epley's equation; nothing else is known of the two.
    assert light.line.one_rm_kg == pytest.approx(90 * (1 + 7 / 30), rel=0.06)
    for one, two in zip(light.loads, heavy.loads, strict=True):
        assert (one.even_kg - two.even_kg, one.safe_kg - two.safe_kg) == pytest.approx((5, 5), abs=1e-9)
    assert light.likeliest is not None and heavy.likeliest is not None
    assert light.likeliest > heavy.likeliest  # +15 kg is more for whoever weighs more
    bare = forecast(scribe, "pull-up", on, name="Light", load=kg(0))
    assert bare.most is not None and light.most is not None and bare.most > light.most


def test_who_never_said_a_body_mass_is_taken_as_the_policy_takes_them(scribe: Scribe) -> None:
    train(
        scribe,
        "Ada",
        [body for week in range(4) for body in sets_of(MONDAY - timedelta(weeks=week), "dip", None, 8, rir=1)],
    )
    found = line(strength(scribe), "dip")
    assert found.body_mass_kg == Policy().assumed_body_mass_kg
    assert found.is_body_mass_assumed
    assert found.one_rm_kg > found.body_mass_kg


def test_pounds_and_kilograms_of_the_same_load_are_the_same_strength(scribe: Scribe) -> None:
    in_pounds = [msgspec.structs.replace(body, load=Load(Decimal(225), "lb")) for body in squats()]
    in_kilograms = [msgspec.structs.replace(body, load=kg(Decimal("102.05828325"))) for body in squats()]
    train(scribe, "Pounds", in_pounds)
    train(scribe, "Kilograms", in_kilograms)
    one, two = (
        forecast(scribe, "squat", name=name, load=load, repetitions=5, sets=3, goal=goal)
        for name, load, goal in (
            ("Pounds", Load(Decimal(200), "lb"), Load(Decimal(300), "lb")),
            ("Kilograms", kg(Decimal("90.718474")), kg(Decimal("136.077711"))),
        )
    )
    assert msgspec.structs.replace(one, lifter="") == msgspec.structs.replace(two, lifter="")
    assert one.load_kg == pytest.approx(90.718474)


def test_after_twelve_weeks_an_exercise_is_left_out_unless_asked_for(scribe: Scribe) -> None:
    twelve_weeks = MONDAY - timedelta(weeks=12)
    benched = [
        body
        for n in range(4)
        for body in sets_of(twelve_weeks - timedelta(days=7 * n + 1), "bench-press", 60, 8, rir=2)
    ]
    train(scribe, "Ada", [*benched, *squats(until=twelve_weeks)])
    of_late, everything = strength(scribe), strength(scribe, is_all=True)
    assert [x.exercise for x in of_late.lines] == ["squat"]
    assert of_late.left_out == 1
    assert {x.exercise for x in everything.lines} == {"squat", "bench-press"}
    assert everything.left_out == 0
    named = strength(scribe, exercise="bench press")
    assert [x.exercise for x in named.lines] == ["bench-press"]
    assert named.left_out == 0
    assert line(of_late) == line(everything)
    day_after = strength(scribe, on=MONDAY + timedelta(days=1))
    assert (day_after.lines, day_after.left_out) == ((), 2)


def test_time_without_training_widens_the_range(scribe: Scribe) -> None:
    train(scribe, "Ada", squats())
    spreads = []
    for weeks in (0, 4, 12, 26, 52):
        found = line(strength(scribe, on=MONDAY + timedelta(weeks=weeks), is_all=True))
        spreads.append(found.high80_kg / found.low80_kg)
    assert spreads == sorted(spreads)
    assert spreads[-1] > spreads[0] * 1.05


def test_what_is_ahead_hangs_together(scribe: Scribe) -> None:
    train(scribe, "Ada", squats())
    shown = forecast(scribe, "squat", load=kg(90), sets=3, repetitions=5, reserve=2, goal=kg(125))
    even, safe = [x.even_kg for x in shown.loads], [x.safe_kg for x in shown.loads]
    assert [x.repetitions for x in shown.loads] == [1, 3, 5, 8, 10, 12]
    assert even == sorted(even, reverse=True) and safe == sorted(safe, reverse=True)
    assert all(less < more for less, more in zip(safe, even, strict=True))
    for load in shown.loads:
        for added, chance in ((load.even_kg, 0.5), (load.safe_kg, 0.9)):
            again = forecast(scribe, "squat", load=kg(Decimal(str(round(added, 3)))), repetitions=load.repetitions)
            assert again.chance == pytest.approx(chance, abs=0.02)
    assert shown.fewest is not None and shown.likeliest is not None and shown.most is not None
    assert shown.fewest <= shown.likeliest <= shown.most
    as_seven = forecast(scribe, "squat", load=kg(90), sets=3, repetitions=7)
    assert shown.chance == as_seven.chance
    one_set = forecast(scribe, "squat", load=kg(90), repetitions=7)
    assert one_set.chance is not None and shown.chance is not None and one_set.chance >= shown.chance
    widths = [shown.line.high80_kg / shown.line.low80_kg, *(x.high80_kg / x.low80_kg for x in shown.ahead)]
    assert widths == sorted(widths)
    assert shown.ahead[0].one_rm_kg > shown.line.one_rm_kg  # it is expected to go on rising a little


def test_a_goal_is_told_as_three_days_or_as_not_foreseeable(scribe: Scribe) -> None:
    train(scribe, "Ada", squats())
    level = line(strength(scribe))
    within, far = forecast(scribe, "squat", goal=kg(60)), forecast(scribe, "squat", goal=kg(900))
    assert (within.goal_earliest, within.goal_middle, within.goal_latest) == ("2026-03-02",) * 3
    assert (far.goal_earliest, far.goal_middle, far.goal_latest) == (None, None, None)
    soon = forecast(scribe, "squat", goal=kg(Decimal(str(round(level.one_rm_kg * 1.02, 2)))))
    assert soon.goal_earliest is not None and soon.goal_middle is not None
    assert "2026-03-02" <= soon.goal_earliest < soon.goal_middle
    assert soon.goal_latest is None or soon.goal_middle < soon.goal_latest


def test_absurd_loads_get_a_plain_answer(scribe: Scribe) -> None:
    train(scribe, "Ada", squats())
    heavy = forecast(scribe, "squat", load=kg(2000), repetitions=1)
    assert (heavy.fewest, heavy.likeliest, heavy.most) == (0, 0, 0)
    assert heavy.chance is not None and heavy.chance < 1e-3
    light = forecast(scribe, "squat", load=kg(1), repetitions=5, sets=3)
    assert light.fewest is not None and light.fewest > 30
    assert light.chance is not None and light.chance > 0.99


def test_each_machine_is_a_line_and_the_forecast_is_of_the_one_trained_last(scribe: Scribe) -> None:
    days = [MONDAY - timedelta(weeks=week) for week in range(1, 5)]
    train(
        scribe,
        "Ada",
        [
            *(a_set(on, "leg-curl", 60, 8, rir=1, implement="old") for on in days),
            *(a_set(on + timedelta(days=2), "leg-curl", 40, 8, rir=1, implement="new") for on in days),
        ],
    )
    shown = strength(scribe, exercise="leg curl")
    assert {x.implement for x in shown.lines} == {"old", "new"}
    of_mark = {x.implement: x.one_rm_kg for x in shown.lines}
    assert of_mark["old"] > 1.2 * of_mark["new"]
    assert forecast(scribe, "leg curl").line.implement == "new"


def test_it_tells_how_far_it_is(scribe: Scribe) -> None:
    train(scribe, "Ada", squats(weeks=5))
    told: list[tuple[int, int]] = []
    show_strength(None, None, MONDAY, Voice(), scribe, told=lambda done, total: told.append((done, total)))
    assert told == [(n, 5) for n in range(1, 6)]


@pytest.mark.parametrize(
    ("name", "exercise", "on", "said"),
    [
        ("Nobody", None, MONDAY, "no lifter 'Nobody'"),
        (None, None, MONDAY, "more than one lifter"),
        ("Ada", "juggling", MONDAY, "'juggling' is no exercise"),
        ("Ada", "bench press", MONDAY, "has not trained bench press"),
        ("Ada", None, date(2020, 1, 1), "up to 2020-01-01"),
        ("Plank", None, MONDAY, "nothing that Plank has logged"),
    ],
)
def test_what_cannot_be_told_is_said(
    scribe: Scribe, name: str | None, exercise: str | None, on: date, said: str
) -> None:
    train(scribe, "Ada", squats())
    train(scribe, "Plank", [a_set(MONDAY, "plank", None, None, seconds=40), a_set(MONDAY, "lat-pulldown", None, 8)])
    with pytest.raises(Refused, match=said) as refused:
        strength(scribe, name, on=on, exercise=exercise)
    assert refused.value.remedy


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"load": kg(0)}, "nothing is lifted"),
        ({"goal": kg(0)}, "more than nothing"),
    ],
)
def test_a_load_of_nothing_is_refused_where_no_body_is_lifted(
    scribe: Scribe, asked: dict[str, object], said: str
) -> None:
    train(scribe, "Ada", squats())
    with pytest.raises(Refused, match=said):
        forecast(scribe, "squat", **asked)  # type: ignore[arg-type] # by name


def test_an_empty_log_holds_nobody(scribe: Scribe) -> None:
    with pytest.raises(Refused, match="holds nobody yet"):
        strength(scribe)


def shares_held(scribe: Scribe, *lifters: Simulated) -> list[float]:
    """Of each lifter: the share of exercises of the last day whose 80 % range holds the truth of that day."""
    shares = []
    for lifter in lifters:
        keep(scribe, lifter)
        on = lifter.sets[-1].on
        truth = {code: levels[-1][1] for code, levels in lifter.levels.items() if levels[-1][0] == on}
        shown = strength(scribe, lifter.name, on=on, is_all=True)
        shares.append(
            float(np.mean([x.low80_kg <= truth[x.exercise] <= x.high80_kg for x in shown.lines if x.exercise in truth]))
        )
    return shares


def test_the_range_holds_the_truth_about_as_often_as_it_says(scribe: Scribe) -> None:
    """80 of 100 within three standard errors over lifters of every kind; measured on these: 85, standard error 3.0.

    Only of the body by dose: of the other one it holds the truth less often (70 of 100, standard error 2.8, of 180).
    """
    shares = shares_held(
        scribe,
        *(
            simulated(n, KINDS[n % len(KINDS)], weeks=156 if KINDS[n % len(KINDS)] == "competitor" else 26)
            for n in range(60)
        ),
    )
    error = np.std(shares) / np.sqrt(len(shares))
    assert error < 0.05
    assert abs(np.mean(shares) - 0.8) <= 3 * error


@pytest.mark.parametrize("body", BODIES)
def test_the_range_of_who_lifts_singles_in_meets_holds_the_truth_as_often_as_it_says(
    scribe: Scribe, body: BodyName
) -> None:
    """At least 80 of 100, less twice the standard error of such a share over these lifters (three lifts each)."""
    shares = shares_held(scribe, *(simulated(n, "competitor", body, weeks=156) for n in range(MEET_LIFTERS)))
    assert np.mean(shares) >= 0.8 - 2 * np.std(shares) / np.sqrt(len(shares))
