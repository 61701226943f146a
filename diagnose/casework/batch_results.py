"""From a batch record to results: compute, compare with the published figures of the chosen rules, and say where each stands.

A comparison states the published figure, its source and its date. It never says that a product is safe.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from typing import TypeVar

from diagnose.corpus.figures import Figures, Limit
from diagnose.corpus.records import Knowledge
from diagnose.process.comparing import Comparison, Side, against_least, against_most

from . import table_results
from .batch_outcome import BatchOutcome, Bound, RecordCaution, Result, standing_of
from .batch_plots import plots_of
from .batch_record import BatchRecord
from .computing.cure import cure_values
from .computing.house import house_values
from .computing.product import product_values
from .computing.room import room_values
from .computing.values import Value
from .computing.weights import weight_values
from .record_gaps import gaps

RULES = ("us", "eu")


def results_of(knowledge: Knowledge, figures: Figures, record: BatchRecord, rules: str = "us") -> BatchOutcome:
    """Everything that the record gives under these rules (us or eu). Raises ValueError for other rules."""
    if rules not in RULES:
        raise ValueError(f"the rules are {' or '.join(RULES)}, not {rules}")
    refused: list[str] = []
    values = {value.name: value for value in _values(record, figures, rules, refused)}
    results: list[Result] = []
    cautions: list[RecordCaution] = []
    compared = [found for value in values.values() for found in _compared(value, record, figures, rules, values)]
    for found in (*compared, *_from_tables(record, figures, values, rules, refused)):
        if isinstance(found, Result):
            results.append(found)
        else:
            cautions.append(found)
    return BatchOutcome(
        product=record.product,
        title=record.title,
        batch=record.batch,
        notes=record.notes,
        rules=rules,
        results=tuple(_with_standing(one, knowledge) for one in results),
        cautions=tuple(dict.fromkeys(one for one in cautions if one.id in knowledge.cautions)),
        plots=plots_of(record, figures, rules),
        missing=(*gaps(record), *dict.fromkeys(refused)),
    )


T = TypeVar("T")


def _while_it_goes(found: Iterator[T], refused: list[str]) -> Iterator[T]:
    """Whatever comes out until a sum refuses a figure; the refusal is kept in words, to be shown as not computed."""
    try:
        yield from found
    except ValueError as error:
        refused.append(f"A sum was refused: {error}.")


def _values(record: BatchRecord, figures: Figures, rules: str, refused: list[str]) -> Iterator[Value]:
    found: dict[str, Value] = {}
    for value in (
        *_while_it_goes(weight_values(record), refused),
        *_while_it_goes(cure_values(record, rules), refused),
    ):
        found[value.name] = value
        yield value
    yield from _while_it_goes(product_values(record, found), refused)
    yield from _while_it_goes(room_values(record, figures), refused)
    yield from _while_it_goes(house_values(record, figures), refused)
    if (row := table_results.row_value(record, figures)) is not None:
        yield row
    yield from _while_it_goes(table_results.cooling_values(record), refused)


def _from_tables(
    record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str, refused: list[str]
) -> Iterator[Result | RecordCaution]:
    for found in (
        table_results.hold_results(record, figures),
        table_results.humidity_results(record, figures),
        table_results.cooling_results(record, figures, values, rules),
        table_results.label_results(record, figures, values, rules),
    ):
        yield from _while_it_goes(found, refused)


def _compared(
    value: Value, record: BatchRecord, figures: Figures, rules: str, values: Mapping[str, Value]
) -> Iterator[Result | RecordCaution]:
    """The value beside each figure published for it, worst first; alone where there is none."""
    pairs = [(limit, _against(value, limit)) for limit in _limits_for(value, record, figures, rules, values)]
    pairs.sort(key=lambda pair: (pair[1].side is Side.WITHIN, pair[0].at_most is None, abs(pair[1].room)))
    if not pairs:
        yield Result(value.name, value.title, value.value, value.unit, value.how, note=value.note, basis=value.basis)
    for at, (limit, comparison) in enumerate(pairs):
        yield Result(
            value.name if at == 0 else f"{value.name}--{limit.id}",
            value.title,
            value.value,
            value.unit,
            value.how,
            comparison.side.value,
            _bound(limit),
            note=value.note if at == 0 else "",
            basis=value.basis if at == 0 else (),
        )
        if comparison.side is not Side.WITHIN:
            because = f"{value.title} {comparison.side.value}: {limit.title}"
            for caution in limit.caution:
                yield RecordCaution(caution, because)


def _limits_for(
    value: Value, record: BatchRecord, figures: Figures, rules: str, values: Mapping[str, Value]
) -> Iterable[Limit]:
    cured = "ingoing-nitrite" in values or "ingoing-nitrate" in values
    return [
        limit
        for limit in figures.limits
        if limit.quantity == value.name
        and limit.rules in (rules, "any")
        and (not limit.products or record.product in limit.products)
        and (not limit.methods or record.method in limit.methods)
        and not (limit.without_nitrite and cured)
    ]


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


def _with_standing(result: Result, knowledge: Knowledge) -> Result:
    """The result with what is known of its figure: seen by anybody, or only recalled."""
    if result.bound is None or result.bound.read:
        return result
    return dataclasses.replace(
        result, bound=dataclasses.replace(result.bound, read=standing_of(result.bound.basis, knowledge))
    )
