"""Every closed gate as a German sentence: what is closed, and what opens it."""

from typing import assert_never

from steelyard.engine import gate_reasons as g
from steelyard.engine.health import Sign

from .quantity import Voice

SIGNS: dict[Sign, str] = {
    "chest": "Schmerz oder Druck in der Brust",
    "breathless": "ungewöhnliche Atemnot",
    "faint": "Schwindel oder Ohnmacht",
    "palpitations": "rasendes oder stolperndes Herz",
    "leg-swelling": "geschwollene Beine oder Knöchel",
    "calf-pain": "Schmerz oder Schwellung der Wade",
    "severe-headache": "plötzlicher oder heftiger Kopfschmerz",
    "vision-or-speech": "Störung beim Sehen oder Sprechen",
    "pop": "ein Knall oder Riss",
    "joint-locking": "ein Gelenk, das blockiert oder nachgibt",
    "numbness-or-weakness": "Taubheit oder Schwäche",
    "bladder-or-bowel": "Verlust der Kontrolle über Blase oder Darm",
    "dark-urine": "dunkler Urin",
    "swelling-with-weakness": "Schwellung mit Schwäche",
    "pelvic-heaviness": "Schwere im Becken",
    "leakage": "Urinverlust",
    "bleeding": "Blutung",
    "wound": "Wundschmerz oder offene Wunde",
    "fluid-leak": "Abgang von Flüssigkeit",
    "contractions": "Wehen",
    "abdominal-pain": "starker Bauchschmerz",
}
EVENTS = {"birth": "einer Geburt", "surgery": "einer Operation", "heart-event": "einem Herzereignis"}
QUESTIONS = {"active": "bisher aktiv", "disease": "bekannte Krankheit", "symptoms": "Zeichen oder Beschwerden"}
SIDES = {"left": "links, ", "right": "rechts, ", "both": "beidseits, "}
PAIN_SIGNS = {"new": "neu", "sharp": "stechend", "swollen": "geschwollen"}
EFFECTS = {"leave-out": "entfällt", "no-rise": "kein Anstieg", "at-most": "nicht schwerer", "least-rir": "mehr Reserve"}


def gate_sentence(reason: g.AnyGateReason, voice: Voice) -> str:
    """One closed gate in German."""
    match reason:
        case g.ScreeningNotAsked():
            return (
                "Die Fragen vor dem Training hat noch niemand gestellt, darum steigt nichts: Last und Wiederholungen höchstens wie "
                "zuletzt. Beantworte sie mit `steelyard screen NAME`, oder ein Trainer gibt sein Wort. Bei Krankheit von Herz, "
                "Gefäßen, Stoffwechsel oder Niere, Zeichen davon, Schwangerschaft oder nach einer Operation: vor dem Heben mit einem Arzt sprechen."
            )
        case g.ScreeningClosed():
            return _screening(reason)
        case g.PregnancyHolds():
            if reason.cleared_by:
                return (
                    f"Schwangerschaft, freigegeben von {reason.cleared_by}: nichts steigt von selbst, das Befinden führt. Das endet, "
                    "wenn eine spätere Befragung anderes sagt (`steelyard screen NAME`)."
                )
            return (
                f"Schwangerschaft, oder nicht bekannt: Hat die geburtshilfliche Betreuung das Training freigegeben? Bis das eingetragen "
                f"ist, steigt nichts und {reason.least_rir} bleiben in Reserve (`steelyard screen NAME`)."
            )
        case g.ClearanceFirst():
            when = f" ({reason.since})" if reason.since is not None else ""
            return (
                f"Nach {EVENTS[reason.condition]}{when} gibt zuerst eine Ärztin oder ein Arzt das Training frei. Es öffnet mit einer "
                f"seither eingetragenen Freigabe (`steelyard screen NAME`) und beginnt mit einem neuen Ausgangswert."
            )
        case g.AfterClearance():
            return (
                f"Nach {EVENTS[reason.condition]}, freigegeben von {reason.by} am {reason.on}: In den ersten {reason.training_weeks} "
                f"Trainingswochen bleiben {reason.least_rir} in Reserve, die Beschwerden führen. Es endet mit diesen Wochen."
            )
        case g.ClinicianLimits():
            until = f" bis {reason.until}" if reason.until is not None else ""
            limits = "; ".join(_clinician(reason, voice))
            return f"{reason.by} setzt Grenzen{until}: {limits}. Nur eine neuere Freigabe ändert sie."
        case g.StopSignSaid():
            return _stop_sign(reason)
        case g.FeverStops():
            return (
                f"Fieber am {reason.on}: kein Training. Es öffnet mit einer Meldung ab {reason.opens_from}, dass keines mehr da ist; "
                "hält es an oder ist dir sehr elend: zum Arzt."
            )
        case g.BloodPressureHigh():
            return _pressure(reason)
        case g.EpisodeStop():
            return (
                f"Schmerz ({_place(reason)}): {_height(reason)}. Was ihn auslöst, entfällt. Neu, stechend oder geschwollen, oder nach "
                "einigen Tagen nicht besser: zum Arzt. Es öffnet mit einer niedrigeren Angabe zu diesem Schmerz, mit seinem Ende oder mit einer eingetragenen Freigabe."
            )
        case g.EpisodeReduce():
            why = "war am nächsten Morgen stärker" if reason.is_worse_next_morning else "ist über drei Wochen gestiegen"
            scores = ", ".join(str(s) for s in reason.scores)
            return (
                f"Der Schmerz ({_place(reason)}) {why} ({scores} von 10): mindestens {voice.percent(reason.cut)} weniger als am {reason.on}. "
                "Es öffnet, wenn er sich beruhigt hat, mit seinem Ende oder mit einer eingetragenen Freigabe."
            )
        case g.EpisodeHold():
            guided = f", betreut von {reason.guided_by}" if reason.guided_by else ""
            return (
                f"Schmerz ({_place(reason)}) bei {reason.score} von 10{guided}: dieselbe Last, nicht mehr. Er muss sich bis zum nächsten "
                "Morgen beruhigen. Es öffnet mit der Angabe 0, mit seinem Ende oder mit einer eingetragenen Freigabe."
            )
        case g.Restricted():
            return _restricted(reason, voice)
        case g.AloneUnderTheBar():
            return (
                f"Allein und ohne bekannte Ablagen: {reason.least_rir} bleiben in Reserve, keine maximalen Einzelwiederholungen; für harte Sätze "
                "sind Kurzhanteln oder eine Maschine die bessere Wahl. Es öffnet, wenn der Ort Ablagen hat oder jemand da ist (`steelyard equipment`)."
            )
        case g.YouthUnsupervised():
            return (
                "Nach dem Geburtsjahr unter achtzehn, und kein Erwachsener ist genannt, der beaufsichtigt: nichts steigt. "
                "Es öffnet, wenn jemand genannt ist (`steelyard screen NAME`)."
            )
        case g.YouthTechnique():
            return (
                f"Unter achtzehn, und niemand hat die Technik abgenommen: mindestens {reason.least_repetitions} Wiederholungen, keine maximalen "
                "Einzelwiederholungen, erste Lasten leicht. Es öffnet, wenn jemand sie abnimmt (`steelyard screen NAME`)."
            )
        case g.OlderEntry():
            return (
                f"Ab fünfundsechzig sind die ersten {reason.training_weeks} Trainingswochen ein Einstieg: {reason.least_rir} bleiben in Reserve, "
                "ein Satz genügt. Es endet mit diesen Wochen."
            )
        case _:
            assert_never(reason)


def _screening(reason: g.ScreeningClosed) -> str:
    unsure = ", ".join(QUESTIONS[question] for question in reason.unsure)
    not_known = f" Nicht bekannt zählt als die strengere Antwort ({unsure})." if unsure else ""
    if reason.row == "light-start":
        return (
            f"Bisher nicht aktiv: leicht bis mäßig beginnen, in den ersten Trainingswochen bleiben {reason.least_rir} in Reserve. "
            f"Es endet mit diesen Wochen.{not_known}"
        )
    if reason.row == "moderate-only":
        what = "Freigegeben, aber nicht für harte Anstrengung" if reason.is_cleared else "Eine bekannte Krankheit"
        rises = "" if reason.is_cleared else ", und nichts steigt"
        return (
            f"{what}: nur mäßige Anstrengung, {reason.least_rir} bleiben in "
            f"Reserve{rises}. Schweres Heben zählt hier als hart. Es öffnet mit einer eingetragenen Freigabe für harte Anstrengung, nicht älter als ein Jahr.{not_known}"
        )
    what = {
        "disease-first": "Eine bekannte Krankheit, und bisher nicht aktiv: Zuerst gibt ein Arzt das Training frei (`steelyard screen NAME`).",
        "symptoms-first": "Zeichen oder Beschwerden: Zuerst gibt ein Arzt das Training frei (`steelyard screen NAME`).",
        "stop": "Zeichen oder Beschwerden: kein Training, bis ein Arzt es freigibt (`steelyard screen NAME`).",
    }[reason.row]
    return f"{what} Nichts anderes öffnet es als andere Antworten auf die Fragen.{not_known}"


def _stop_sign(reason: g.StopSignSaid) -> str:
    said = ", ".join(SIGNS[sign] for sign in reason.signs)
    words = f" („{reason.words}“)" if reason.words else ""
    whom = (
        "wende dich sofort an deine geburtshilfliche Betreuung"
        if reason.is_pregnant
        else "hol dir sofort ärztliche Hilfe"
    )
    return (
        f"Halt: {said}, am {reason.on}{words}. Kein Training; {whom}, und wenn es heftig ist oder schlimmer wird, ruf den "
        "Notruf. Training öffnet nur mit einer seither eingetragenen Freigabe (`steelyard screen NAME`). Wenn die "
        "Worte etwas anderes meinten, berichtige den Eintrag."
    )


def _pressure(reason: g.BloodPressureHigh) -> str:
    read = f"Blutdruck {reason.upper}/{reason.lower} am {reason.on}"
    opens = "Es öffnet mit einem niedrigeren Wert oder einer eingetragenen Freigabe (`steelyard screen NAME`)."
    if reason.is_stop:
        return f"{read}: keine Einheit. Lass es ärztlich ansehen; mit Kopfschmerz, Brustschmerz oder Sehstörung sofort. {opens}"
    return f"{read}: vor dem Heben mit Arzt oder Ärztin sprechen. Bis dahin steigt nichts, und {reason.least_rir} bleiben in Reserve. {opens}"


def _clinician(reason: g.ClinicianLimits, voice: Voice) -> list[str]:
    out = [reason.limits] if reason.limits else []
    out += [f"mindestens {reason.least_rir} in Reserve"] if reason.least_rir else []
    return out + ([f"höchstens {voice.load(reason.most_load)}"] if reason.most_load is not None else [])


def _place(reason: g.EpisodeStop | g.EpisodeHold | g.EpisodeReduce) -> str:
    return f"{SIDES[reason.side] if reason.side is not None else ''}{reason.part}"


def _height(reason: g.EpisodeStop) -> str:
    score = "Stärke nicht gesagt" if reason.score is None else f"{reason.score} von 10"
    return ", ".join([score, *(PAIN_SIGNS[sign] for sign in reason.signs)])


def _restricted(reason: g.Restricted, voice: Voice) -> str:
    what = EFFECTS[reason.effect]
    if reason.effect == "at-most" and reason.load is not None:
        what = f"höchstens {voice.load(reason.load)}"
    if reason.effect == "least-rir" and reason.rir is not None:
        what = f"mindestens {reason.rir} in Reserve"
    until = f" bis {reason.until}" if reason.until is not None else ""
    due = (
        f" Die Überprüfung war am {reason.review} fällig; bitte ansehen."
        if reason.is_review_due and reason.review is not None
        else ""
    )
    return f"{reason.by} schränkt das ein{until}: {what}; {reason.why}. Es öffnet, wenn die Einschränkung aufgehoben oder ihre Zeit vorbei ist.{due}"
