"""A lifter's posterior after a log, with the exercises of the catalogue."""

from functools import cache, partial

from msgspec import structs
from tests.builders import entry, entry_id, hlc_at

from steelyard.catalogue import catalogue
from steelyard.engine.backtest.trials import LifterTrials, read_trials
from steelyard.engine.body import Body
from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import fold
from steelyard.engine.history import LineKey
from steelyard.engine.policy import Policy
from steelyard.engine.strength.following import StrengthFollower
from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.posterior import Posterior
from steelyard.engine.strength.relations import Relation, relation_of
from steelyard.engine.strength.settings import DEFAULTS, StrengthSettings

ONE_CELL = structs.replace(DEFAULTS, noise_scales=(1.1,), drift_scales=(1.0,))


@cache
def exercises() -> Catalogue:
    """The catalogue, read once."""
    return catalogue()


def related(key: LineKey) -> Relation:
    """The relation of an exercise of the catalogue, or of one that is not in it."""
    return relation_of(key, exercises())


def beginning(settings: StrengthSettings = DEFAULTS) -> Posterior:
    """Nothing known yet."""
    return Posterior(settings, related)


def after(lifter: LifterTrials, settings: StrengthSettings = DEFAULTS) -> Posterior:
    """All sessions learned."""
    posterior = beginning(settings)
    for session in lifter.sessions:
        learn_session(posterior, session)
    return posterior


def follower(lifter: LifterTrials) -> StrengthFollower:
    """The model as it is measured; it takes nothing from the lifter."""
    del lifter
    return StrengthFollower(partial(related), "epley")


def trials_of(bodies: list[Body], name: str = "Ada") -> LifterTrials:
    """What the ruler makes of these entries, written down in this order."""
    entries = [entry(body, id=entry_id(n), hlc=hlc_at(n)) for n, body in enumerate(bodies, start=1)]
    return read_trials(name, fold(entries), exercises(), Policy())
