"""What a backtest shows, as text: the table, what it is worth, what it says of each lifter."""

from collections.abc import Iterator

from steelyard.engine.backtest.summing import ModelScores
from steelyard.services.backtesting import REFERENCE, Backtest, LifterBacktest
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell, tell_count
from steelyard.wording.quantity import Voice

from .columns import columns
from .paragraph import INDENT, strong, wrapped

# Below so many ranked sets one model is not told from another.
FEW_SETS = 30
SHOWN = 20


def backtest_text(answer: Backtest, voice: Voice) -> str:
    """The whole answer as text."""
    head = [strong(answer.source or tell("All lifters")), *_amount(answer)]
    if not answer.sets:
        nothing = tell(
            "No set tells how many repetitions could have been done. Log what was left in reserve, at least after the "
            "last set."
        )
        return "\n".join([*head, wrapped(nothing)])
    lifters = _only(answer.lifters[0]) if len(answer.lifters) == 1 else _lifters(answer.lifters)
    return "\n\n".join("\n".join(part) for part in (head, _table(answer), _reading(answer), lifters))


def _amount(answer: Backtest) -> Iterator[str]:
    sessions = tell_count("{count} session", "{count} sessions", answer.sessions)
    ranked = tell_count("{count} set foreseen and compared", "{count} sets foreseen and compared", answer.sets)
    bounds = tell_count(
        "{count} more told only that so much could be done",
        "{count} more told only that so much could be done",
        answer.bounds,
    )
    yield wrapped(f"{sessions}; {ranked}, {bounds}.")
    aside = {
        "mark": tell_count("{count} set by a mark", "{count} sets by a mark", answer.passed_over.get("mark", 0)),
        "not-repetitions": tell_count(
            "{count} set in seconds or metres",
            "{count} sets in seconds or metres",
            answer.passed_over.get("not-repetitions", 0),
        ),
        "no-count": tell_count(
            "{count} set without repetitions", "{count} sets without repetitions", answer.passed_over.get("no-count", 0)
        ),
        "nothing-done": tell_count(
            "{count} set stopped before its first repetition",
            "{count} sets stopped before their first repetition",
            answer.passed_over.get("nothing-done", 0),
        ),
        "no-load": tell_count(
            "{count} set without load", "{count} sets without load", answer.passed_over.get("no-load", 0)
        ),
    }
    said = [words for why, words in aside.items() if answer.passed_over.get(why)]
    if said:
        yield wrapped(tell("Passed over: {sets}.", sets=", ".join(said)))


def _table(answer: Backtest) -> Iterator[str]:
    heads = ["", tell("reps off"), tell("bias"), tell("1RM off"), tell("log score"), "CRPS", "50", "80", "90 %"]
    rows = [
        [
            _label(model.name),
            _number(model.mae_reps, ".2f"),
            _number(model.bias_reps, "+.2f"),
            _number(model.mae_pct, ".1f", " %"),
            _number(model.log_score, ".3f"),
            _number(model.crps_reps, ".2f"),
            *(_number(share, ".0%").rstrip("%") for share in (model.cover50, model.cover80, model.cover90)),
        ]
        for model in answer.models
    ]
    yield from columns(heads, rows)


def _number(value: float | None, form: str, unit: str = "") -> str:
    """A number as it is written in the language that is spoken, or a dash."""
    if value is None:
        return "-"
    written = f"{value:{form}}{unit}"
    return written.replace(".", ",") if spoken() == "de" else written


def _reading(answer: Backtest) -> Iterator[str]:
    best = answer.models[0]
    yield wrapped(_verdict(answer, best))
    yield wrapped(
        tell(
            "Reps off: how far the middle of the prediction lay from what could have been done; bias: too high (+) or "
            "too low (-). 1RM off: error of the session's best 1RM ({equation}). Log score (higher is better) and CRPS "
            "(lower is better) judge the whole prediction. The last three: of 100 sets so many lay in the middle "
            "50, 80, 90 % of the prediction.",
            equation=answer.equation,
        )
    )
    yield wrapped(_settings(answer))


def _verdict(answer: Backtest, best: ModelScores) -> str:
    name = _label(best.name)
    if answer.sets < FEW_SETS:
        return tell_count(
            "Only {count} set to compare: too few to tell one rule from another.",
            "Only {count} sets to compare: too few to tell one rule from another.",
            answer.sets,
        )
    if best.name == REFERENCE or best.log_score_over_repeat is None:
        return tell("No rule did better than repeating the last session.")
    interval = best.intervals.get("log_score_over_repeat")
    better = _number(best.log_score_over_repeat, ".3f")
    if interval is None or best.draws_without_gain is None:
        return tell("Foresaw best: {model}, by {better} a set over plain repeating.", model=name, better=better)
    low, high = (_number(bound, "+.3f") for bound in interval)
    drawn = (
        tell("lifters drawn again")
        if answer.intervals_over == "lifters"
        else tell("months of this one lifter drawn again")
    )
    told = tell(
        "Foresaw best: {model}, by {better} a set over plain repeating (95 %: {low} to {high}, {drawn}).",
        model=name,
        better=better,
        low=low,
        high=high,
        drawn=drawn,
    )
    # The best of so many rules looks better than it is: each of the others had its chance too.
    is_chance = best.draws_without_gain * (len(answer.models) - 1) >= 0.05
    sure = tell("That may be chance.") if is_chance else tell("That is more than chance.")
    return f"{told} {sure}"


def _settings(answer: Backtest) -> str:
    if not answer.others:
        return tell("No other lifter is at hand, so the rules used published and usual settings.")
    return tell_count(
        "The rules took their settings from {count} other lifter, never from the one foreseen.",
        "The rules took their settings from {count} other lifters, never from the one foreseen.",
        answer.others,
    )


def _only(lifter: LifterBacktest) -> Iterator[str]:
    scatter, gain = lifter.scatter_pct, lifter.gain_pct_per_week
    said = []
    if scatter is None:
        said.append(tell("Too few sessions close to each other to tell how much one day differs from the next."))
    else:
        said.append(tell("One session's best 1RM scatters by {scatter} %.", scatter=_number(scatter, ".1f")))
    if gain is not None:
        said.append(tell("A week usually brought {gain} %.", gain=_number(gain, "+.2f")))
    if scatter is not None and gain is not None and gain > 0:
        said.append(_weeks(scatter / gain))
    yield wrapped(" ".join([f"{strong(lifter.lifter)}:", *said]))


def _lifters(lifters: tuple[LifterBacktest, ...]) -> Iterator[str]:
    """A lifter a line: how much one day differs from the next, what a week brings, which rule foresaw best."""
    rows = [
        [
            lifter.lifter,
            _number(lifter.scatter_pct, ".1f", " %"),
            _number(lifter.gain_pct_per_week, "+.2f", " %"),
            str(lifter.sets),
            _label(lifter.best_model) if lifter.sets >= FEW_SETS and lifter.best_model else "-",
        ]
        for lifter in lifters[:SHOWN]
    ]
    yield from columns(["", tell("one day"), tell("one week"), tell("sets"), tell("foreseen best by")], rows)
    if len(lifters) > SHOWN:
        yield INDENT + tell("and {count} more (--json lists all)", count=len(lifters) - SHOWN)
    yield wrapped(
        tell(
            "One day: how far one session's best 1RM scatters. One week: what a week usually brought. Where one day is "
            "many weeks' worth, a single session tells little."
        )
    )


def _weeks(weeks: float) -> str:
    """How long progress must go on until it is larger than the difference between two days."""
    if weeks < 1:
        return tell("Progress shows from one week to the next.")
    return tell_count(
        "So {count} week of progress is as much as one day may differ: one session tells little.",
        "So {count} weeks of progress are as much as one day may differ: one session tells little.",
        round(weeks),
    )


def _label(model: str) -> str:
    return code_word("model", model, spoken())
