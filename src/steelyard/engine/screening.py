"""The published logic of screening before training, as a table.

Riebe D, Franklin BA, Thompson PD, Garber CE, Whitfield GP, Magal M, Pescatello LS (2015) Updating ACSM's
recommendations for exercise preparticipation health screening. Med Sci Sports Exerc 47:2473-2479 (branches read
second-hand). Active: planned exercise of 30 minutes or more on three days a week, moderate or harder, for three months.
Disease: heart, vessels, metabolic (diabetes), kidney. Risk factors alone and lung disease ask for no referral there.

It asks who should speak with a doctor first. It diagnoses nothing, and it removes no risk.
"""

from typing import Literal

from msgspec import Struct

from .health import Answer

Intensity = Literal["moderate", "vigorous"]
RowName = Literal["light-start", "disease-first", "symptoms-first", "go-on", "moderate-only", "stop"]
Question = Literal["active", "disease", "symptoms"]

# Heavy lifting counts as vigorous: our assumption, the source speaks of exercise in general.
LIFTING: Intensity = "vigorous"


class Row(Struct, frozen=True, kw_only=True):
    """One row: its name and whether clearance is asked for at this intensity."""

    name: RowName
    asks_clearance: bool


_LIGHT = Row(name="light-start", asks_clearance=False)
_DISEASE_FIRST = Row(name="disease-first", asks_clearance=True)
_SYMPTOMS_FIRST = Row(name="symptoms-first", asks_clearance=True)
_GO_ON = Row(name="go-on", asks_clearance=False)
_MODERATE_NOW = Row(name="moderate-only", asks_clearance=False)
_NOT_VIGOROUS = Row(name="moderate-only", asks_clearance=True)
_STOP = Row(name="stop", asks_clearance=True)

# (active, known disease, signs or symptoms, intensity) -> row.
TABLE: dict[tuple[bool, bool, bool, Intensity], Row] = {
    (False, False, False, "moderate"): _LIGHT,
    (False, False, False, "vigorous"): _LIGHT,
    (False, False, True, "moderate"): _SYMPTOMS_FIRST,
    (False, False, True, "vigorous"): _SYMPTOMS_FIRST,
    (False, True, False, "moderate"): _DISEASE_FIRST,
    (False, True, False, "vigorous"): _DISEASE_FIRST,
    (False, True, True, "moderate"): _SYMPTOMS_FIRST,
    (False, True, True, "vigorous"): _SYMPTOMS_FIRST,
    (True, False, False, "moderate"): _GO_ON,
    (True, False, False, "vigorous"): _GO_ON,
    (True, False, True, "moderate"): _STOP,
    (True, False, True, "vigorous"): _STOP,
    (True, True, False, "moderate"): _MODERATE_NOW,
    (True, True, False, "vigorous"): _NOT_VIGOROUS,
    (True, True, True, "moderate"): _STOP,
    (True, True, True, "vigorous"): _STOP,
}


def row_for(active: Answer, disease: Answer, symptoms: Answer, intensity: Intensity = LIFTING) -> Row:
    """The row of three answers; an answer that is not known is read as the stricter one."""
    return TABLE[active == "yes", disease != "no", symptoms != "no", intensity]
