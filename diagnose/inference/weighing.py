"""What each answer did: its weight for and against every cause, and whether the answers go together.

The weight of an answer for a cause is the change of the cause's log odds in decibans (a tenth of a factor of ten) when the
answer is added to those before it (Good 1985, Weight of evidence; read from memory). Causes overlap, so the weight depends
on the order in which the answers came; over all answers it sums to the whole change.

The conflict of the answers is ln [product of P(answer) / P(all answers)] (Jensen, Chamberlain, Nordahl and Jensen 1990,
Analysis in HUGIN of data conflict): above 0 the answers are rarer together than apart. A cause c explains a conflict away
if ln [P(c | answers) / P(c)] is at least as large; a cause that was itself answered explains nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .elimination import sums
from .evidence import Observed

CERTAIN = 1e-6
"""Chances nearer to 0 or 1 than this count as certain; a weight is therefore at most 120 decibans."""


@dataclass(frozen=True, slots=True)
class Weighing:
    """`decibans[answer][root]` in the order of the answers; `conflict` in natural-log units; `against_rest[answer]`: the
    conflict of one answer with all the others; `explained_by`: the root that best accounts for a conflict, if one does."""

    decibans: Mapping[str, Mapping[str, float]]
    conflict: float
    against_rest: Mapping[str, float]
    explained_by: str | None


def weigh(observed: Observed) -> Weighing:
    """Weigh every answer, in one sweep over all beginnings of the list, each answer alone, and all answers but one.

    The evidence must be possible (see `posterior.present`). Raises TooEntangledError.
    """
    names = list(observed.evidence)
    count = len(names)
    alone, but_one = count + 1, 2 * count + 1
    weights = observed.weights(3 * count + 1, answered=False)
    for at, name in enumerate(names):
        rows = np.zeros(weights.rows, dtype=bool)
        rows[at + 1 : count + 1] = True
        rows[alone + at] = True
        rows[but_one:] = True
        rows[but_one + at] = False
        observed.answer(weights, rows, name)
    result = sums(observed.structure, weights)
    log_total = np.log(result.total)
    decibans: dict[str, dict[str, float]] = {name: {} for name in names}
    growth: dict[str, float] = {}
    for root, part in result.on.items():
        chance = np.clip(part[: count + 1] / result.total[: count + 1], CERTAIN, 1.0 - CERTAIN)
        odds = 10.0 * np.log10(chance / (1.0 - chance))
        for at, name in enumerate(names):
            decibans[name][root] = float(odds[at + 1] - odds[at])
        if root not in observed.evidence:
            growth[root] = float(np.log(chance[count] / observed.network.nodes[root].chance))
    conflict = float(log_total[alone:but_one].sum() - log_total[count])
    against_rest = {
        name: float(log_total[alone + at] + log_total[but_one + at] - log_total[count]) for at, name in enumerate(names)
    }
    best = max(growth, key=growth.__getitem__, default=None)
    explained = best if best is not None and conflict > 0.0 and growth[best] >= conflict else None
    return Weighing(decibans, conflict, against_rest, explained)
