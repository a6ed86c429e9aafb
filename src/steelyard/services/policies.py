"""The coach's settings for a lifter: what they are, where they come from, and changing them."""

from datetime import date

from msgspec import Struct

from steelyard.engine.log import PolicyBody
from steelyard.engine.planning import policy_on
from steelyard.engine.policy import Policy, PolicyRefused, changed, outside_survey, settings
from steelyard.engine.schemes import SCHEMES
from steelyard.wording.message import tell, tell_refused

from .lifters import find_lifter, log_of
from .refusal import Refused
from .scribe import Scribe


class SettingShown(Struct, frozen=True, kw_only=True):
    """One setting as it stands."""

    name: str
    value: str
    default: str
    bounds: str
    mark: str
    source: str
    meaning: str
    remark: str = ""


class PolicyShown(Struct, frozen=True, kw_only=True):
    """Every setting of a lifter."""

    lifter: str | None
    settings: tuple[SettingShown, ...]


def show_policy(name: str | None, on: date | None, scribe: Scribe) -> PolicyShown:
    """The policy in force for a lifter; the defaults where nobody is named."""
    if name is None:
        return _shown(None, Policy())
    lifter = find_lifter(name)
    return _shown(lifter.name, policy_on(log_of(lifter), on or scribe.today()))


def change_policy(name: str | None, changes: dict[str, str], on: date | None, scribe: Scribe) -> PolicyShown:
    """Keep changed settings, in force from a day on."""
    lifter = find_lifter(name)
    day = on or scribe.today()
    try:
        policy = changed(policy_on(log_of(lifter), day), changes)
    except PolicyRefused as refused:
        raise Refused(tell_refused(refused)) from refused
    if policy.scheme not in SCHEMES:
        raise Refused(
            tell("there is no scheme {scheme!r}", scheme=policy.scheme),
            tell("Known: {names}", names=", ".join(SCHEMES)),
        )
    scribe.write([scribe.entry(lifter.person, PolicyBody(on=day, changes=changes))])
    return _shown(lifter.name, policy)


def _shown(name: str | None, policy: Policy) -> PolicyShown:
    default = Policy()
    shown = []
    for key, setting in settings().items():
        bounds = f"{setting.least}-{setting.most}" if setting.least is not None else ", ".join(setting.choices)
        shown.append(
            SettingShown(
                name=key,
                value=_text(getattr(policy, key)),
                default=_text(getattr(default, key)),
                bounds=bounds,
                mark=setting.mark,
                source=tell(setting.source),
                meaning=tell(setting.meaning),
                remark=_remark(key, getattr(policy, key)),
            )
        )
    return PolicyShown(lifter=name, settings=tuple(shown))


def _remark(name: str, value: object) -> str:
    return tell("outside what surveyed athletes do; not wrong") if outside_survey(name, value) else ""


def _text(value: object) -> str:
    return tell("unknown") if value is None else str(value)
