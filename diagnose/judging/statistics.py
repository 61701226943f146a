"""How far judges agree: Kendall's coefficient of concordance and the intraclass correlations.

Kendall's W after M. G. Kendall and B. Babington Smith, The problem of m rankings, Annals of Mathematical Statistics 10
(1939) 275-287, with the correction for ties of Kendall's Rank Correlation Methods (1948). Intraclass correlations after
P. E. Shrout and J. L. Fleiss, Psychological Bulletin 86 (1979) 420-428: every judge scores every entry, and the judges stand
for other judges (two-way random, absolute agreement) or only for themselves (two-way mixed, consistency).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .distributions import chi_square_upper, f_quantile

Table = Sequence[Sequence[float]]
"""One row an entry, one column a judge."""


@dataclass(frozen=True, slots=True)
class Concordance:
    """Kendall's W with its test of no agreement. `w` lies between 0 (no common order) and 1 (the same order)."""

    w: float
    judges: int
    entries: int
    chi_square: float
    freedom: int
    chance: float
    """Chance of a W as large if the judges had no order in common (chi-square approximation; rough below 8 entries)."""


@dataclass(frozen=True, slots=True)
class Intraclass:
    """One intraclass correlation with its interval of 95 %. `low` is minus infinity where nothing bounds it below."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Agreement:
    """The four intraclass correlations that say something about a class in which every judge scored every entry.

    `agreement` counts a judge's habit of scoring high or low as error, `consistency` does not; `_one` speaks of a single
    judge, `_mean` of the mean of all.
    """

    agreement_one: Intraclass
    agreement_mean: Intraclass
    consistency_one: Intraclass
    consistency_mean: Intraclass
    between: float
    """Mean square between entries."""
    judges: float
    """Mean square between judges."""
    error: float
    """Mean square of the rest."""


def ranks(values: Sequence[float]) -> list[float]:
    """Ranks from 1, ties sharing the mean of their places."""
    order = sorted(range(len(values)), key=lambda at: values[at])
    found = [0.0] * len(values)
    start = 0
    while start < len(order):
        end = start
        while end + 1 < len(order) and values[order[end + 1]] == values[order[start]]:
            end += 1
        for at in range(start, end + 1):
            found[order[at]] = (start + end) / 2.0 + 1.0
        start = end + 1
    return found


def kendall(table: Table) -> Concordance | None:
    """Kendall's W, corrected for ties. None with fewer than two judges or entries, or where every judge ties all."""
    n, m = len(table), len(table[0]) if table else 0
    if n < 2 or m < 2:
        return None
    columns = [[row[judge] for row in table] for judge in range(m)]
    ranked = [ranks(column) for column in columns]
    sums = [sum(column[entry] for column in ranked) for entry in range(n)]
    spread = sum((value - m * (n + 1) / 2.0) ** 2 for value in sums)
    ties = sum(count**3 - count for column in columns for count in _counts(column))
    most = m * m * (n**3 - n) - m * ties
    if most <= 0:
        return None
    w = 12.0 * spread / most
    chi_square = m * (n - 1) * w
    return Concordance(w, m, n, chi_square, n - 1, chi_square_upper(chi_square, n - 1))


def _counts(values: Sequence[float]) -> list[int]:
    return [list(values).count(value) for value in set(values)]


def intraclass(table: Table, *, level: float = 0.95) -> Agreement | None:
    """The intraclass correlations, with intervals of the coverage `level` (between 0 and 1).

    None with fewer than two judges or entries, where no entry differs from another, or where the entries differ so little
    beside the judges' error that the correlation of the mean of all judges has no value.
    """
    n, k = len(table), len(table[0]) if table else 0
    if n < 2 or k < 2:
        return None
    mean = sum(map(sum, table)) / (n * k)
    rows = [sum(row) / k for row in table]
    columns = [sum(row[judge] for row in table) / n for judge in range(k)]
    total = sum((value - mean) ** 2 for row in table for value in row)
    of_rows = k * sum((value - mean) ** 2 for value in rows)
    of_columns = n * sum((value - mean) ** 2 for value in columns)
    bms = of_rows / (n - 1)
    jms = of_columns / (k - 1)
    ems = max(0.0, total - of_rows - of_columns) / ((n - 1) * (k - 1))
    spread_of_means = bms + (jms - ems) / n
    if bms <= 0.0 or spread_of_means <= 0.0:
        return None
    single = _random_single(n, k, bms, jms, ems, level)
    mixed = _mixed_single(n, k, bms, ems, level)
    return Agreement(
        agreement_one=single,
        agreement_mean=Intraclass((bms - ems) / spread_of_means, _of_mean(single.low, k), _of_mean(single.high, k)),
        consistency_one=mixed[0],
        consistency_mean=mixed[1],
        between=bms,
        judges=jms,
        error=ems,
    )


def _of_mean(one: float, judges: int) -> float:
    """The correlation of the mean of several judges from that of one (Spearman and Brown); it has a pole at -1/(judges-1)."""
    below = 1.0 + (judges - 1) * one
    return judges * one / below if below > 0.0 else -math.inf


def _random_single(n: int, k: int, bms: float, jms: float, ems: float, level: float) -> Intraclass:
    """ICC(2,1) with the interval of Shrout and Fleiss (1979), which uses Satterthwaite's degrees of freedom."""
    value = (bms - ems) / (bms + (k - 1) * ems + k * (jms - ems) / n)
    if ems <= 0.0:
        return Intraclass(value, value, value)
    tail = 1.0 - (1.0 - level) / 2.0
    ratio = jms / ems
    top = (k - 1) * (n - 1) * (k * value * ratio + n * (1 + (k - 1) * value) - k * value) ** 2
    bottom = (n - 1) * k**2 * value**2 * ratio**2 + (n * (1 + (k - 1) * value) - k * value) ** 2
    freedom = top / bottom
    upper = f_quantile(tail, n - 1, freedom)
    lower = f_quantile(tail, freedom, n - 1)
    rest = k * jms + (k * n - k - n) * ems
    low = n * (bms - upper * ems) / (upper * rest + n * bms)
    high = n * (lower * bms - ems) / (rest + n * lower * bms)
    return Intraclass(value, low, high)


def _mixed_single(n: int, k: int, bms: float, ems: float, level: float) -> tuple[Intraclass, Intraclass]:
    """ICC(3,1) and ICC(3,k) with their intervals."""
    one = (bms - ems) / (bms + (k - 1) * ems)
    mean = (bms - ems) / bms
    if ems <= 0.0:
        return Intraclass(one, one, one), Intraclass(mean, mean, mean)
    tail = 1.0 - (1.0 - level) / 2.0
    freedom = (n - 1) * (k - 1)
    low = bms / ems / f_quantile(tail, n - 1, freedom)
    high = bms / ems * f_quantile(tail, freedom, n - 1)
    return (
        Intraclass(one, (low - 1) / (low + k - 1), (high - 1) / (high + k - 1)),
        Intraclass(mean, 1 - 1 / low, 1 - 1 / high),
    )
