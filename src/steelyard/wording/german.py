"""Every reason as a German sentence, fit for lifter and coach alike."""

from steelyard.engine import reasons as r

from .german_gates import gate_sentence
from .quantity import Voice

LEVERS = {
    "reps": "Wiederholungen",
    "sets": "ein Satz mehr",
    "frequency": "ein Tag mehr",
    "density": "weniger Pause",
    "load": "Last",
}
COURSES = {
    "rise": "steigt",
    "hold": "bleibt",
    "repeat": "noch einmal",
    "ease": "wird leichter",
    "return": "kommt zurück",
    "deload": "Entlastung",
    "baseline": "sucht den Ausgangswert",
    "stop": "entfällt",
}
LIMITS = {
    "weekly-limit": "Wochengrenze",
    "twelve-week-limit": "Zwölf-Wochen-Grenze",
    "step-limit": "Schrittgrenze",
}


def german(reason: r.AnyReason, voice: Voice) -> str:
    """One reason in German."""
    match reason:
        case r.RepetitionsRise():
            last = f"Zuletzt {voice.counts(reason.previous)} mit {voice.load(reason.load)}."
            return f"{last} Erst {reason.goal} in jedem Satz; die Last wartet, bis alle {reason.top} haben."
        case r.RangeFilled():
            return (
                f"{voice.counts(reason.previous)} mit {voice.load(reason.load)}: Der Bereich ist in jedem Arbeitssatz voll. "
                f"Jetzt {voice.load(reason.next_load)}; wieder bei {reason.bottom} beginnen."
            )
        case r.BeyondRange():
            return (
                f"Der Bereich ist mit {voice.load(reason.load)} voll, aber {voice.load(reason.next_load)} ist noch zu weit. "
                f"Weiter bis {reason.goal}, bis es in Reichweite ist."
            )
        case r.HeaviestLoadReached():
            return f"Mehr als {voice.load(reason.load)} lässt sich hier nicht laden; also weiter mit Wiederholungen."
        case r.SetsShort():
            return f"{reason.done} der üblichen {reason.usual} Arbeitssätze wurden gemacht. Erst die ganze Zeile, dann mehr."
        case r.EffortBelowTarget():
            left = "nichts" if not reason.reported_rir else f"nur {voice.number(reason.reported_rir)}"
            return (
                f"Zuletzt blieb {left} in Reserve, gedacht waren {reason.target_rir}. Dasselbe, bis es leichter geht."
            )
        case r.TechniqueRough():
            return "Die Technik war zuletzt unsauber. Dieselbe Last, bis sie sauber ist."
        case r.TechniqueBroke():
            return f"Die Technik brach zuletzt ein. {voice.percent(reason.cut)} weniger Last; sauber zurückverdienen."
        case r.PainHold():
            until = (
                "einer Einheit ohne Schmerz"
                if reason.quiet_sessions == 1
                else "zwei Einheiten mit 2 von 10 oder weniger"
            )
            return f"Schmerz wurde notiert ({_pain(reason, voice)}). Nichts steigt vor {until}."
        case r.PainStop():
            return (
                f"Schmerz wurde notiert ({_pain(reason, voice)}). Diese Übung entfällt. Ist er stechend, neu oder mit Schwellung, "
                "oder gibt er sich nicht: zum Arzt. Sie öffnet sich wieder nach zwei eigenen leichten Einheiten mit 2 von 10 oder weniger."
            )
        case r.MissedOnce():
            return f"Zuletzt {voice.counts(reason.previous)}: einmal nicht in jedem Satz {reason.bottom}. Dasselbe noch einmal."
        case r.MissedTwice():
            return (
                f"Zweimal nicht in jedem Satz {reason.bottom} (zuletzt {voice.counts(reason.previous)}). "
                f"{voice.percent(reason.cut)} weniger, dann neu aufbauen."
            )
        case r.DaysOffRepeat():
            return f"{reason.days} Tage ohne Training. Dasselbe wie zuvor; so lange hält die Kraft."
        case r.DaysOffReturn():
            return (
                f"{reason.days} Tage ohne Training. {voice.percent(reason.cut)} weniger Last, halb so viele Sätze, "
                "mehr Reserve in den ersten Einheiten."
            )
        case r.Regain():
            return (
                f"Auf dem Weg zurück zu {voice.load(reason.toward)}: Zurückgewinnen geht schneller als Gewinnen, "
                f"bis {voice.percent(reason.pace)} je Woche."
            )
        case r.BaselineRamp():
            return (
                "Zu dieser Übung gibt es keine Vorgeschichte. Diese Sätze hinauf, und beim ersten aufhören, der drei in Reserve "
                "lässt oder bei dem sich die Technik ändert. Er ist der Ausgangswert; nicht jede Stufe muss sein."
            )
        case r.BaselineAfterLayoff():
            return (
                f"{reason.days} Tage ohne diese Übung: einen neuen Ausgangswert suchen. Diese Sätze hinauf, nichts über "
                f"{voice.load(reason.cap)}, und beim ersten aufhören, der drei in Reserve lässt."
            )
        case r.DeloadTaken():
            return (
                f"Entlastung: etwa {voice.percent(reason.set_cut)} der Sätze und {voice.percent(reason.load_cut)} der Last weniger, "
                "dieselben Übungen. Kann gegen Ermüdung helfen; kein belegter Gewinn an Kraft oder Masse."
            )
        case r.LimitsHold():
            return "Mehr passt noch nicht unter die Grenzen. Dasselbe noch einmal."
        case r.LimitsEase():
            return "Die letzte Einheit lag über dem, was die Grenzen heute erlauben. Die Zeile geht auf das zurück, was passt."
        case r.SchemeHolds():
            return "Die Steigerungsregel verlangt noch nicht mehr. Dasselbe noch einmal."
        case r.OwnRange():
            sets = "1 Satz" if reason.sets == 1 else f"{reason.sets} Sätze"
            return f"{reason.bottom}-{reason.top}, {sets}: aus den letzten Einheiten gelesen, denn kein Plan sagt es."
        case r.WeeklyLimit():
            return (
                f"Wochengrenze: das entspräche einem Maximum von {voice.level(reason.wanted_kg, is_mark=reason.is_in_marks)}; "
                f"{voice.percent(reason.ceiling)} über dem Besten der Wochen davor ({voice.level(reason.reference_kg, is_mark=reason.is_in_marks)}) "
                f"sind {voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)}."
            )
        case r.TwelveWeekLimit():
            return (
                f"Zwölf-Wochen-Grenze: {voice.percent(reason.ceiling)} über {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)}, dem Stand "
                f"vor zwölf Wochen oder der ersten Woche, sind erreicht; mehr als {voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)} ist jetzt nicht drin. Eine Woche halten und hinsehen: Sehnen passen sich langsamer an "
                "als Muskeln. Der Trainer darf sie aufheben (`steelyard overrule`)."
            )
        case r.PauseServed():
            return (
                f"{voice.percent(reason.ceiling)} über {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)} in zwölf Wochen waren erreicht, und "
                "die Zeile wurde seither eine Woche gehalten. Sie darf weiter, nicht schneller als die Wochengrenze; auf Sehnen und Gelenke achten."
            )
        case r.RegainLimit():
            return (
                f"Rückkehrgrenze: {voice.percent(reason.ceiling)} je Woche über {voice.level(reason.reference_kg, is_mark=reason.is_in_marks)} sind "
                f"{voice.level(reason.allowed_kg, is_mark=reason.is_in_marks)}."
            )
        case r.StepLimit():
            return (
                f"Schrittgrenze: von {voice.load(reason.last)} um einen Schritt oder {voice.percent(reason.ceiling)}, was mehr ist, "
                f"also höchstens {voice.load(reason.allowed)}."
            )
        case r.SmallestJump():
            return (
                f"Der kleinste Schritt hier ist {voice.percent(reason.rise)} ({voice.load(reason.load)} auf "
                f"{voice.load(reason.next_load)}), mehr als die Grenze. Er ist erlaubt, weil dort etwa {reason.predicted} "
                f"Wiederholungen in Reichweite sind, {reason.bottom} nötig, und Technik und Gelenke gut sind."
            )
        case r.SmallestJumpRefused():
            return (
                f"Der kleinste Schritt hier ist {voice.percent(reason.rise)} ({voice.load(reason.load)} auf "
                f"{voice.load(reason.next_load)}), mehr als die Grenze; dort sind etwa {reason.predicted} Wiederholungen in "
                f"Reichweite, {reason.bottom} nötig, bei guter Technik und ohne Schmerz. Erst mehr Wiederholungen, ein anderes Gerät oder ein Satz mehr."
            )
        case r.NoLoadUnderLimit():
            return f"Nichts, was sich hier laden lässt, liegt unter den Grenzen; {voice.load(reason.lightest)} ist das Leichteste."
        case r.LimitOverruled():
            how = "aufgehoben" if reason.ceiling is None else f"auf {voice.percent(reason.ceiling)} gesetzt"
            return f"{LIMITS[reason.limit]}: von {reason.by} bis {reason.until} {how}: {reason.why}."
        case r.RoundedDown():
            return f"{voice.load(reason.wanted)} lässt sich hier nicht laden; {voice.load(reason.made)} schon."
        case r.EquipmentAssumed():
            return (
                "Stange und Scheiben sind angenommen (Stange 20 kg, Paare von 25 bis 1,25 kg). "
                "Eigene angeben mit `steelyard equipment`."
            )
        case r.MarksAsNumbers():
            return (
                "Diese Zeile zählt in den Stufen der Maschine. Die Grenzen lesen sie als bloße Zahlen, ob Kilogramm oder nicht; "
                "der wahre Schritt von Stufe zu Stufe kann anders sein, also darauf achten, wie es sich anfühlt."
            )
        case r.BodyMassAssumed():
            return (
                f"Keine Körpermasse bekannt; leichte {voice.load(reason.assumed)} sind angenommen. "
                'Eintragen: `steelyard log "body mass 80kg"`.'
            )
        case r.BaselineAfterClearance():
            return (
                "Das erste Mal mit dieser Übung seit der Freigabe: einen neuen Ausgangswert finden. Diese Sätze hinauf, nichts über "
                f"{voice.load(reason.cap)}, und beim ersten aufhören, der so viel in Reserve lässt wie notiert, oder bei Beschwerden."
            )
        case r.ReturnIndex():
            sets = "1 Satz" if reason.sets == 1 else f"{reason.sets} Sätze"
            return (
                f"Zweite Prüfung in den ersten zwei Wochen zurück: Sätze mal Wiederholungen mal Anteil am Maximum wären "
                f"{voice.number(reason.wanted)}, über {voice.number(reason.most)}; also {sets}."
            )
        case r.ScreeningAttested():
            return f"{reason.by} gab am {reason.on} das Wort, dass nichts gegen das Training spricht; eigene Antworten: `steelyard screen NAME`."
        case r.AloneNotAsked():
            return "Hebst du hier allein, und hat das Gestell Ablagen? Sag es einmal mit `steelyard equipment`."
        case r.OlderDefaults():
            return (
                "Ab fünfundsechzig nennt ein veröffentlichter Standpunkt als üblich: zwei oder drei Tage die Woche, ein bis zwei Übungen "
                "je großem Muskel, nach einem Einstieg 70-85 % des Maximums, zwei oder drei Sätze; zum Anfang genügt ein Satz."
            )
        case r.StopSigns():
            return (
                "Aufhören und zum Arzt: Schmerz oder Druck in Brust, Hals, Kiefer oder Arm; ungewohnte Atemnot; Schwindel oder "
                "Ohnmacht; rasendes oder unregelmäßiges Herz; plötzlicher starker Kopfschmerz; Störung beim Sehen oder Sprechen; "
                "ein Knall mit Kraftverlust; ein Gelenk, das klemmt oder nachgibt; neue Taubheit oder Schwäche; dunkler Urin. "
                "Verlust der Kontrolle über Blase oder Darm: Notfall."
            )
        case r.OwnRotation():
            return f"Kein Plan, also der eigenen Abfolge nach: die Einheit vom {reason.last_done} ist wieder dran."
        case r.DeloadOffered():
            return (
                f"{reason.training_weeks} Trainingswochen am Stück. Eine Entlastung ist angeboten: etwa halb so viele Sätze, etwas "
                "weniger Last, dieselben Übungen. Kann gegen Ermüdung helfen; kein belegter Gewinn an Kraft oder Masse. "
                "Nehmen mit `--deload`; auslassen und weitermachen ist ebenso recht."
            )
        case r.UnloggedDays():
            return (
                f"Seit {reason.latest} ist nichts eingetragen ({reason.days} Tage); sie zählen als freie Tage. Wurde trainiert: "
                "eintragen, oder mit `--trained` sagen."
            )
        case r.TwoVersions():
            return (
                "Einige Einträge haben zwei Fassungen; `steelyard history` zeigt sie. Eine ändern, dann ist es geklärt."
            )
        case r.RangeNotFull():
            return f"wartet, bis jeder Arbeitssatz {reason.top} hat"
        case r.SetsLater():
            return "kommt, wenn es langsam vorangeht und die Erholung gut ist"
        case r.DensityNever():
            return "kürzere Pausen sind für Kraft nie ein Fortschritt"
        case _:
            return gate_sentence(reason, voice)


def _pain(reason: r.PainHold | r.PainStop, voice: Voice) -> str:
    score = "Stärke nicht gesagt" if reason.score is None else f"{voice.number(reason.score)} von 10"
    return f"{reason.words}, {score}" if reason.words else score
