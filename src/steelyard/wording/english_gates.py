"""Every closed gate as an English sentence: what is closed, and what opens it."""

from typing import assert_never

from steelyard.engine import gate_reasons as g
from steelyard.engine.health import Sign

from .quantity import Voice

SIGNS: dict[Sign, str] = {
    "chest": "pain or pressure in the chest",
    "breathless": "unusual breathlessness",
    "faint": "dizziness or fainting",
    "palpitations": "a racing or uneven heart",
    "leg-swelling": "swollen legs or ankles",
    "calf-pain": "calf pain or swelling",
    "severe-headache": "a sudden or severe headache",
    "vision-or-speech": "trouble seeing or speaking",
    "pop": "a pop or tear",
    "joint-locking": "a joint that locks or gives way",
    "numbness-or-weakness": "numbness or weakness",
    "bladder-or-bowel": "loss of bladder or bowel control",
    "dark-urine": "dark urine",
    "swelling-with-weakness": "swelling with weakness",
    "pelvic-heaviness": "pelvic heaviness",
    "leakage": "leakage",
    "bleeding": "bleeding",
    "wound": "wound pain or an open wound",
    "fluid-leak": "a leak of fluid",
    "contractions": "contractions",
    "abdominal-pain": "strong abdominal pain",
}
EVENTS = {"birth": "a birth", "surgery": "an operation", "heart-event": "a heart event"}
QUESTIONS = {"active": "being active", "disease": "a known disease", "symptoms": "signs or symptoms"}
SIDES = {"left": "left ", "right": "right ", "both": "both sides, "}
PAIN_SIGNS = {"new": "new", "sharp": "sharp", "swollen": "swollen"}
EFFECTS = {"leave-out": "left out", "no-rise": "no rise", "at-most": "no heavier", "least-rir": "more in reserve"}


def gate_sentence(reason: g.AnyGateReason, voice: Voice) -> str:
    """One closed gate in English."""
    match reason:
        case g.ScreeningNotAsked():
            return (
                "Nobody has asked the questions before training yet, so nothing rises: loads and repetitions as last time at the "
                "most. Answer them with `steelyard screen NAME`, or a coach gives their word. With a heart, vessel, metabolic "
                "or kidney disease, signs of one, pregnancy, or after surgery: speak with a doctor before lifting."
            )
        case g.ScreeningClosed():
            return _screening(reason)
        case g.PregnancyHolds():
            if reason.cleared_by:
                return (
                    f"Pregnancy, cleared by {reason.cleared_by}: nothing rises by itself, and how it feels leads. This ends "
                    "when a later screening says otherwise (`steelyard screen NAME`)."
                )
            return (
                f"Pregnancy, or not known: has the obstetric provider cleared training? Until that is recorded nothing rises and "
                f"{reason.least_rir} stay in reserve (`steelyard screen NAME`)."
            )
        case g.ClearanceFirst():
            when = f" ({reason.since})" if reason.since is not None else ""
            return (
                f"After {EVENTS[reason.condition]}{when} a clinician clears training first. It opens with a recorded clearance "
                f"given since then (`steelyard screen NAME`), and begins with a new baseline."
            )
        case g.AfterClearance():
            return (
                f"After {EVENTS[reason.condition]}, cleared by {reason.by} on {reason.on}: {reason.least_rir} stay in reserve for the "
                f"first {reason.training_weeks} training weeks, and symptoms lead. It ends with those weeks."
            )
        case g.ClinicianLimits():
            until = f" until {reason.until}" if reason.until is not None else ""
            limits = "; ".join(_clinician(reason, voice))
            return f"{reason.by} set limits{until}: {limits}. Only a newer clearance changes them."
        case g.StopSignSaid():
            return _stop_sign(reason)
        case g.FeverStops():
            return (
                f"Fever on {reason.on}: no training. It opens with a check-in from {reason.opens_from} on that says there is none; "
                "if it lasts or you feel very ill, see a doctor."
            )
        case g.BloodPressureHigh():
            return _pressure(reason)
        case g.EpisodeStop():
            return (
                f"Pain in {_place(reason)}: {_height(reason)}. What provokes it is left out. New, sharp or swollen, or no better in "
                "some days: see a doctor. It opens with a lower word on this pain, with its end, or with a recorded clearance."
            )
        case g.EpisodeReduce():
            why = "was worse on the next morning" if reason.is_worse_next_morning else "has risen over three weeks"
            scores = ", ".join(str(s) for s in reason.scores)
            return (
                f"Pain in {_place(reason)} {why} ({scores} of 10): {voice.percent(reason.cut)} less than on {reason.on} at the "
                "least. It opens with a word that it has settled, with its end, or with a recorded clearance."
            )
        case g.EpisodeHold():
            guided = f", guided by {reason.guided_by}" if reason.guided_by else ""
            return (
                f"Pain in {_place(reason)} at {reason.score} of 10{guided}: the same load, no more. It has to settle by the next "
                "morning. It opens with a word of 0, with its end, or with a recorded clearance."
            )
        case g.Restricted():
            return _restricted(reason, voice)
        case g.AloneUnderTheBar():
            return (
                f"Alone, and no safeties that are known of: {reason.least_rir} stay in reserve and no maximal singles here; dumbbells or "
                "a machine are the better choice for hard sets. It opens when the place has safeties or somebody else (`steelyard equipment`)."
            )
        case g.YouthUnsupervised():
            return (
                "Under eighteen by the year of birth, and no adult is named who supervises: nothing rises. "
                "It opens when one is named (`steelyard screen NAME`)."
            )
        case g.YouthTechnique():
            return (
                f"Under eighteen and no sign-off of technique: {reason.least_repetitions} repetitions or more, no maximal singles, first "
                "loads light. It opens when somebody signs it off (`steelyard screen NAME`)."
            )
        case g.OlderEntry():
            return (
                f"From sixty-five the first {reason.training_weeks} training weeks are an entry: {reason.least_rir} stay in reserve, one set is "
                "enough. It ends with those weeks."
            )
        case _:
            assert_never(reason)


def _screening(reason: g.ScreeningClosed) -> str:
    unsure = ", ".join(QUESTIONS[question] for question in reason.unsure)
    not_known = f" Not known counts as the stricter answer ({unsure})." if unsure else ""
    if reason.row == "light-start":
        return (
            f"Not active before: a light to moderate start, {reason.least_rir} stay in reserve in the first training weeks. "
            f"It ends with those weeks.{not_known}"
        )
    if reason.row == "moderate-only":
        what = "Cleared, but not for hard effort" if reason.is_cleared else "A known disease"
        rises = "" if reason.is_cleared else " and nothing rises"
        return (
            f"{what}: moderate effort only, {reason.least_rir} stay in reserve{rises}. "
            f"Heavy lifting counts as hard here. It opens with a recorded clearance for hard effort, not older than a year.{not_known}"
        )
    what = {
        "disease-first": "A known disease, and not active so far: a clinician clears training first (`steelyard screen NAME`).",
        "symptoms-first": "Signs or symptoms: a clinician clears training first (`steelyard screen NAME`).",
        "stop": "Signs or symptoms: stop training until a clinician has cleared it (`steelyard screen NAME`).",
    }[reason.row]
    return f"{what} Nothing else opens it but other answers to the questions.{not_known}"


def _stop_sign(reason: g.StopSignSaid) -> str:
    said = ", ".join(SIGNS[sign] for sign in reason.signs)
    words = f' ("{reason.words}")' if reason.words else ""
    whom = "contact your obstetric provider now" if reason.is_pregnant else "get medical help now"
    return (
        f"Stop: {said}, on {reason.on}{words}. No training; {whom}, and if it is severe or getting worse call the emergency "
        "number. Training opens only with a recorded clearance given since then (`steelyard screen NAME`). If the "
        "words meant something else, amend the entry."
    )


def _pressure(reason: g.BloodPressureHigh) -> str:
    read = f"Blood pressure {reason.upper}/{reason.lower} on {reason.on}"
    opens = "It opens with a lower reading or a recorded clearance (`steelyard screen NAME`)."
    if reason.is_stop:
        return f"{read}: no session. Have it looked at by a doctor; with headache, chest pain or trouble seeing at once. {opens}"
    return f"{read}: talk to your clinician before lifting. Until then nothing rises and {reason.least_rir} stay in reserve. {opens}"


def _clinician(reason: g.ClinicianLimits, voice: Voice) -> list[str]:
    out = [reason.limits] if reason.limits else []
    out += [f"{reason.least_rir} in reserve at the least"] if reason.least_rir else []
    return out + ([f"at most {voice.load(reason.most_load)}"] if reason.most_load is not None else [])


def _place(reason: g.EpisodeStop | g.EpisodeHold | g.EpisodeReduce) -> str:
    return f"{SIDES[reason.side] if reason.side is not None else ''}{reason.part}"


def _height(reason: g.EpisodeStop) -> str:
    score = "height not said" if reason.score is None else f"{reason.score} of 10"
    return ", ".join([score, *(PAIN_SIGNS[sign] for sign in reason.signs)])


def _restricted(reason: g.Restricted, voice: Voice) -> str:
    what = EFFECTS[reason.effect]
    if reason.effect == "at-most" and reason.load is not None:
        what = f"at most {voice.load(reason.load)}"
    if reason.effect == "least-rir" and reason.rir is not None:
        what = f"{reason.rir} in reserve at the least"
    until = f" until {reason.until}" if reason.until is not None else ""
    due = (
        f" Its review was due on {reason.review}; please look at it."
        if reason.is_review_due and reason.review is not None
        else ""
    )
    return f"{reason.by} restricts this{until}: {what}; {reason.why}. It opens when the restriction is lifted or its time is over.{due}"
