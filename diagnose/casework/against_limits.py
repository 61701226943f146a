"""A computed value beside the single figures published for it, and the cautions that being out of bounds calls for.

The page of a batch and every single sum compare in this one way. A comparison states the published figure, its source and its
date. It never says that a product is safe.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence

from diagnose.corpus.figures import Figures, Limit
from diagnose.corpus.records import Knowledge
from diagnose.process.comparing import Comparison, Side, against_least, against_most

from .batch_outcome import Bound, RecordCaution, Result, standing_of
from .computing.values import Value
from .quantities import shown

Found = Result | RecordCaution


def limits_for(
    quantity: str, figures: Figures, *, product: str, method: str, rules: str, cured: bool
) -> tuple[Limit, ...]:
    """The figures published for a computed value. `cured`: with nitrite or nitrate; `rules` is us or eu."""
    return tuple(
        limit
        for limit in figures.limits
        if limit.quantity == quantity
        and limit.rules in (rules, "any")
        and (not limit.products or product in limit.products)
        and (not limit.methods or method in limit.methods)
        and not (limit.without_nitrite and cured)
    )


def compared(value: Value, limits: Sequence[Limit]) -> Iterator[Found]:
    """The value beside each figure published for it, worst first, each caution after its line; alone where there is none."""
    pairs = [(limit, _against(value, limit)) for limit in limits]
    pairs.sort(key=lambda pair: (pair[1].side is Side.WITHIN, pair[0].at_most is None, abs(pair[1].room)))
    if not pairs:
        yield plain(value)
    for at, (limit, comparison) in enumerate(pairs):
        yield dataclasses.replace(
            plain(value),
            name=value.name if at == 0 else f"{value.name}--{limit.id}",
            verdict=comparison.side.value,
            bound=_bound(limit),
            note=value.note if at == 0 else "",
            basis=value.basis if at == 0 else (),
        )
        if comparison.side is not Side.WITHIN:
            measure = (
                f"{'at most' if limit.at_most is not None else 'at least'} {shown(comparison.published, limit.unit)}"
            )
            because = f"{value.title} {shown(value.value, '')}, {comparison.side.value}: {limit.title}, {measure}"
            for caution in limit.caution:
                yield RecordCaution(caution, because)


def plain(value: Value) -> Result:
    """The value as a result that is compared with nothing."""
    return Result(
        value.name,
        value.title,
        value.value,
        value.unit,
        value.how,
        note=value.note,
        basis=value.basis,
        more_than=value.more_than,
    )


def with_standing(result: Result, knowledge: Knowledge) -> Result:
    """The result with what is known of its figure: seen by anybody, or only recalled."""
    if result.bound is None or result.bound.read:
        return result
    return dataclasses.replace(
        result, bound=dataclasses.replace(result.bound, read=standing_of(result.bound.basis, knowledge))
    )


def _against(value: Value, limit: Limit) -> Comparison:
    if limit.at_most is not None:
        return against_most(value.value, limit.at_most)
    assert limit.at_least is not None  # the reader sees to it
    return against_least(value.value, limit.at_least)


def _bound(limit: Limit) -> Bound:
    most = limit.at_most is not None
    figure = limit.at_most if most else limit.at_least
    assert figure is not None
    return Bound(
        limit.id, limit.title, figure, most, limit.unit, limit.rules, limit.date, "", limit.condition, limit.basis
    )
