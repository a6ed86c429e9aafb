"""Measured figures beside the published ones, as rows and as the page of evidence."""

from collections.abc import Sequence
from datetime import UTC, datetime
from math import isinf
from pathlib import Path
from typing import NamedTuple

from .open_data_figures import Figures
from .published import Published

REPOSITORY = Path(__file__).resolve().parents[2]
CHANCE = 2  # sampling errors within which a difference may be chance
READINGS = (
    "* Of each session the first working set counts; its 1RM is load x (1 + repetitions / 30).",
    "* A line is that of least squares through ln 1RM over weeks, of one person in one exercise, in series of ten or",
    "  more sessions; the scatter is the root of the squared rest over n - 2. A best must be passed, not equalled.",
    "* Changes by days off are means of the change itself, not beside the mean of all repeats.",
    "* Beginners are tested in steps of 2.5 % from the last test; sessions a week and repetitions aimed at are from",
    "  memory.",
    "* A total needs all three lifts at one meet; a year of competing is 365 days from the first meet and counts its",
    "  best total; the own curve is a parabola of ln kg over time in careers of six or more meets (rest over n - 3,",
    "  median over lifters); the SD within a lifter is the root of the mean variance.",
)


class Measured(NamedTuple):
    """The figures of one study run on one body, and the sampling error of each."""

    figures: Figures
    errors: Figures


class Study(NamedTuple):
    """One published study with what each simulated body gave, and how it was run."""

    name: str
    run_as: str
    published: tuple[Published, ...]
    by_body: dict[str, Measured]


def agrees(figure: Published, measured: Measured, errors: float = 0) -> bool:
    """Whether a measured figure lies within the bounds, widened by so many sampling errors."""
    slack = errors * measured.errors[figure.key] if errors else 0.0
    return figure.least - slack <= measured.figures[figure.key] <= figure.most + slack


def differing(study: Study, body: str, errors: float = 0) -> list[Published]:
    """The figures that a body does not meet."""
    return [figure for figure in study.published if not agrees(figure, study.by_body[body], errors)]


def table(study: Study) -> list[str]:
    """One study as rows of a table."""
    bodies = list(study.by_body)
    heads = "".join(f" {body} | differs | agrees |" for body in bodies)
    lines = [f"| figure | published | bounds |{heads}", "|---|---|---|" + "---|---|---|" * len(bodies)]
    for figure in study.published:
        cells = "".join(_cells(figure, study.by_body[body]) for body in bodies)
        range_ = f"at least {figure.least:.3g}" if isinf(figure.most) else f"{figure.least:.3g} to {figure.most:.3g}"
        bounds = f"{range_} ({figure.bounds})"
        lines.append(f"| {figure.says} | {figure.value:.3g} | {bounds} |{cells}")
    return lines


def page(studies: Sequence[Study], named: dict[tuple[str, str, str], str], made_from: str) -> str:
    """The page of evidence; what differs is listed with the reason known for it, or without one."""
    differing_now = [(s, body, f) for s in studies for body in s.by_body for f in differing(s, body)]
    beyond_chance = [(s, body, f) for s, body, f in differing_now if not agrees(f, s.by_body[body], CHANCE)]
    compared = sum(len(s.published) * len(s.by_body) for s in studies)
    lines = [
        "# Simulated lifters beside the open data",
        "",
        "Written by `python -m tests.simulation.open_data --write`. Two bodies that share no formula train by",
        "the same habits; their logs are measured as the data were, by functions that see nothing but a log",
        "(`tests/simulation/open_data_figures.py`, tested on logs worked by hand). Behind each figure stands its",
        "sampling error with so many people; the bounds are those of `tests/simulation/published.py`. What no open",
        "data can check (deloads, order of phases, weekly limits, injury, layoffs beyond three weeks) is not checked.",
        "",
        "The constants of both bodies were chosen to meet these figures, on other people than those of this page: the",
        "page shows that simulated lifters can look like the people of the data, not that a body is right elsewhere.",
        "",
        f"* day: {datetime.now(UTC).date().isoformat()}",
        f"* commit: {made_from}",
        f"* figures compared: {compared}",
        f"* within the bounds: {compared - len(differing_now)}",
        f"* outside, by less than {CHANCE} sampling errors: {len(differing_now) - len(beyond_chance)}",
        f"* outside, by more: {len(beyond_chance)}",
    ]
    for study in studies:
        lines += ["", f"## {study.name}", "", study.run_as, "", *table(study)]
    lines += ["", "## How the measures were read where the data leave it open", "", *READINGS]
    lines += ["", "## What differs", ""]
    for study, body, figure in differing_now:
        measured = study.by_body[body].figures[figure.key]
        unexplained = "not explained" if (study, body, figure) in beyond_chance else "this may be chance"
        why = named.get((study.name, body, figure.key), unexplained)
        lines.append(f"* {study.name}, {body}: {figure.says}: {measured:.3g} for {figure.value:.3g}; {why}.")
    return "\n".join([*lines, *([] if differing_now else ["Nothing."]), ""])


def _cells(figure: Published, measured: Measured) -> str:
    found = measured.figures[figure.key]
    differs = f"{found / figure.value - 1:+.0%}" if figure.value else f"{found - figure.value:+.2g}"
    said = "yes" if agrees(figure, measured) else "no"
    return f" {found:.3g} ± {measured.errors[figure.key]:.1g} | {differs} | {said} |"
