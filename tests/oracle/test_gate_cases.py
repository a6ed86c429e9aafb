"""Check cases of screening, pain, special groups and returns, held from outside: a log goes in, a sheet comes out.

Each case says where it comes from. Thresholds "from memory" were not read again in the original and are our cautions.
"""

from datetime import date, timedelta
from fractions import Fraction
from itertools import product

import pytest
from tests.builders import a_set, sets_of

from steelyard.engine.body import Body
from steelyard.engine.health import (
    Answer,
    Condition,
    EpisodeBody,
    ScreeningBody,
    Sign,
)
from steelyard.engine.log import CheckInBody, LifterBody, Pain
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, Sheet

from .gate_case_builders import (
    COACH,
    OK,
    ON,
    RISING,
    RISING_LONG,
    answered,
    cleared,
    codes,
    heaviest,
    is_held,
    is_nothing,
    least_rir,
    line,
    said,
    sheet,
)
from .gate_words import HARMLESS, SIGNS, STOPPING

NOT_UNKNOWN: tuple[Answer, ...] = ("yes", "no")


def test_the_logs_of_these_cases_rise_where_nothing_is_closed() -> None:
    """Without this every "no rise" below could be true for another reason."""
    for bodies in (RISING, RISING_LONG):
        assert line(*bodies, answered("yes", "no", "no")).course == "rise"
        assert line(*bodies, OK).course == "rise"


# S1. Riebe et al. 2015, Med Sci Sports Exerc 47:2473-2479 (table read second-hand). Published: what needs clearance,
# for moderate and for vigorous effort. That heavy lifting is vigorous, and four in reserve are moderate: our judgement.

MODERATE = {
    ("no", "no", "no"): True,
    ("no", "yes", "no"): False,
    ("no", "no", "yes"): False,
    ("no", "yes", "yes"): False,
    ("yes", "no", "no"): True,
    ("yes", "yes", "no"): True,
    ("yes", "no", "yes"): False,
    ("yes", "yes", "yes"): False,
}
VIGOROUS = {**dict.fromkeys(MODERATE, False), ("yes", "no", "no"): True}
SIXTEEN = tuple(product(MODERATE, ("moderate", "vigorous")))


@pytest.mark.parametrize(("row", "effort"), SIXTEEN)
def test_s1_the_table_without_clearance(row: tuple[Answer, Answer, Answer], effort: str) -> None:
    made = sheet(*RISING, answered(*row))
    given = bool(made.lines[0].sets)
    if effort == "moderate":
        assert given == MODERATE[row]
        assert is_nothing(made) == (not MODERATE[row])
    else:
        assert (given and least_rir(made.lines[0]) < 4) == VIGOROUS[row]
    assert ("screening-closed" in said(made)) == (not VIGOROUS[row])


@pytest.mark.parametrize("row", [row for row, is_free in MODERATE.items() if not is_free])
def test_s1_clearance_opens_moderate_effort_first(row: tuple[Answer, Answer, Answer]) -> None:
    """Riebe's "then light-moderate": a clearance that is not for vigorous effort leaves four in reserve."""
    needed: tuple[Condition, ...] = ("disease", "symptoms")
    opened = line(*RISING, answered(*row), *(cleared(condition) for condition in needed))
    assert opened.sets
    assert least_rir(opened) >= 4


@pytest.mark.parametrize("place", range(3))
@pytest.mark.parametrize("others", tuple(product(NOT_UNKNOWN, repeat=2)))
def test_s1_not_known_is_the_stricter_answer(place: int, others: tuple[Answer, Answer]) -> None:
    def with_answer(answer: Answer) -> Sheet:
        answers = [*others[:place], answer, *others[place:]]
        return sheet(*RISING, answered(answers[0], answers[1], answers[2]))

    unknown, yes, no = with_answer("unknown"), with_answer("yes"), with_answer("no")
    assert strictness(unknown) == max(strictness(yes), strictness(no))


def strictness(made: Sheet) -> tuple[bool, int]:
    """How strict a sheet is: stopped, then the reserve it asks for."""
    return (is_nothing(made), 0 if is_nothing(made) else least_rir(made.lines[0]))


def test_never_asked_holds_and_asks_and_a_coach_may_attest() -> None:
    """Our rule: loads at or below the last, no rises, and the question is asked."""
    made = sheet(*RISING)
    assert is_held(made.lines[0])
    assert "screening-not-asked" in said(made)
    attested = sheet(*RISING, OK)
    assert attested.lines[0].course == "rise"
    assert "screening-attested" in said(attested)


@pytest.mark.parametrize("row", [row for row in MODERATE if row != ("yes", "no", "no")])
def test_a_coach_attests_nothing_that_is_known(row: tuple[Answer, Answer, Answer]) -> None:
    """Our rule: an attest opens nothing that is known to be closed."""
    asked = answered(*row)
    assert strictness(sheet(*RISING, asked, OK)) == strictness(sheet(*RISING, asked))


# S2. Riebe et al. 2015: clearance within twelve months.


@pytest.mark.parametrize(("given", "is_free"), [(date(2025, 5, 1), False), (date(2025, 7, 1), True)])
def test_s2_clearance_lasts_twelve_months(given: date, is_free: bool) -> None:
    """Thirteen months old: needed again; eleven months and unchanged: allowed."""
    decision = line(*RISING, answered("yes", "yes", "no"), cleared("disease", given, vigorous=True))
    assert (decision.course == "rise") == is_free
    assert ("screening-closed" in codes(decision)) == (not is_free)


def test_s2_a_new_symptom_asks_for_a_new_clearance() -> None:
    told = (answered("yes", "no", "no", date(2026, 1, 1)), answered("yes", "no", "yes", date(2026, 5, 20)))
    assert is_nothing(sheet(*RISING, *told, cleared("symptoms", date(2026, 5, 1), vigorous=True)))
    assert line(*RISING, *told, cleared("symptoms", date(2026, 5, 21), vigorous=True)).course == "rise"


# S3. Riebe et al. 2015: risk factors alone (blood pressure under treatment, cholesterol) ask for no clearance.


def test_s3_risk_factors_alone_start_light() -> None:
    form = ScreeningBody(on=ON, by=COACH, active="no", disease="no", symptoms="no", form_outcome="high cholesterol")
    decision = line(*RISING, form, CheckInBody(on=ON, blood_pressure=(135, 85)))
    assert decision.sets
    assert least_rir(decision) >= 4


def test_s3_the_light_start_ends_after_some_weeks() -> None:
    """Riebe: "may build to vigorous"; that it takes four training weeks: our judgement."""
    assert line(*RISING_LONG, answered("no", "no", "no")).course == "rise"


# S4. Zones after Thomeé 1997 and Silbernagel et al. 2007 (read as abstract; zones and side rules from memory). Our rule
# is stricter: they hold only for a known pain of tendon or kneecap under guidance.


def pain(score: int | None, on: date = ON, *, guided: bool = True, **more: object) -> EpisodeBody:
    """One word on one pain of the squat."""
    nature = {"nature": "tendon", "guided_by": "a physio"} if guided else {}
    return EpisodeBody(episode="p", on=on, part="knee", score=score, exercises=("squat",), **nature, **more)  # type: ignore[arg-type]  # literals of the body


@pytest.mark.parametrize("score", [0, 2])
def test_s4_guided_pain_up_to_two_goes_on(score: int) -> None:
    assert line(*RISING, OK, pain(score)).course == "rise"


@pytest.mark.parametrize("score", [3, 5])
def test_s4_guided_pain_from_three_to_five_holds(score: int) -> None:
    decision = line(*RISING, OK, pain(score, next_morning="settled"))
    assert is_held(decision)
    assert "pain-episode-hold" in codes(decision)


def test_s4_still_up_next_morning_is_less() -> None:
    decision = line(*RISING, OK, pain(5, next_morning="worse"))
    assert is_held(decision)
    assert heaviest(decision) <= Fraction("92.5")
    assert "pain-episode-reduce" in codes(decision)


def test_s4_guided_pain_of_six_stops_the_exercise_and_no_other() -> None:
    told = (*RISING, *sets_of("2026-05-28", "bench-press", 60, 8, 8, 8, rir=3), OK, pain(6))
    assert not line(*told).sets
    assert line(*told, exercise="bench-press").sets


def test_s4_a_pain_that_rises_over_three_weeks_is_less() -> None:
    words = (pain(2, date(2026, 5, 17)), pain(3, date(2026, 5, 24)), pain(4, date(2026, 5, 31)))
    decision = line(*RISING, OK, *words)
    assert "pain-episode-reduce" in codes(decision)
    assert heaviest(decision) <= Fraction("92.5")


@pytest.mark.parametrize(("score", "stops"), [(1, False), (2, False), (3, True), (5, True), (None, True)])
def test_s4_without_guidance_our_rule_is_stricter(score: int | None, stops: bool) -> None:
    decision = line(*RISING, OK, pain(score, guided=False))
    assert bool(decision.sets) != stops
    assert stops or is_held(decision)


@pytest.mark.parametrize("sign", ["new", "sharp", "swollen"])
def test_s4_new_sharp_or_swollen_stops_whatever_the_height(sign: str) -> None:
    """Our rule is stricter than the zones."""
    assert not line(*RISING, OK, pain(0, signs=(sign,))).sets


@pytest.mark.parametrize("noted", [Pain(3), Pain(None, "elbow")])
def test_s4_pain_beside_a_set_stops_the_exercise(noted: Pain) -> None:
    """Our rule is stricter: three and more, or of unknown height."""
    last = a_set("2026-05-30", "squat", 100, 7, pain=noted)
    assert not line(*RISING, last, OK).sets


def test_s4_nine_weeks_of_rest_are_no_lower_word() -> None:
    """Our rule: rest alone does not open it."""
    assert not line(*sets_of("2026-03-20", "squat", 100, 8, 8, pain=Pain(6)), OK).sets


@pytest.mark.parametrize("asked", [(), (answered("yes", "no", "no", pregnant="yes"),)])
@pytest.mark.parametrize("reps", [0, None])
def test_a_miss_at_a_new_load_raises_nothing(asked: tuple[Body, ...], reps: int | None) -> None:
    """Our rule: loads at or below the last; what was never lifted is no last load."""
    assert is_held(line(*RISING, a_set("2026-05-30", "squat", 140, reps), *asked))


# S5. Dark urine, swelling with weakness (Nye et al. 2021, Curr Sports Med Rep 20:169-178): no training, whatever.

EVERYTHING_GOOD: tuple[Body, ...] = (
    answered("yes", "no", "no"),
    OK,
    *(cleared(c, date(2026, 5, 30), vigorous=True) for c in ("disease", "symptoms", "pain", "fever", "blood-pressure")),
    CheckInBody(on=ON, fever=False, blood_pressure=(118, 76)),
)


@pytest.mark.parametrize("words", ["dark urine", "cola-coloured urine", "Urin ist dunkel", "arms swollen and weak"])
def test_s5_words_stop_everything(words: str) -> None:
    beside_a_set = a_set("2026-05-31", "squat", 100, 5, note=words)
    told: tuple[Body, ...] = (CheckInBody(on=ON, note=words), beside_a_set, pain(1, note=words))
    for body in told:
        made = sheet(*RISING, *EVERYTHING_GOOD, body)
        assert is_nothing(made), body
        assert code_of(made.cautions[0]) == "stop-sign-said"


@pytest.mark.parametrize("sign", ["dark-urine", "swelling-with-weakness"])
def test_s5_ticked_signs_stop_everything(sign: Sign) -> None:
    made = sheet(*RISING, *EVERYTHING_GOOD, CheckInBody(on=ON, signs=(sign,)))
    assert is_nothing(made)
    assert "deload-offered" not in said(made)


def test_s5_only_a_clearance_since_then_opens() -> None:
    ill = CheckInBody(on=date(2026, 5, 29), signs=("dark-urine",))
    well = CheckInBody(on=ON, note="all fine again", fever=False)
    assert is_nothing(sheet(*RISING, OK, ill, well))
    assert is_nothing(sheet(*RISING, OK, ill, cleared("stop-sign", date(2026, 5, 28))))
    assert line(*RISING, OK, ill, cleared("stop-sign", date(2026, 5, 30))).sets


@pytest.mark.parametrize("words", sorted(STOPPING))
def test_words_that_say_a_stop_sign(words: str) -> None:
    """The list of the page: Riebe et al. 2015; ACOG 2020; Nye et al. 2021; single items from memory."""
    assert is_nothing(sheet(*RISING, OK, CheckInBody(on=ON, note=words)))


@pytest.mark.parametrize("words", HARMLESS)
def test_words_that_deny_one_or_mean_something_else(words: str) -> None:
    assert line(*RISING, OK, CheckInBody(on=ON, note=words)).course == "rise"


def test_a_denial_of_one_sign_does_not_silence_another_note() -> None:
    both = (CheckInBody(on=ON, note="no chest pain"), CheckInBody(on=ON, note=SIGNS[0]))
    assert is_nothing(sheet(*RISING, OK, *both))


# S6. Under eighteen: Stricker et al. 2020, Pediatrics 145:e20201011; Lloyd et al. 2014, Br J Sports Med 48:498-505
# (fewer than six repetitions only with proven technique: from memory).

SINGLES = tuple(
    body
    for day in ("05-18", "05-21", "05-25", "05-28")
    for body in sets_of(f"2026-{day}", "squat", 100, 1, 1, 1, rir=2)
)


def youth(**named: str) -> tuple[Body, ...]:
    """A lifter of fifteen, and who is named."""
    return (LifterBody(name="x", birth_year=2011), ScreeningBody(on=ON, by=COACH, **named), OK)  # type: ignore[arg-type]  # names only


def test_s6_no_adult_named_no_rise() -> None:
    made = sheet(*RISING, *youth(technique_signed_by=COACH))
    assert is_held(made.lines[0])
    assert "youth-unsupervised" in said(made)
    assert line(*RISING, *youth(technique_signed_by=COACH, supervised_by="an adult")).course == "rise"


def test_s6_a_blank_is_no_name() -> None:
    assert is_held(line(*RISING, *youth(technique_signed_by=COACH, supervised_by=" ")))


def test_s6_no_singles_without_a_sign_off() -> None:
    decision = line(*SINGLES, *youth(supervised_by="an adult"))
    assert min(s.reps or 0 for s in decision.sets if s.kind != "warm-up") >= 6
    assert heaviest(decision) < 100
    assert "youth-technique" in codes(decision)
    signed = line(*SINGLES, *youth(supervised_by="an adult", technique_signed_by=COACH))
    assert "youth-technique" not in codes(signed)


@pytest.mark.parametrize(("born", "is_young"), [(2007, False), (2008, True), (2009, True)])
def test_s6_who_turns_eighteen_this_year_may_be_seventeen(born: int, is_young: bool) -> None:
    made = sheet(*RISING, OK, LifterBody(name="x", birth_year=born))
    assert ("youth-unsupervised" in said(made)) == is_young


# S7. From 65: Fragala et al. 2019, J Strength Cond Res 33:2019-2052 (read second-hand): 70-85 % after an entry phase.


@pytest.mark.parametrize(("born", "is_older"), [(1961, True), (1962, False)])
def test_s7_an_entry_phase_first(born: int, is_older: bool) -> None:
    """Its length and reserve: our judgement."""
    lifter = LifterBody(name="x", birth_year=born)
    made = sheet(*RISING, OK, lifter)
    assert (least_rir(made.lines[0]) >= 4) == is_older
    assert ("older-defaults" in said(made)) == is_older
    assert line(*RISING_LONG, OK, lifter).course == "rise"


def test_s7_one_set_is_enough() -> None:
    """Fragala: a single set is acceptable at entry."""
    single = tuple(a_set(f"2026-05-{d}", "squat", 60, 8, rir=4) for d in (18, 21, 25, 28))
    decision = line(*single, OK, LifterBody(name="x", birth_year=1950))
    assert sum(s.kind == "work" for s in decision.sets) == 1


# S8. Pregnancy: ACOG 2020, Committee Opinion 804 (read second-hand; the list of signs from memory).


@pytest.mark.parametrize("said_so", ["yes", "unknown"])
def test_s8_no_rise_and_the_provider_is_asked_for(said_so: Answer) -> None:
    told = answered("yes", "no", "no", date(2026, 5, 30), pregnant=said_so)
    made = sheet(*RISING, told)
    assert is_held(made.lines[0])
    assert least_rir(made.lines[0]) >= 4
    assert "pregnancy-holds" in said(made)
    by_provider = line(*RISING, told, cleared("pregnancy", date(2026, 5, 31)))
    assert is_held(by_provider)
    assert "pregnancy-holds" in codes(by_provider)


PREGNANCY_SIGNS: tuple[Sign, ...] = (
    "bleeding",
    "abdominal-pain",
    "contractions",
    "fluid-leak",
    "breathless",
    "faint",
    "severe-headache",
    "chest",
    "numbness-or-weakness",
    "calf-pain",
    "leg-swelling",
)


@pytest.mark.parametrize("sign", PREGNANCY_SIGNS)
def test_s8_any_stop_sign_stops(sign: Sign) -> None:
    told = answered("yes", "no", "no", date(2026, 5, 30), pregnant="yes")
    assert is_nothing(sheet(*RISING, told, cleared("pregnancy"), CheckInBody(on=ON, signs=(sign,))))


# S9. Blood pressure: AHA 2007 (Williams et al., Circulation 116:572-584), all four bounds from memory: our caution.


@pytest.mark.parametrize(
    ("read", "effect"),
    [
        ((182, 100), "stop"),
        ((150, 112), "stop"),
        ((181, 90), "stop"),
        ((180, 110), "ask"),
        ((165, 95), "ask"),
        ((150, 101), "ask"),
        ((160, 100), "go on"),
        ((120, 80), "go on"),
    ],
)
def test_s9_bounds_of_blood_pressure(read: tuple[int, int], effect: str) -> None:
    made = sheet(*RISING, OK, CheckInBody(on=ON, blood_pressure=read))
    assert ("blood-pressure-high" in said(made)) == (effect != "go on")
    assert is_nothing(made) == (effect == "stop")
    if effect == "ask":
        assert is_held(made.lines[0])
        assert least_rir(made.lines[0]) >= 4
    if effect == "go on":
        assert made.lines[0].course == "rise"


def test_s9_the_newest_reading_counts() -> None:
    high, lower = (CheckInBody(on=date(2026, 5, d), blood_pressure=p) for d, p in ((30, (190, 120)), (31, (125, 80))))
    assert line(*RISING, OK, lower, high).course == "rise"  # entered in the wrong order


# Training alone: our judgement; deaths at home are mostly unspotted benching (Lombardi & Troxel, from memory).


@pytest.mark.parametrize(
    ("exercise", "pins"), [("squat", True), ("bench-press", True), ("dumbbell-bench-press", False)]
)
def test_alone_without_safeties_ends_further_from_the_last_repetition(exercise: str, pins: bool) -> None:
    done = tuple(body for d in (18, 21, 25, 28) for body in sets_of(f"2026-05-{d}", exercise, 40, 1, 1, 1, rir=2))
    decision = line(*done, OK, exercise=exercise, alone="yes")
    assert (least_rir(decision) >= 3) == pins
    assert ("alone-under-the-bar" in codes(decision)) == pins


# After a birth, an operation, a heart event; fever: our judgement.


@pytest.mark.parametrize(
    ("condition", "told"),
    [
        ("birth", ScreeningBody(on=ON, by=COACH, gave_birth="yes", birth_on=date(2026, 4, 1))),
        ("surgery", ScreeningBody(on=ON, by=COACH, surgery="unknown")),
        ("heart-event", ScreeningBody(on=ON, by=COACH, heart_event="yes", heart_event_on=date(2020, 1, 1))),
    ],
)
def test_a_clinician_clears_first_and_then_it_begins_anew(condition: Condition, told: ScreeningBody) -> None:
    assert is_nothing(sheet(*RISING, OK, told))
    assert is_nothing(sheet(*RISING, OK, told, cleared("disease", vigorous=True)))
    anew = line(*RISING, OK, told, cleared(condition))
    assert all(s.kind in {"warm-up", "ramp"} for s in anew.sets)
    assert heaviest(anew) <= 80
    assert least_rir(anew) >= 4


def test_fever_opens_two_days_after_it() -> None:
    ill = CheckInBody(on=date(2026, 5, 29), fever=True)
    assert is_nothing(sheet(*RISING, OK, ill))
    assert is_nothing(sheet(*RISING, OK, ill, CheckInBody(on=date(2026, 5, 30), fever=False)))
    assert line(*RISING, OK, ill, CheckInBody(on=date(2026, 5, 31), fever=False)).sets


# R2. Caterisano et al. 2019, Strength Cond J 41(3):1-23: sets x repetitions x share of 1RM within 11-30 in the first
# two weeks back; that above 30 is not allowed: from memory. Ours takes sets away above 30; it never guards the load.


def index_of(decision: Decision, best: Fraction) -> Fraction:
    """Sets x repetitions x share of the best equivalent before (Epley)."""
    work = [s for s in decision.sets if s.load and s.kind == "work"]
    return sum((Fraction(s.load.magnitude if s.load else 0) * (s.reps or 0) / best for s in work), Fraction(0))


@pytest.mark.parametrize(("sets", "reps"), [(3, 10), (6, 10), (10, 10), (16, 12), (20, 20)])
def test_r2_the_index_stays_within_thirty_after_a_layoff(sets: int, reps: int) -> None:
    done = tuple(body for d in (4, 7, 11) for body in sets_of(f"2026-05-{d:02}", "squat", 80, *[reps] * sets))
    best = 80 * (1 + Fraction(reps + 2, 30))
    decision = line(*done, OK)
    assert decision.course == "return"
    assert 0 < index_of(decision, best) <= 30
    half = sets // 2 or 1
    assert (sum(s.kind == "work" for s in decision.sets) < half) == ("return-index" in codes(decision))


# R4. Halonen et al. 2024, Scand J Med Sci Sports: ten weeks off were regained in about five, and not from nothing.


def followed(days: int) -> list[tuple[int, Fraction]]:
    """Two sessions a week after ten weeks off, each done as the sheet asks: days since the first, best equivalent."""
    days_before = [date(2025, 12, 1) + timedelta(4 * n) for n in range(12)]
    log: list[Body] = [*(body for on in days_before for body in sets_of(on, "squat", 100, 8, 8, 8)), OK]
    first = date(2026, 1, 14) + timedelta(70)
    reached = []
    for passed in range(0, days, 4):
        on = first + timedelta(passed)
        planned = [s for s in line(*log, on=on).sets if s.kind != "warm-up"]
        reached.append(
            (passed, max(Fraction(s.load.magnitude) * (1 + Fraction((s.reps or 0) + 2, 30)) for s in planned if s.load))
        )
        log += [a_set(on, "squat", s.load, s.reps, rir=s.target_rir, kind=s.kind) for s in planned]
    return reached


def test_r4_after_ten_weeks_off_neither_the_old_best_at_once_nor_nothing() -> None:
    best = 100 * (1 + Fraction(10, 30))
    reached = followed(35)
    assert all(worth < best for passed, worth in reached if passed < 28)
    assert reached[0][1] > best / 3


# R5. Mujika & Padilla 2001: a week off changes strength by no more than the error; no bound on the way back.


def test_r5_a_week_off_repeats_the_line() -> None:
    """Ours repeats the line after seven days (common practice, no source): a little stricter than the source asks."""
    decision = line(*RISING, OK, on=date(2026, 6, 4))
    assert decision.course in {"repeat", "hold"}
    assert heaviest(decision) == 100
    assert not codes(decision) & {"return-index", "days-off-return"}


# R6. Caterisano et al. 2019, from memory: no step on after dark urine in the week before.


def test_r6_dark_urine_on_the_way_back_stops_the_next_step() -> None:
    away = tuple(body for d in (1, 4, 7) for body in sets_of(f"2026-05-{d:02}", "squat", 100, 8, 8, 8))
    back = sets_of("2026-05-28", "squat", 90, 8, 8, rir=3)
    assert line(*away, *back, OK).sets
    assert is_nothing(sheet(*away, *back, OK, CheckInBody(on=date(2026, 5, 29), note="dark urine since yesterday")))
