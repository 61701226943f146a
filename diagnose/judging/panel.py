"""A look at the judges: agreement, scores worth a second look, and drift over the morning.

Nothing here changes a score. What stands out is marked so that people can look again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import mean, median, stdev

from .distributions import t_two_sided
from .sheet import JudgedClass
from .standing import Standing
from .statistics import Agreement, Concordance, intraclass, kendall

OUTLYING = 3.5
"""Modified z-score from which a score stands out: B. Iglewicz and D. Hoaglin, How to Detect and Handle Outliers (1993)."""

LEAST_SHARE = 0.03
"""A score nearer to the others than this share of the scorecard's total is never called outlying (our own judgement)."""

DRIFT_CHANCE = 0.05
FEWEST_FOR_DRIFT = 8


@dataclass(frozen=True, slots=True)
class Judge:
    """One judge's level: mean of the totals, and how far above the other judges on the same entries."""

    judge: str
    mean: float
    above: float
    spread: float
    """Standard deviation of this judge's totals."""


@dataclass(frozen=True, slots=True)
class Outlying:
    """A total far from the other judges' on the same entry, their usual difference allowed for."""

    entry: int
    judge: str
    total: int
    others: float
    """Mean of the other judges' totals."""
    criterion: str
    """The criterion in which this judge is furthest from the others."""


@dataclass(frozen=True, slots=True)
class Drift:
    """How a judge's totals moved against the other judges' along the running order.

    `slope` is in points for each entry judged; `chance` that a slope as large comes about though there is none.
    """

    judge: str
    slope: float
    error: float
    entries: int
    chance: float

    @property
    def notable(self) -> bool:
        """Whether it is more than chance would easily give."""
        return self.chance < DRIFT_CHANCE


@dataclass(frozen=True, slots=True)
class Panel:
    """All that is said of the judges."""

    entries: int
    """Entries that every judge scored in full; the figures rest on these."""
    judges: tuple[Judge, ...]
    concordance: Concordance | None
    agreement: Agreement | None
    by_criterion: dict[str, Concordance | None]
    outlying: tuple[Outlying, ...]
    drift: tuple[Drift, ...]


def panel_of(judged: JudgedClass, standings: Sequence[Standing]) -> Panel:
    """What can be said of the judges of a class."""
    shared = [one for one in standings if one.status == "placed" and len(one.by_judge) == len(judged.judges)]
    shared.sort(key=lambda one: one.entry)
    table = [[float(one.by_judge[judge]) for judge in judged.judges] for one in shared]
    return Panel(
        entries=len(shared),
        judges=_judges(judged.judges, table),
        concordance=kendall(table),
        agreement=intraclass(table),
        by_criterion={one.id: kendall(_of_criterion(judged, shared, one.id)) for one in judged.card.criteria},
        outlying=_outlying(judged, shared, table),
        drift=tuple(one for judge in judged.judges if (one := _drift(judged, shared, judge)) is not None),
    )


def _of_criterion(judged: JudgedClass, shared: Sequence[Standing], criterion: str) -> list[list[float]]:
    rows = []
    for one in shared:
        sheets = judged.of_entry(one.entry)
        rows.append([float(sheet.points[criterion].points) for sheet in sheets])
    return rows


def _judges(names: Sequence[str], table: list[list[float]]) -> tuple[Judge, ...]:
    found = []
    for at, name in enumerate(names):
        own = [row[at] for row in table]
        if not own:
            continue
        above = mean(row[at] - _others(row, at) for row in table) if len(names) > 1 else 0.0
        found.append(Judge(name, mean(own), above, stdev(own) if len(own) > 1 else 0.0))
    return tuple(found)


def _others(row: Sequence[float], at: int) -> float:
    rest = [value for number, value in enumerate(row) if number != at]
    return mean(rest)


def _outlying(judged: JudgedClass, shared: Sequence[Standing], table: list[list[float]]) -> tuple[Outlying, ...]:
    """At most one score an entry: the one furthest from the others once each judge's usual difference is taken off."""
    count = len(judged.judges)
    if count < 2 or len(table) < 3:
        return ()
    away = [[row[at] - _others(row, at) for at in range(count)] for row in table]
    usual = [median(row[at] for row in away) for at in range(count)]
    rest = [[row[at] - usual[at] for at in range(count)] for row in away]
    scale = 1.4826 * median(abs(value) for row in rest for value in row)
    least = LEAST_SHARE * judged.card.total
    found = []
    for one, row, values in zip(shared, table, rest, strict=True):
        at = max(range(count), key=lambda number: abs(values[number]))
        if abs(values[at]) >= max(least, OUTLYING * scale):
            judge = judged.judges[at]
            found.append(
                Outlying(one.entry, judge, int(row[at]), _others(row, at), _furthest(judged, one.entry, judge))
            )
    return tuple(found)


def _furthest(judged: JudgedClass, entry: int, judge: str) -> str:
    sheets = judged.of_entry(entry)
    own = next(one for one in sheets if one.judge == judge)
    others = [one for one in sheets if one.judge != judge]

    def gap(criterion: str) -> float:
        return abs(own.points[criterion].points - mean(one.points[criterion].points for one in others))

    return max((one.id for one in judged.card.criteria), key=gap)


def _drift(judged: JudgedClass, shared: Sequence[Standing], judge: str) -> Drift | None:
    """The least-squares slope of own total less the mean of the others' on the place in this judge's running order."""
    if len(judged.judges) < 2:
        return None
    by_entry = {one.entry: one for one in shared}
    order = [one.entry for one in judged.sheets[judge]]
    xs, ys = [], []
    for place, entry in enumerate(order):
        if entry in by_entry:
            totals = by_entry[entry].by_judge
            xs.append(float(place))
            ys.append(totals[judge] - mean(value for name, value in totals.items() if name != judge))
    count = len(xs)
    if count < FEWEST_FOR_DRIFT:
        return None
    middle, level = mean(xs), mean(ys)
    width = sum((x - middle) ** 2 for x in xs)
    slope = sum((x - middle) * (y - level) for x, y in zip(xs, ys, strict=True)) / width
    left = sum((y - level - slope * (x - middle)) ** 2 for x, y in zip(xs, ys, strict=True))
    error = math.sqrt(left / (count - 2) / width)
    chance = t_two_sided(slope / error, count - 2) if error > 0 else (1.0 if slope == 0 else 0.0)
    return Drift(judge, slope, error, count, chance)
