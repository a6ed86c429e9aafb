"""Who trains at the invented club: eight people with other aims, ages, tools and troubles. Nobody of them lives."""

from datetime import date, timedelta

from msgspec import Struct, field

from steelyard.engine.equipment import Equipment, PlatePair, Steps
from steelyard.engine.health import Answer
from steelyard.engine.quantities import kg, lb
from steelyard.services.noting import Note
from steelyard.services.pain_notes import AboutPain
from steelyard.services.restriction_notes import AboutRestriction
from steelyard.services.roster import About
from steelyard.services.screening import Cleared
from steelyard.wording.message import told_later

# The day for which the demo plans; every log ends in the days before it.
DEMO_DAY = date(2026, 9, 28)
COACH = "the demo's coach"
_NOTHING_FOUND = {"symptoms": "no", "disease": "no", "active": "yes", "special": "no"}


class DemoPlace(Struct, frozen=True, kw_only=True):
    """Where somebody trains: what can be loaded there, and who is near."""

    name: str
    equipment: Equipment
    alone: Answer
    safeties: Answer


class DemoMember(Struct, frozen=True, kw_only=True):
    """What the coach knows of a lifter beside the log; what has a day was said on that day."""

    name: str
    about: About
    place: DemoPlace
    story: str
    body_mass: str = ""  # where the log does not say it
    screened: date
    answers: dict[str, str] = field(default_factory=lambda: dict(_NOTHING_FOUND))
    cleared: tuple[tuple[date, Cleared], ...] = ()
    notes: tuple[tuple[date, Note], ...] = ()


def weeks_before(weeks: int) -> date:
    """The Monday so many weeks before the demo's day."""
    return DEMO_DAY - timedelta(days=7 * weeks)


HALL = DemoPlace(
    name="hall",
    equipment=Equipment(
        bar=kg(20),
        plates=(PlatePair(kg(20), 4), *(PlatePair(kg(m)) for m in ("15", "10", "5", "2.5", "1.25"))),
        dumbbells=(Steps(kg(1), kg(1), kg(10)), Steps(kg(12), kg(2), kg(40))),
        kettlebells=(Steps(kg(8), kg(4), kg(32)),),
        stack=Steps(kg(5), kg(5), kg(100)),
    ),
    alone="no",
    safeties="yes",
)
CELLAR = DemoPlace(
    name="cellar",
    equipment=Equipment(
        bar=lb(45),
        plates=(PlatePair(lb(45), 4), PlatePair(lb(10), 2), *(PlatePair(lb(m)) for m in ("35", "25", "5", "2.5"))),
        dumbbells=(Steps(lb(5), lb(5), lb(80)),),
        kettlebells=(Steps(lb(18), lb(9), lb(72)),),
        stack=Steps(lb(10), lb(10), lb(250)),
    ),
    alone="no",
    safeties="yes",
)
# Two adjustable dumbbells, and a rucksack for what is hung on the body.
GARAGE = DemoPlace(
    name="garage",
    equipment=Equipment(
        bar=kg(8),
        plates=tuple(PlatePair(kg(m)) for m in ("5", "2.5", "1.25")),
        dumbbells=(Steps(kg(4), kg(2), kg(24)),),
        kettlebells=(Steps(kg(12), kg(4), kg(16)),),
        stack=Steps(kg(5), kg(5), kg(5)),
    ),
    alone="yes",
    safeties="no",
)


INES = DemoMember(
    name="Ines Falk",
    about=About(
        unit="kg",
        birth_year=1992,
        trained_since=date(2022, 3, 1),
        training_days=("mon", "wed", "fri"),
        place=HALL.name,
        aims=("strength",),
        aim_words="to bench her own body mass one day",
    ),
    place=HALL,
    story=told_later("Her bench press stood still from spring on; fewer repetitions and a fourth set brought it back."),
    body_mass="66kg",
    screened=weeks_before(35),
)
TOMAS = DemoMember(
    name="Tomas Veldkamp",
    about=About(
        unit="kg",
        birth_year=1998,
        trained_since=date(2020, 9, 1),
        training_days=("mon", "wed", "sat"),
        place=HALL.name,
        aims=("size", "strength"),
        aim_words="a bigger back and shoulders",
    ),
    place=HALL,
    story=told_later("Five weeks away for work, then step by step back to what he had."),
    body_mass="84kg",
    screened=weeks_before(38),
)


def _knee(weeks: int, words: str) -> tuple[date, Note]:
    """One word on the sore knee, so many weeks before the demo's day."""
    about = AboutPain(
        by=COACH,
        provoked_by=("squat", "split squat"),
        nature="kneecap",
        guided_by="physiotherapist Oda Ruhm",
        since=weeks_before(20),
    )
    return weeks_before(weeks), Note(line=f"pain right knee {words}", about_pain=about)


ODILE = DemoMember(
    name="Odile Marchetti",
    about=About(
        unit="kg",
        birth_year=1985,
        trained_since=date(2016, 1, 10),
        training_days=("tue", "thu", "sun"),
        place=HALL.name,
        aims=("strength",),
        aim_words="strong legs for the mountains",
    ),
    place=HALL,
    story=told_later(
        "A sore right knee in early summer, guided by a physiotherapist; it has settled and she squats again."
    ),
    screened=weeks_before(33),
    notes=(
        _knee(20, "2"),
        _knee(19, "5"),
        (
            weeks_before(18),
            Note(
                line="restrict squat leave-out",
                about_restriction=AboutRestriction(
                    by="physiotherapist Oda Ruhm", why="sore right knee", review=weeks_before(13), until=weeks_before(8)
                ),
            ),
        ),
        _knee(13, "2 next-morning settled"),
        _knee(6, "0 closed"),
    ),
)
WARREN = DemoMember(
    name="Warren Teague",
    about=About(
        unit="lb",
        birth_year=2003,
        trained_since=date(2025, 6, 1),
        training_days=("mon", "wed", "fri"),
        place=CELLAR.name,
        aims=("strength",),
        aim_words="a 315 lb squat, soon",
    ),
    place=CELLAR,
    story=told_later("He adds load as soon as he can move it, loses his repetitions, and starts again."),
    screened=weeks_before(30),
)
LENE = DemoMember(
    name="Lene Abara",
    about=About(
        unit="kg",
        birth_year=1997,
        trained_since=weeks_before(26),
        training_days=("tue", "thu", "sat"),
        place=HALL.name,
        aims=("health",),
        aim_words="to carry her own boxes at the next move",
    ),
    place=HALL,
    story=told_later("Her first half year: nearly every session a little more, and much of it is learning."),
    screened=weeks_before(26),
    answers=_NOTHING_FOUND | {"active": "no"},
)
HARTWIG = DemoMember(
    name="Hartwig Seelmann",
    about=About(
        unit="kg",
        birth_year=1959,
        trained_since=date(2019, 10, 1),
        training_days=("tue", "fri"),
        place=HALL.name,
        aims=("health",),
        aim_words="to get up from the floor without hands at eighty",
    ),
    place=HALL,
    story=told_later("67, with a treated type 2 diabetes and cleared by his doctor; two sessions a week, no hurry."),
    screened=weeks_before(44),
    answers=_NOTHING_FOUND | {"disease": "yes"},
    cleared=(
        (
            weeks_before(44),
            Cleared(
                by="Dr Wendt",
                condition="disease",
                until=weeks_before(-8),
                is_for_vigorous=True,
                limits="no maximal singles, breathe through every repetition",
                least_rir=2,
            ),
        ),
    ),
)
EWAN = DemoMember(
    name="Ewan Tresk",
    about=About(
        unit="kg",
        birth_year=1988,
        trained_since=date(2023, 5, 1),
        training_days=("mon", "thu", "sat"),
        place=GARAGE.name,
        aims=("size",),
        aim_words="as much as the garage allows",
    ),
    place=GARAGE,
    story=told_later("At home, alone, with dumbbells to 24 kg and a bar in the door."),
    screened=weeks_before(34),
)
MARA = DemoMember(
    name="Mara Tellholm",
    about=About(
        unit="kg",
        birth_year=1993,
        trained_since=date(2021, 2, 1),
        training_days=("tue", "fri", "sun"),
        place=HALL.name,
        aims=("return",),
        aim_words="back to what she lifted before, without hurry",
    ),
    place=HALL,
    story=told_later("Back after a birth in November: cleared in February, built up in stages led by how she feels."),
    body_mass="68kg",
    screened=weeks_before(28),
    answers={
        "symptoms": "no",
        "disease": "no",
        "active": "yes",
        "pregnant": "no",
        "gave_birth": "yes",
        "birth_on": "2025-11-20",
        "surgery": "no",
        "heart_event": "no",
    },
    cleared=(
        (
            date(2026, 2, 10),
            Cleared(
                by="Dr Wendt",
                condition="birth",
                is_for_vigorous=True,
                limits="in stages; stop at heaviness, leakage, bleeding or wound pain",
            ),
        ),
    ),
)


def club_members() -> tuple[DemoMember, ...]:
    """All eight, in the order in which the demo tells of them."""
    return INES, TOMAS, ODILE, WARREN, LENE, HARTWIG, EWAN, MARA
