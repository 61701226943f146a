"""Which question would tell the most: the expected fall of uncertainty for every possible next answer.

The gain of a question is the drop in the summed entropies (bits) of `present` over the causes in play, averaged over its
possible answers. All questions are answered in one sweep with one row each: a "no" is a product of factors, and a "yes" is
all minus "no". A node that no answer has touched yet is never added to the network: given the rest, the chance that such
a mechanism stays quiet is a sum of two products, so a question below k untouched mechanisms takes at most 2**k rows.
"""

from __future__ import annotations

import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .elimination import sums
from .evidence import Observed
from .network import Network
from .tables import Array
from .weights import Weights

Factors = Mapping[str, tuple[float, float]]
"""What a row multiplies onto nodes: id to (factor if off, factor if on)."""

MOST_TERMS = 256
"""Most products into which the quiet of one node may be split; above it a question counts as too far away to weigh."""

NEVER = 1e-12
"""An answer less likely than this is not weighed: its chance is all rounding."""


@dataclass(frozen=True, slots=True)
class Question:
    """A check of a node that is not answered yet. `reliability` is the chance, in (0, 1], that an answer is right, whichever
    it is."""

    about: str
    reliability: float = 1.0


@dataclass(frozen=True, slots=True)
class Gain:
    """What a question is worth. `bits` >= 0; `yes` is the chance of the answer yes; `moves` is the difference of
    `present` between a yes and a no, by cause in play: how the question separates them."""

    about: str
    bits: float
    yes: float
    moves: Mapping[str, float]


def gains(observed: Observed, questions: Sequence[Question], in_play: Sequence[str]) -> list[Gain]:
    """The gain of every question, in the order given, over the causes `in_play` (ids of roots).

    Causes in play that no answer touches yet do not count. A question that is too far from the evidence to be split into
    products within `MOST_TERMS` gains 0 bits, with `yes` not a number. Raises TooEntangledError.
    """
    inside = observed.structure.number
    counted = [name for name in in_play if name in inside]
    terms = [_off_terms(observed.network, question.about, inside.keys()) for question in questions]
    starts = np.cumsum([1, *(len(one) for one in terms)])
    weights = observed.weights(int(starts[-1]))
    coefficients = np.ones(weights.rows)
    for start, one in zip(starts, terms, strict=False):
        for row, (coefficient, factors) in enumerate(one, int(start)):
            coefficients[row] = coefficient * _lay(observed, weights, row, factors)
    result = sums(observed.structure, weights)
    total = float(result.total[0])
    parts = np.vstack([result.total, *(result.on[name] for name in counted)]) * (coefficients / total)
    found = []
    for question, start, one in zip(questions, starts, terms, strict=False):
        if one:
            off = parts[:, start : start + len(one)].sum(axis=1)
            found.append(_gain(question, parts[:, 0], off, counted))
        else:
            found.append(Gain(question.about, 0.0, math.nan, {}))
    return found


def _gain(question: Question, everything: Array, off: Array, causes: Sequence[str]) -> Gain:
    """The gain from the chances, given the evidence, of what is asked about being off, and of anything at all.

    Both hold first the whole, then the part in which each cause is on.
    """
    right = question.reliability
    on = np.clip(everything - off, 0.0, None)
    yes = right * on + (1.0 - right) * off
    no = right * off + (1.0 - right) * on
    possible = [answer for answer in (yes, no) if answer[0] > NEVER]
    after = sum(answer[0] * _bits(answer[1:] / answer[0]) for answer in possible)
    bits = max(0.0, float(_bits(everything[1:]) - after))
    moved = yes[1:] / yes[0] - no[1:] / no[0] if len(possible) == 2 else np.zeros(len(causes))
    return Gain(question.about, bits, float(yes[0]), dict(zip(causes, map(float, moved), strict=True)))


def _bits(chances: Array) -> float:
    """Summed entropy of independent yes/no variables with these chances."""
    p = np.clip(chances, 1e-300, 1.0)
    q = np.clip(1.0 - chances, 1e-300, 1.0)
    return float(-(p * np.log2(p) + q * np.log2(q)).sum())


def _lay(observed: Observed, weights: Weights, row: int, factors: Factors) -> float:
    """Lay the factors on a row; what those outside the structure amount to is returned as one number."""
    outside = 1.0
    for name, (off, on) in factors.items():
        if name in weights.on:
            weights.off[name][row] *= off
            weights.on[name][row] *= on
        else:
            prior = observed.network.nodes[name].chance
            outside *= (1.0 - prior) * off + prior * on
    return outside


def _off_terms(network: Network, about: str, inside: Container[str]) -> list[tuple[float, Factors]]:
    """P(node off | nodes inside, all roots) as a sum of coefficient times product. Empty if it takes too many."""
    node = network.nodes[about]
    if node.kind == "root" or about in inside:
        return [(1.0, {about: (1.0, 0.0)})]
    open_terms: list[tuple[float, dict[str, tuple[float, float]]]] = _quiet(network, about)
    done: list[tuple[float, Factors]] = []
    while open_terms:
        coefficient, factors = open_terms.pop()
        outer = [n for n in factors if network.nodes[n].kind != "root" and n not in inside]
        if not outer:
            done.append((coefficient, factors))
            continue
        # The lowest first, so that a parent's factors are complete before it is opened in its turn.
        name = max(outer, key=network.index.__getitem__)
        off, on = factors.pop(name)
        open_terms.append((coefficient * on, dict(factors)))
        for share, more in _quiet(network, name):
            open_terms.append((coefficient * (off - on) * share, _times(factors, more)))
        if len(open_terms) + len(done) > MOST_TERMS:
            return []
    return done


def _quiet(network: Network, name: str) -> list[tuple[float, dict[str, tuple[float, float]]]]:
    """P(node off | its parents) as a sum of coefficient times one factor a parent."""
    node = network.nodes[name]
    if node.kind == "any" or not node.parents:
        return [(1.0 - node.chance, {parent: (1.0, 1.0 - strength) for parent, strength in node.parents})]
    acting = {parent: (0.0, strength) for parent, strength in node.parents}
    return [(1.0 - node.chance, {}), (node.chance - 1.0, acting)]


def _times(first: Factors, second: Factors) -> dict[str, tuple[float, float]]:
    product = dict(first)
    for name, (off, on) in second.items():
        before = product.get(name, (1.0, 1.0))
        product[name] = (before[0] * off, before[1] * on)
    return product
