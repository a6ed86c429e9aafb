"""The models that `backtest` measures, by name: the simple rules, and latent strength."""

from functools import partial

from msgspec import Struct

from steelyard.engine.backtest.following import RuleFollower
from steelyard.engine.backtest.models import Follower, LineKey
from steelyard.engine.backtest.population import Population
from steelyard.engine.backtest.rules import RULES
from steelyard.engine.strength.following import StrengthFollower
from steelyard.engine.strength.relations import Relation

STRENGTH = "latent strength"
MODELS = (STRENGTH, *(rule.name for rule in RULES))


class Known(Struct, frozen=True):
    """What a model may know beside the lifter's own past: settings from the others, how exercises hang together."""

    population: Population
    relations: dict[LineKey, Relation]
    equation: str


def follower_of(model: str, known: Known) -> tuple[Follower, str]:
    """A model that knows nothing of the lifter yet, and the equation that it thinks in."""
    if model == STRENGTH:
        return StrengthFollower(partial(_related, known.relations), known.equation), known.equation
    rule = next(r for r in RULES if r.name == model)
    follower = RuleFollower(rule, known.population, known.equation)
    return follower, follower.equation


def _related(relations: dict[LineKey, Relation], key: LineKey) -> Relation:
    return relations[key]
