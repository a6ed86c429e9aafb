"""Four simulated lifters with their true 1RM beside the estimate, as pictures.

`python -m benchmarks.strength_pictures` writes docs/reference/strength_*.svg; the seeds are not used in any choice.
"""

from datetime import date
from math import log
from pathlib import Path

import numpy as np

from steelyard.catalogue import catalogue
from steelyard.engine.backtest.trials import read_trials
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.policy import Policy
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import Kind
from steelyard.engine.strength.relations import relation_of
from steelyard.engine.strength.replay import strength_on

ROOT = Path(__file__).parents[1]
SHOWN: tuple[tuple[Kind, BodyName, str], ...] = (
    ("machine-study", "by-dose", "machine-chest-press"),
    ("novice", "by-drift", "squat"),
    ("trained", "by-dose", "bench-press"),
    ("irregular", "by-drift", "squat"),
)
WIDTH, HEIGHT, LEFT, TOP = 640, 260, 64, 34
SEED = 7700


def picture(kind: Kind, body: BodyName, exercise: str, number: int) -> str:
    """One picture: the range of 80 of 100 as a band, the estimate as a line, the truth as dots."""
    lifter = simulate(
        kind, np.random.default_rng([SEED, number]), name="simulated", begins=date(2025, 1, 6), weeks=40, body=body
    )
    training = TrainingLog(
        sets=tuple(LoggedSet(str(i), b) for i, b in enumerate(lifter.sets)), check_ins=lifter.check_ins
    )
    known = catalogue()
    trials = read_trials("simulated", training, known, Policy())
    strength = strength_on(trials, lambda key: relation_of(key, known), max(b.on for b in lifter.sets))
    course = strength.course[exercise, ""][2:]
    truth = {on: kg for on, kg in lifter.levels[exercise] if on >= course[0].on}
    days = [reading.on.toordinal() for reading in course]
    lows, highs = [r.level.low80_kg for r in course], [r.level.high80_kg for r in course]
    least, most = log(min(*lows, *truth.values())), log(max(*highs, *truth.values()))

    def at(day: int, value: float) -> str:
        across = LEFT + (day - days[0]) / max(days[-1] - days[0], 1) * (WIDTH - LEFT - 16)
        down = TOP + (most - log(value)) / (most - least) * (HEIGHT - TOP - 30)
        return f"{across:.1f},{down:.1f}"

    band = [at(d, h) for d, h in zip(days, highs, strict=True)]
    band += [at(d, low) for d, low in zip(reversed(days), reversed(lows), strict=True)]
    line = " ".join(at(d, r.level.kg) for d, r in zip(days, course, strict=True))
    dots = "".join(
        '<circle cx="{}" cy="{}" r="2" class="truth"/>'.format(*at(on.toordinal(), kg).split(","))
        for on, kg in truth.items()
    )
    title = f"Simulated lifter ({kind}, {body}): {exercise.replace('-', ' ')}, 1RM in kg"
    described = f"{title}. Band: 80 of 100. Line: estimate. Dots: truth, known only to the simulator."
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{described}">',
        "<style>text{font:13px sans-serif;fill:#333}.band{fill:#9db7c9;opacity:.6}.line{fill:none;stroke:#1d3f58;"
        "stroke-width:1.6}.truth{fill:#b3541e}@media(prefers-color-scheme:dark){text{fill:#ddd}.line{stroke:#cfe3f1}}</style>",
        f'<text x="8" y="18">{title}</text>',
        f'<polygon class="band" points="{" ".join(band)}"/>',
        f'<polyline class="line" points="{line}"/>',
        dots,
        *(
            f'<text x="8" y="{float(at(days[0], np.exp(v)).split(",")[1]) + 4:.0f}">{np.exp(v):.0f}</text>'
            for v in (least, (least + most) / 2, most)
        ),
        f'<text x="{LEFT}" y="{HEIGHT - 6}">{course[0].on}</text>',
        f'<text x="{WIDTH - 90}" y="{HEIGHT - 6}">{course[-1].on}</text>',
        "</svg>",
        "",
    ])  # fmt: skip


def main() -> None:
    """Write all four."""
    for number, (kind, body, exercise) in enumerate(SHOWN):
        path = ROOT / f"docs/reference/strength_{number + 1}.svg"
        path.write_text(picture(kind, body, exercise, number), encoding="utf-8")
        print(path.relative_to(ROOT))


if __name__ == "__main__":
    main()
