"""Every reason as an English sentence, fit for lifter and coach alike."""

from steelyard.engine import reasons as r

from .english_gates import gate_sentence
from .quantity import Voice

LEVERS = {
    "reps": "repetitions",
    "sets": "a set more",
    "frequency": "a day more",
    "density": "less rest",
    "load": "load",
}
COURSES = {
    "rise": "rises",
    "hold": "holds",
    "repeat": "again",
    "ease": "eases",
    "return": "comes back",
    "deload": "deload",
    "baseline": "finds a baseline",
    "stop": "left out",
}
LIMITS = {
    "weekly-limit": "weekly limit",
    "twelve-week-limit": "twelve-week limit",
    "step-limit": "step limit",
}


def english(reason: r.AnyReason, voice: Voice) -> str:
    """One reason in English."""
    match reason:
        case r.RepetitionsRise():
            last = f"Last time {voice.counts(reason.previous)} at {voice.load(reason.load)}."
            return f"{last} {reason.goal} on every set first; the load waits until all have {reason.top}."
        case r.RangeFilled():
            return (
                f"{voice.counts(reason.previous)} at {voice.load(reason.load)}: the range is full on every work set. "
                f"{voice.load(reason.next_load)} now; start again at {reason.bottom}."
            )
        case r.BeyondRange():
            return (
                f"The range is full at {voice.load(reason.load)}, but {voice.load(reason.next_load)} is too far yet. "
                f"Go on to {reason.goal} until it is in reach."
            )
        case r.HeaviestLoadReached():
            return f"{voice.load(reason.load)} is the heaviest that can be made here, so repetitions go on."
        case r.SetsShort():
            return f"{reason.done} of the usual {reason.usual} work sets were done. The whole line first, then more."
        case r.EffortBelowTarget():
            left = "Nothing" if not reason.reported_rir else f"Only {voice.number(reason.reported_rir)}"
            return f"{left} left in reserve last time, where {reason.target_rir} were meant to be. The same until it is easier."
        case r.TechniqueRough():
            return "Technique was rough last time. The same load until it is clean."
        case r.TechniqueBroke():
            return f"Technique broke last time. {voice.percent(reason.cut)} off the load; earn it back clean."
        case r.PainHold():
            until = "a session without pain" if reason.quiet_sessions == 1 else "two sessions at 2 of 10 or less"
            return f"Pain was noted ({_pain(reason, voice)}). Nothing rises before {until}."
        case r.PainStop():
            return (
                f"Pain was noted ({_pain(reason, voice)}). This exercise is left out. If it is sharp, new or swollen, or does "
                "not settle, see a doctor. It opens again with two light sessions of your own at 2 of 10 or less."
            )
        case r.MissedOnce():
            return f"Last time {voice.counts(reason.previous)}: short of {reason.bottom} on every set, once. The same again."
        case r.MissedTwice():
            return (
                f"Twice short of {reason.bottom} on every set ({voice.counts(reason.previous)} last time). "
                f"{voice.percent(reason.cut)} off, then build again."
            )
        case r.DaysOffRepeat():
            return f"{reason.days} days without training. The same as before; strength keeps that long."
        case r.DaysOffReturn():
            return (
                f"{reason.days} days without training. {voice.percent(reason.cut)} off the load, half the sets, "
                "more in reserve for the first sessions."
            )
        case r.Regain():
            return (
                f"On the way back to {voice.load(reason.toward)}: regaining is quicker than gaining, "
                f"up to {voice.percent(reason.pace)} a week."
            )
        case r.BaselineRamp():
            return (
                "No history of this lift. Climb these sets and stop at the first that leaves three in reserve, or where "
                "technique first changes. That set is the baseline; not every rung must be done."
            )
        case r.BaselineAfterLayoff():
            return (
                f"{reason.days} days without this lift: find a new baseline. Climb these sets, nothing above "
                f"{voice.load(reason.cap)}, and stop at the first that leaves three in reserve."
            )
        case r.DeloadTaken():
            return (
                f"Deload: about {voice.percent(reason.set_cut)} of the sets and {voice.percent(reason.load_cut)} of the "
                "load off, same exercises. May help fatigue; no proven gain in strength or size."
            )
        case r.LimitsHold():
            return "Nothing more fits under the limits yet. The same again."
        case r.LimitsEase():
            return "The last session went above what the limits allow today. The line comes down to what fits."
        case r.SchemeHolds():
            return "The progression rule asks for no more yet. The same again."
        case r.OwnRange():
            sets = "1 set" if reason.sets == 1 else f"{reason.sets} sets"
            return f"{reason.bottom}-{reason.top}, {sets}: read off the last sessions, since no plan says."
        case r.WeeklyLimit():
            return (
                f"Weekly limit: this would be an equivalent maximum of {voice.level(reason.wanted_kg, is_mark=reason.is_in_marks)}; "
                f"{voice.percent(reason.ceiling)} over the best of the weeks before "
                f"({voice.level(reason.reference_kg, is_mark=reason.is_in_marks)}) is {voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)}."
            )
        case r.TwelveWeekLimit():
            return (
                f"Twelve-week limit: {voice.percent(reason.ceiling)} over {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)}, the level of twelve "
                f"weeks ago or of the first week there is, is reached; {voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)} is the most for now. Hold for a week and look: tendon adapts more slowly than "
                "muscle. The coach may lift it (`steelyard overrule`)."
            )
        case r.PauseServed():
            return (
                f"{voice.percent(reason.ceiling)} over {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)} within twelve weeks was reached, and "
                "the line was held for a week since. It may go on, no faster than the weekly limit; mind tendons and joints."
            )
        case r.RegainLimit():
            return (
                f"Return limit: {voice.percent(reason.ceiling)} a week over {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)} is "
                f"{voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)}."
            )
        case r.StepLimit():
            return (
                f"Step limit: from {voice.load(reason.last)} by one step or {voice.percent(reason.ceiling)}, whichever is "
                f"more, so {voice.load(reason.allowed)} at the most."
            )
        case r.SmallestJump():
            return (
                f"The smallest step here is {voice.percent(reason.rise)} ({voice.load(reason.load)} to "
                f"{voice.load(reason.next_load)}), more than the limit. Taken since about {reason.predicted} repetitions are "
                f"in reach there, {reason.bottom} are needed, and technique and joints are good."
            )
        case r.SmallestJumpRefused():
            return (
                f"The smallest step here is {voice.percent(reason.rise)} ({voice.load(reason.load)} to "
                f"{voice.load(reason.next_load)}), more than the limit; about {reason.predicted} repetitions are in reach "
                f"there, {reason.bottom} are needed with good technique and no pain. More repetitions, another implement, or a set first."
            )
        case r.NoLoadUnderLimit():
            return f"Nothing that can be made here is under the limits; {voice.load(reason.lightest)} is the lightest."
        case r.LimitOverruled():
            how = "set aside" if reason.ceiling is None else f"set to {voice.percent(reason.ceiling)}"
            return f"The {LIMITS[reason.limit]} was {how} by {reason.by} until {reason.until}: {reason.why}."
        case r.RoundedDown():
            return f"{voice.load(reason.wanted)} cannot be made here; {voice.load(reason.made)} can."
        case r.EquipmentAssumed():
            return "Bar and plates are assumed (20 kg bar, pairs from 25 to 1.25 kg). Say yours with `steelyard equipment`."
        case r.MarksAsNumbers():
            return (
                "This line is in the machine's own marks. The limits read them as plain numbers, kilograms or not; "
                "the true step from mark to mark may differ, so mind how it feels."
            )
        case r.BodyMassAssumed():
            return (
                f"No body mass is known, so a light {voice.load(reason.assumed)} is assumed. "
                'Log one: `steelyard log "body mass 80kg"`.'
            )
        case r.BaselineAfterClearance():
            return (
                "The first time with this lift since training was cleared: find a new baseline. Climb these sets, nothing above "
                f"{voice.load(reason.cap)}, and stop at the first that leaves as much in reserve as is written, or at any symptom."
            )
        case r.ReturnIndex():
            sets = "1 set" if reason.sets == 1 else f"{reason.sets} sets"
            return (
                f"Second check in the first two weeks back: sets times repetitions times share of the maximum would be "
                f"{voice.number(reason.wanted)}, above {voice.number(reason.most)}; so {sets}."
            )
        case r.ScreeningAttested():
            return f"{reason.by} gave their word on {reason.on} that nothing stands against training; own answers: `steelyard screen NAME`."
        case r.AloneNotAsked():
            return "Do you lift alone here, and has the rack safeties? Say it once with `steelyard equipment`."
        case r.OlderDefaults():
            return (
                "From sixty-five a published position names as usual: two or three days a week, one or two exercises a large muscle, "
                "70-85 % of the maximum after an entry phase, two or three sets; one set is enough to begin with."
            )
        case r.StopSigns():
            return (
                "Stop and see a doctor: pain or pressure in chest, neck, jaw or arm; unusual breathlessness; dizziness or "
                "fainting; a racing or uneven heart; sudden severe headache; trouble seeing or speaking; a pop with loss of "
                "strength; a joint that locks or gives way; new numbness or weakness; dark urine. Loss of bladder or bowel "
                "control: emergency."
            )
        case r.OwnRotation():
            return f"No plan, so this follows your own rotation: the session of {reason.last_done} comes round again."
        case r.DeloadOffered():
            return (
                f"{reason.training_weeks} training weeks in a row. A deload is offered: about half the sets, a little less load, "
                "same exercises. It may help fatigue; no proven gain in strength or size. "
                "Take it with `--deload`; to skip and continue is a fair choice."
            )
        case r.UnloggedDays():
            return (
                f"Nothing is logged since {reason.latest} ({reason.days} days), so they count as days off. If you trained, log "
                "it, or say so with `--trained`."
            )
        case r.TwoVersions():
            return "Some entries have two versions; `steelyard history` marks them. Amend one to settle it."
        case r.RangeNotFull():
            return f"waits until every work set has {reason.top}"
        case r.SetsLater():
            return "comes when the response is slow and recovery is good"
        case r.DensityNever():
            return "shorter rest is never progress for strength"
        case _:
            return gate_sentence(reason, voice)


def _pain(reason: r.PainHold | r.PainStop, voice: Voice) -> str:
    score = "height not said" if reason.score is None else f"{voice.number(reason.score)} of 10"
    return f"{reason.words}, {score}" if reason.words else score
