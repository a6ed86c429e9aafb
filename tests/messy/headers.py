"""What people call their columns, in English and German, several words each."""

from random import Random

from .recipe import Recipe

WORDS: dict[str, dict[str, tuple[str, ...]]] = {
    "date": {
        "en": ("Session date", "Date", "Training date", "date", "Day"),
        "de": ("Trainingsdatum", "Datum", "Tag", "DATUM", "Trainingstag"),
    },
    "exercise": {
        "en": ("Exercise / variation", "EXERCISE", "Exercise", "Lift", "Movement", "exercise name"),
        "de": ("Übungsname", "Übung", "Uebung", "Übungen"),
    },
    "sets": {"en": ("Set count", "Sets", "# sets", "No. of sets"), "de": ("Serien", "Sätze", "Anzahl Sätze", "Saetze")},
    "set-number": {"en": ("Set", "Set #", "Set no."), "de": ("Satz", "Satz Nr.", "Satz-Nr")},
    "reps": {
        "en": ("REPS", "Rep count", "Reps", "Repetitions", "reps done"),
        "de": ("WDH", "Wiederhol.", "Wdh", "Wdh.", "Wiederholungen", "WH"),
    },
    "load": {
        "en": ("Wt", "Resistance", "Weight", "Load", "weight"),
        "de": ("Belastung", "Gew.", "Gewicht", "Last", "gewicht"),
    },
    "cell": {
        "en": ("Sets/Reps/Weight", "Result", "Sets", "Work", "Done", "Sets x reps"),
        "de": ("Sätze/Wdh/Gewicht", "Ergebnis", "Sätze", "Ausgeführt", "Leistung", "Sätze x Wdh"),
    },
    "nth": {"en": ("Set {n}", "S{n}", "set {n}"), "de": ("Satz {n}", "S{n}", "{n}. Satz")},
    "rpe": {"en": ("RPE", "rpe"), "de": ("RPE", "Rpe")},
    "rir": {"en": ("RIR", "Reps in reserve"), "de": ("RIR", "Wdh. in Reserve")},
    "note": {
        "en": ("Notes / feel", "Notes", "Comment", "Remarks"),
        "de": ("Hinweis", "Notiz", "Bemerkung", "Kommentar", "Anmerkungen"),
    },
    "pain": {"en": ("Pain", "Pain (0-10)"), "de": ("Schmerz", "Schmerzen (0-10)")},
    "technique": {"en": ("Technique", "Form"), "de": ("Technik", "Ausführung")},
    "side": {"en": ("Side", "side L/R"), "de": ("Seite",)},
    "why": {"en": ("Missed because", "Why missed"), "de": ("Grund Fehlversuch", "Warum nicht geschafft")},
    "seconds": {"en": ("Time (s)", "Seconds", "Hold s"), "de": ("Zeit (s)", "Sekunden", "Dauer (s)")},
    "metres": {"en": ("Distance (m)", "Metres"), "de": ("Strecke (m)", "Meter")},
    "lifter": {
        "en": ("Person", "Trainee", "Lifter", "Athlete", "Name"),
        "de": ("Person", "Sportler", "Athlet", "Sportlerin", "Name", "Athlet/in"),
    },
    "e1rm": {"en": ("e1RM", "Est. 1RM", "e1RM kg"), "de": ("e1RM", "1RM geschätzt", "e1RM kg")},
    "volume": {
        "en": ("Load volume", "Vol.", "Volume", "Tonnage", "Total kg"),
        "de": ("Gesamtlast", "Vol.", "Volumen", "Tonnage", "Gesamt kg"),
    },
    "heart-rate": {
        "en": ("Pulse", "bpm", "HR", "Heart rate", "avg HR"),
        "de": ("Pulsschlag", "Puls", "HF", "Herzfrequenz"),
    },
    "coach": {"en": ("Checked by", "Coach", "Initials"), "de": ("geprüft von", "Trainer", "Kürzel")},
    "duration": {"en": ("Duration (min)", "Minutes"), "de": ("Dauer (min)", "Minuten")},
    "speed": {"en": ("Bar speed (m/s)", "m/s"), "de": ("Hantelgeschwindigkeit (m/s)", "m/s")},
    "rest": {"en": ("Rest (s)", "Rest"), "de": ("Pause (s)", "Pause")},
    "tempo": {"en": ("Tempo",), "de": ("Tempo",)},
    "target": {"en": ("Target", "Plan", "Planned"), "de": ("Ziel", "Soll", "Plan")},
    "body-mass": {"en": ("Bodyweight", "Body mass (kg)"), "de": ("Körpergewicht", "Körpermasse (kg)")},
}
_WITH_UNIT = {
    "en": ("{w} ({u})", "{w} [{u}]", "{w} {u}", "{u}", "{w} in {u}"),
    "de": ("{w} ({u})", "{w} [{u}]", "{w} {u}", "{u}", "{w} in {u}"),
}


class Headers:
    """One file's words for its columns: chosen once, then kept."""

    def __init__(self, recipe: Recipe, rng: Random) -> None:
        self._recipe = recipe
        self._chosen = {role: rng.choice(words[recipe.language]) for role, words in WORDS.items()}
        self._unit_form = rng.choice(_WITH_UNIT[recipe.language])
        self._unit = rng.choice(("lbs", "lb") if recipe.unit == "lb" else ("kg", "kg", "KG"))
        if rng.random() < 0.1:
            self._chosen = {role: word.upper() for role, word in self._chosen.items()} | {"nth": self._chosen["nth"]}
        if recipe.unit_place in {"none", "cells-lb", "title"} or recipe.unit == "lb":
            # "Total kg" would say the unit of a file that does not say it, or a second one.
            self._chosen |= {role: WORDS[role][recipe.language][0] for role in ("volume", "e1rm", "body-mass")}

    def word(self, role: str, n: int = 0) -> str:
        """The header of a column; the n-th of its kind where columns repeat."""
        if role == "load":
            return self.load()
        return self._chosen[role].format(n=n)

    def load(self) -> str:
        """The header of a column of loads, with its unit where this file has it there."""
        word = self._chosen["load"]
        if self._recipe.unit_place in {"header-kg", "header-lb", "both", "mixed"}:
            return self._unit_form.format(w=word, u=self._unit)
        return word
