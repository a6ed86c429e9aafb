"""What screening asks, in plain sentences: who should speak with a doctor first. It clears nobody."""

from collections.abc import Iterator

from steelyard.wording.message import tell

from .lifters import quoted


def question_words(key: str) -> str:
    """How a question is asked."""
    asked = {
        "symptoms": tell(
            "At rest or with light effort, any of these: pain or pressure in chest, neck, jaw or arm; short of breath; "
            "dizzy or fainting; heart racing or stumbling; swollen ankles; leg pain that eases with rest; unusual "
            "tiredness?"
        ),
        "disease": tell("A known disease of the heart, the vessels, the kidneys, or diabetes?"),
        "active": tell("For three months or more, on three days a week, half an hour or more of moderate exercise?"),
        "special": tell(
            "Is one of these so: pregnant; gave birth in the last year; surgery in the last year; a heart event?"
        ),
        "pregnant": tell("Pregnant?"),
        "gave_birth": tell("Gave birth in the last year?"),
        "birth_on": tell("On which day was the birth?"),
        "surgery": tell("Surgery in the last year?"),
        "surgery_on": tell("On which day was the surgery?"),
        "heart_event": tell("A heart attack or another heart event, at any time?"),
        "heart_event_on": tell("On which day was the heart event?"),
        "supervised_by": tell("Under 18: which grown-up is there while they lift?"),
        "technique_signed_by": tell("Under 18: who has signed off the technique (nobody yet: leave it empty)?"),
    }
    return asked[key]


def opening_words(state: str, name: str) -> str:
    """Which command opens what is closed; nothing where nothing is."""
    if state == "not-asked":
        return tell("Ask with `steelyard screen {name}`, or let a coach vouch with --attest NAME.", name=quoted(name))
    if state in {"disease-first", "symptoms-first", "moderate-only", "stop"}:
        return tell(
            "A clinician's word is kept with `steelyard screen {name} --cleared-by NAME --for CONDITION`.",
            name=quoted(name),
        )
    return ""


def safety_words() -> Iterator[str]:
    """What is said beside every screening."""
    yield tell("This is no medical check, and it removes no risk.")
    yield tell("Pain in the chest, fainting or sudden weakness: stop and see a doctor at once.")
