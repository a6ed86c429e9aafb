"""The lifters that models are measured on: the demo club, and simulated ones (always called so) of either body."""

import tempfile
from datetime import date, datetime
from pathlib import Path

from numpy.random import default_rng

from steelyard.catalogue import catalogue
from steelyard.engine.backtest.trials import LifterTrials, read_trials
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.planning import policy_on
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import Kind
from steelyard.site.place import Place
from steelyard.site.wiring import open_log
from steelyard.wording.quantity import Voice

IN_THE_GYM: tuple[Kind, ...] = ("trained", "novice", "machine-study", "irregular", "body-mass")
AT_MEETS: tuple[Kind, ...] = ("competitor",)
BEGINS = date(2020, 1, 6)
# Some 40 sessions in the gym, some 15 meets. Who is measured, and who the trees' settings were chosen on.
GYM_WEEKS, MEET_WEEKS = 20, 312
MEASURED, TUNED_ON = 43, 101


def simulated_club(kinds: tuple[Kind, ...], body: BodyName, lifters: int, seed: int = MEASURED) -> list[LifterTrials]:
    """So many simulated lifters, of each kind in turn."""
    weeks = MEET_WEEKS if kinds == AT_MEETS else GYM_WEEKS
    return [_trials(kinds[i % len(kinds)], body, f"simulated {i}", weeks, [seed, i]) for i in range(lifters)]


def _trials(kind: Kind, body: BodyName, name: str, weeks: int, seed: list[int]) -> LifterTrials:
    one = simulate(kind, default_rng(seed), name=name, begins=BEGINS, weeks=weeks, body=body)
    sets = tuple(LoggedSet(f"{place:06}", written) for place, written in enumerate(one.sets))
    log = TrainingLog(sets=sets, check_ins=one.check_ins)
    return read_trials(name, log, catalogue(), policy_on(log, max(s.body.on for s in sets)))


def demo_club() -> list[LifterTrials]:
    """The invented club of `steelyard demo`, taken in as a user would."""
    with tempfile.TemporaryDirectory() as folder:
        place = Place(Path(folder))
        open_log(place)
        # Services can be imported only after their log is open.
        from steelyard.services.demo import demo  # noqa: PLC0415 - its log must be open first
        from steelyard.services.lifters import all_lifters, log_of  # noqa: PLC0415 - its log must be open first
        from steelyard.services.own_exercises import catalogue_of  # noqa: PLC0415 - its log must be open first
        from steelyard.services.scribe import Scribe  # noqa: PLC0415 - its log must be open first
        from steelyard.site.wiring import device_of  # noqa: PLC0415 - its log must be open first

        demo(Voice(), Scribe("benchmark", device_of(place), lambda: datetime.now().astimezone()))
        logs = [(lifter.name, log_of(lifter)) for lifter in all_lifters()]
        return [
            read_trials(name, log, catalogue_of(log), policy_on(log, max(s.body.on for s in log.sets)))
            for name, log in logs
            if log.sets
        ]
