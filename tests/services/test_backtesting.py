"""A backtest through the services: a file gives what the log gives, nothing is stored, a stopped one goes on."""

import json
from datetime import date, timedelta
from pathlib import Path

import msgspec
import numpy as np
import pytest
from tests.services.training import train

from steelyard.engine.backtest.scores import crps, log_score
from steelyard.engine.simulation.simulate import simulate
from steelyard.engine.simulation.values import Kind, Simulated
from steelyard.services.backtest_run import Kept
from steelyard.services.backtesting import Backtest, BacktestAsked, Prediction, backtest
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.store import queries
from steelyard.wording.quantity import Voice

NAMES = ("Ada", "Bo", "Cleo")


def simulated(number: int, kind: Kind = "trained") -> Simulated:
    """Some weeks of a simulated lifter."""
    rng = np.random.default_rng([7, number])
    return simulate(kind, rng, name=NAMES[number % 3], begins=date(2026, 1, 5), weeks=12, slip_rate=0.0)


def keep(scribe: Scribe, *lifters: Simulated) -> None:
    """Each in the log with sets and body masses."""
    for lifter in lifters:
        person = train(scribe, lifter.name, lifter.sets)
        scribe.write([scribe.entry(person, check_in) for check_in in lifter.check_ins])


def ran(scribe: Scribe, **asked: object) -> Backtest:
    """A backtest as it was asked for."""
    return backtest(BacktestAsked(**asked), Voice(), scribe)  # type: ignore[arg-type] # by name


def csv_of(path: Path, *lifters: Simulated) -> Path:
    """The same lifters as a file that a person might keep."""
    lines = ["lifter,date,session,exercise,kg,reps,RIR,kind,phase,missed,body mass kg"]
    for lifter in lifters:
        masses = {c.on: c.body_mass.value for c in lifter.check_ins if c.body_mass is not None}
        for body in lifter.sets:
            cells = (
                lifter.name,
                body.on,
                body.session,
                body.exercise.replace("-", " "),
                body.load.value if body.load is not None else 0,
                body.reps,
                body.effort.rir if body.effort is not None else "",
                body.kind or "",
                body.phase or "",
                body.missed or "",
                masses.get(body.on, ""),
            )
            lines.append(",".join(map(str, cells)))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_a_file_is_scored_as_the_log_that_it_would_become_and_nothing_is_stored(scribe: Scribe, tmp_path: Path) -> None:
    lifters = [simulated(n) for n in range(3)]
    path = csv_of(tmp_path / "squad.csv", *lifters)
    of_file = ran(scribe, source=str(path))
    assert queries.entries_of_kind("set") == [] and queries.entries_of_kind("lifter") == []
    keep(scribe, *lifters)
    of_log = ran(scribe)
    assert of_file.sets > 100
    assert of_file.models == of_log.models
    assert of_file.lifters == of_log.lifters


def test_one_lifter_takes_its_settings_from_the_others_and_is_scored_alone(scribe: Scribe) -> None:
    keep(scribe, *(simulated(n) for n in range(3)))
    one = ran(scribe, source="Bo")
    everybody = ran(scribe)
    assert [x.lifter for x in one.lifters] == ["Bo"]
    assert one.others == 2
    assert one.intervals_over == "months"
    assert everybody.intervals_over == "lifters"
    assert one.lifters[0] in everybody.lifters


def test_the_same_seed_gives_the_same_answer_in_one_process_and_in_two(scribe: Scribe) -> None:
    keep(scribe, simulated(0), simulated(1, "novice"), simulated(2, "body-mass"))
    for number in range(3, 6):
        lifter = simulated(number, "machine-study")
        keep(scribe, msgspec.structs.replace(lifter, name=f"{lifter.name} {number}"))
    assert ran(scribe, processes=1) == ran(scribe, processes=2)
    assert ran(scribe, seed=1) != ran(scribe, seed=2)


def test_what_was_finished_before_a_stop_is_taken_up_again(scribe: Scribe, tmp_path: Path) -> None:
    keep(scribe, *(simulated(n) for n in range(3)))
    whole, kept = ran(scribe), tmp_path / "kept"

    class Stopped(Exception):
        pass

    def stop_after(done: int, total: int) -> None:
        if done > total // 2 + 1:
            raise Stopped

    with pytest.raises(Stopped):
        backtest(BacktestAsked(unfinished=kept), Voice(), scribe, stop_after)
    finished = kept.read_bytes().splitlines()[1:]
    assert 0 < len(finished) < 3
    # A result that is only read, not worked out again: an altered one shows in the answer.
    altered = msgspec.json.decode(finished[0], type=Kept)
    emptied = {
        name: msgspec.structs.replace(t, sets=(), months=(), bests=(), bounds=()) for name, t in altered.models.items()
    }
    copy = tmp_path / "altered"
    head = kept.read_bytes().splitlines()[0]
    copy.write_bytes(head + b"\n" + msgspec.json.encode(Kept(altered.lifter, emptied)) + b"\n" + b'{"lifter": 2, "mod')
    assert ran(scribe, unfinished=copy).sets < whole.sets
    assert ran(scribe, unfinished=kept) == whole
    assert not kept.exists()


def test_what_was_kept_of_another_log_is_not_used_and_a_strange_file_is_not_overwritten(
    scribe: Scribe, tmp_path: Path
) -> None:
    kept, strange = tmp_path / "kept", tmp_path / "letter.txt"
    keep(scribe, simulated(0))
    kept.write_bytes(b"0" * 64 + b'\n{"lifter":0,"models":{}}\n')
    assert ran(scribe, unfinished=kept).sets > 0
    strange.write_text("Dear coach,\nit went well.\n", encoding="utf-8")
    with pytest.raises(Refused, match="holds something else"):
        ran(scribe, unfinished=strange)
    assert strange.read_text(encoding="utf-8") == "Dear coach,\nit went well.\n"


def test_predictions_are_what_was_scored(scribe: Scribe, tmp_path: Path) -> None:
    keep(scribe, *(simulated(n) for n in range(2)))
    path = tmp_path / "foreseen.jsonl"
    answer = ran(scribe, predictions=path, model="best of last three")
    lines = [msgspec.json.decode(line, type=Prediction) for line in path.read_bytes().splitlines()]
    model = next(m for m in answer.models if m.name == "best of last three")
    ranked = [p for p in lines if p.evidence != "bound"]
    assert len(ranked) == answer.sets
    assert len(lines) == answer.sets + answer.bounds
    cdf = np.array([p.cdf for p in ranked])
    seen, up_to = np.array([p.possible for p in ranked]), np.array([p.told_up_to for p in ranked])
    assert log_score(cdf, seen, up_to).mean() == pytest.approx(model.log_score, abs=1e-12)
    assert crps(cdf, seen, up_to).mean() == pytest.approx(model.crps_reps, abs=1e-12)
    bests = {(p.lifter, p.date, p.exercise): (p.best_kg, p.best_predicted_kg) for p in lines if p.best_kg is not None}
    assert np.mean([abs(f / a - 1) for a, f in bests.values() if a]) * 100 == pytest.approx(model.mae_pct, abs=1e-9)
    assert [p.lifter for p in lines] == sorted(p.lifter for p in lines)
    assert all(json.loads(line)["cdf"][-1] == 1 for line in path.read_bytes().splitlines())
    with pytest.raises(Refused, match="exists already"):
        ran(scribe, predictions=path)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"source": "nobody.csv"}, "neither a file nor a lifter"),
        ({"model": "crystal ball"}, "no model 'crystal ball'"),
        ({"predictions": Path("/nowhere/at/all.jsonl")}, "cannot write"),
    ],
)
def test_what_cannot_be_done_is_said(scribe: Scribe, asked: dict[str, object], said: str) -> None:
    keep(scribe, simulated(0))
    with pytest.raises(Refused, match=said):
        ran(scribe, **asked)


def test_a_file_with_an_open_question_is_not_guessed_at(scribe: Scribe, tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    rows = "".join(f"0{n}/0{n + 1}/2026,Squat,100,5,2\n" for n in range(1, 8))
    path.write_text("date,exercise,kg,reps,RIR\n" + rows, encoding="utf-8")
    with pytest.raises(Refused, match="--answer") as refused:
        ran(scribe, source=str(path))
    # Good rows can be kept while others wait; what is asked about all of them is never guessed.
    with pytest.raises(Refused, match="--answer"):
        ran(scribe, source=str(path), keep_good=True)
    key = str(refused.value).split('"')[1]
    assert ran(scribe, source=str(path), answers=dict([key.split("=")])).sets == 5


def test_competition_logs_are_served(scribe: Scribe) -> None:
    lifter = simulate(
        "competitor", np.random.default_rng(3), name="Ada", begins=date(2018, 1, 1), weeks=260, slip_rate=0.0
    )
    keep(scribe, lifter)
    answer = ran(scribe)
    evidence = {e for m in answer.models for e in m.by_evidence}
    assert evidence == {"attempt"}
    assert any(body.reps == 0 for body in lifter.sets)
    assert answer.sets == len([b for b in lifter.sets if b.on > sorted({b.on for b in lifter.sets})[1]])
    assert all(m.crps_reps is not None and m.crps_reps <= 1 for m in answer.models)


def test_a_lifter_who_never_says_what_was_left_is_told_so(scribe: Scribe) -> None:
    lifter = simulated(0)
    bare = [msgspec.structs.replace(b, effort=None, missed=None, reps=max(b.reps or 0, 2)) for b in lifter.sets]
    train(scribe, "Ada", bare)
    answer = ran(scribe)
    assert (answer.sets, answer.sessions) != (0, 0)
    assert answer.sets == 0
    assert answer.bounds > 100
    assert all(m.log_score is None and m.bounds_log_score is not None for m in answer.models)


def test_dates_can_be_shifted(scribe: Scribe, tmp_path: Path) -> None:
    lifter = simulated(1)
    later = timedelta(days=7 * 13)
    moved = msgspec.structs.replace(
        lifter,
        sets=tuple(msgspec.structs.replace(b, on=b.on + later) for b in lifter.sets),
        check_ins=tuple(msgspec.structs.replace(c, on=c.on + later) for c in lifter.check_ins),
    )
    one = ran(scribe, source=str(csv_of(tmp_path / "one.csv", lifter)))
    two = ran(scribe, source=str(csv_of(tmp_path / "two.csv", moved)))
    told = [(m.name, m.mae_reps, m.bias_reps) for m in one.models]
    assert told == [(m.name, m.mae_reps, m.bias_reps) for m in two.models]
