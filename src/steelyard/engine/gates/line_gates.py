"""What must hold before a line may rise: pain, technique, effort, completed sets; and the way back after a layoff."""

from collections.abc import Callable
from decimal import Decimal

from ..history import BASELINE_FROM_DAYS, REPEAT_FROM_DAYS, RETURN_FROM_DAYS, Exposure
from ..line import Line
from ..log import Pain
from ..proposal import Proposal
from ..reasons import (
    AnyReason,
    DaysOffRepeat,
    DaysOffReturn,
    EffortBelowTarget,
    MissedOnce,
    MissedTwice,
    PainHold,
    PainStop,
    Regain,
    SetsShort,
    TechniqueBroke,
    TechniqueRough,
)

# Pain bands: practice after the pain-monitoring model; three and more stops the exercise where no tendon pain is known.
STOP_FROM = 3
QUIET_SESSIONS = 2
LONG_LAYOFF_DAYS = 28


def pain_stop(line: Line) -> Proposal | None:
    """Pain of three or more, or of unknown height: no sets of this exercise."""
    pain = line.past[-1].exposure.pain
    if pain is None or not is_stop(pain):
        return None
    reason = PainStop(score=pain.score, words=pain.words, evidence=line.past[-1].exposure.evidence)
    return Proposal(course="stop", total=line.total, count=0, sets=0, rir=0, reasons=(reason,))


def layoff_return(line: Line) -> Proposal | None:
    """Two to nine weeks off: lighter, half the sets, more in reserve."""
    if not RETURN_FROM_DAYS <= line.days_off < BASELINE_FROM_DAYS:
        return None
    policy = line.policy
    cut = policy.return_cut_long if line.days_off >= LONG_LAYOFF_DAYS else policy.return_cut_short
    reason = DaysOffReturn(days=line.days_off, cut=cut, evidence=line.latest.evidence)
    return Proposal(
        course="return",
        total=line.total * (1 - cut),
        count=line.range.bottom,
        sets=max(1, line.usual_sets // 2),
        rir=max(policy.return_rir, policy.target_rir),
        reasons=(reason,),
    )


def technique_broke(line: Line) -> Proposal | None:
    """Technique broke: less load, to be earned back."""
    if line.latest.technique != "broke":
        return None
    cut = line.policy.ease_after_misses
    return _eased(line, TechniqueBroke(cut=cut, evidence=line.latest.evidence), cut)


def missed_twice(line: Line) -> Proposal | None:
    """The same line missed twice in a row: less load."""
    standing = [p.exposure for p in line.past if p.phase not in {"deload", "taper"}]
    if not is_missed(line, line.latest) or len(standing) < 2 or not is_missed(line, standing[-2]):
        return None
    if standing[-2].line_load > line.load:
        return None  # it was eased in between
    cut = line.policy.ease_after_misses
    reason = MissedTwice(previous=line.latest.counts, bottom=line.range.bottom, cut=cut, evidence=line.latest.evidence)
    return _eased(line, reason, cut)


def missed_once(line: Line) -> Proposal | None:
    """Missed once: the same line again."""
    if not is_missed(line, line.latest):
        return None
    reason = MissedOnce(previous=line.latest.counts, bottom=line.range.bottom, evidence=line.latest.evidence)
    return kept(line, reason, course="repeat")


def technique_rough(line: Line) -> Proposal | None:
    """Technique was rough: the line waits."""
    if line.latest.technique != "rough":
        return None
    return kept(line, TechniqueRough(evidence=line.latest.evidence))


def pain_hold(line: Line) -> Proposal | None:
    """Slight pain, or pain that stopped the exercise before and is not yet quiet for two sessions."""
    exposures = [p.exposure for p in line.past]
    painful = [i for i, e in enumerate(exposures) if e.pain is not None and e.pain.score != 0]
    if not painful:
        return None
    stops = [i for i in painful if is_stop(exposures[i].pain)]
    is_fresh = painful[-1] == len(exposures) - 1
    is_open = bool(stops) and len(exposures) - 1 - stops[-1] < QUIET_SESSIONS
    if not (is_fresh or is_open):
        return None
    exposure = exposures[stops[-1] if is_open else painful[-1]]
    pain = exposure.pain or Pain()
    quiet = QUIET_SESSIONS if is_open else 1
    reason = PainHold(score=pain.score, words=pain.words, quiet_sessions=quiet, evidence=exposure.evidence)
    return kept(line, reason)


def days_off_repeat(line: Line) -> Proposal | None:
    """A week or more without training: the same line again."""
    if not REPEAT_FROM_DAYS <= line.days_off < RETURN_FROM_DAYS:
        return None
    return kept(line, DaysOffRepeat(days=line.days_off, evidence=line.latest.evidence), course="repeat")


def regain(line: Line) -> Proposal | None:
    """On the way back: load up to what it was before the layoff, at the pace of the regain limit.

    In the first week the line stays; where no load between can be made, repetitions come back as they rise otherwise.
    """
    before = [p.exposure for p in line.past if p.phase == "normal" and p.epoch == line.past[-1].epoch]
    if line.latest_phase != "return" or not before or before[-1].line_load <= line.load:
        return None
    goal, pace = line.total_of(before[-1].line_load), line.policy.regain_ceiling
    spell = next(p.spell for p in reversed(line.past) if p.exposure is line.latest)
    back = [p.exposure for p in line.past if p.phase == "return" and p.spell == spell]
    week_old = [e for e in back if (line.on - e.on).days >= REPEAT_FROM_DAYS]
    total = line.total
    if week_old:
        total = min(goal, max(line.total_of(week_old[-1].line_load) * (1 + pace), line.total))
        step = line.limits.step
        reach = line.loadable.at_most(total if step is None else min(total, step.allowed()))
        if reach is None or reach <= line.total:
            return None
    return Proposal(
        course="return",
        total=total,
        count=max(line.range.bottom, min(line.held_count, line.range.top)),
        sets=line.usual_sets,
        rir=line.policy.target_rir,
        reasons=(Regain(pace=pace, toward=line.shown(goal), evidence=line.latest.evidence),),
    )


def sets_short(line: Line) -> Proposal | None:
    """Fewer work sets than usual: complete the line before it rises."""
    done = len(line.latest.work)
    if line.latest.is_ramp or done >= line.usual_sets:
        return None
    return kept(line, SetsShort(done=done, usual=line.usual_sets, evidence=line.latest.evidence), course="repeat")


def effort(line: Line) -> Proposal | None:
    """Less in reserve than the target: the line waits."""
    reported = line.latest.lowest_rir
    if reported is None or reported >= line.policy.target_rir:
        return None
    reason = EffortBelowTarget(reported_rir=reported, target_rir=line.policy.target_rir, evidence=line.latest.evidence)
    return kept(line, reason)


# The order is the rule: what asks for less comes before what asks for the same.
GATES: tuple[Callable[[Line], Proposal | None], ...] = (
    pain_stop,
    layoff_return,
    technique_broke,
    missed_twice,
    missed_once,
    technique_rough,
    pain_hold,
    days_off_repeat,
    effort,
    regain,
    sets_short,
)


def is_missed(line: Line, exposure: Exposure) -> bool:
    """Whether a set at the line's load failed or fell below the bottom of the range."""
    sets = () if exposure.is_ramp else exposure.line_sets
    return any(s.is_miss or s.count < line.range.bottom for s in sets)


def is_stop(pain: Pain | None) -> bool:
    """Whether pain is so high, or so little known, that the exercise stops."""
    return pain is not None and (pain.score is None or pain.score >= STOP_FROM)


def kept(line: Line, reason: AnyReason, course: str = "hold") -> Proposal:
    """The same again."""
    return Proposal(
        course="repeat" if course == "repeat" else "hold",
        total=line.total,
        count=min(max(line.held_count, line.range.bottom), line.policy.most_repetitions)
        if line.exercise.measure == "reps"
        else max(line.held_count, line.range.bottom),
        sets=line.usual_sets,
        rir=line.policy.target_rir,
        reasons=(reason,),
    )


def _eased(line: Line, reason: AnyReason, cut: Decimal) -> Proposal:
    """Load down by the cut, and by one loadable step at the least."""
    lighter = line.loadable.below(line.total)
    total = line.total * (1 - cut) if lighter is None else min(line.total * (1 - cut), lighter)
    return Proposal(
        course="ease",
        total=total,
        count=min(max(line.held_count, line.range.bottom), line.range.top),
        sets=line.usual_sets,
        rir=line.policy.target_rir,
        reasons=(reason,),
    )
