"""From a batch record to results: compute, compare with the published figures of the chosen rules, and say where each stands.

A comparison states the published figure, its source and its date. It never says that a product is safe.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeVar

from diagnose.corpus.figures import Figures
from diagnose.corpus.records import Knowledge

from . import cooling_results, table_results
from .against_limits import Found, compared, limits_for, with_standing
from .batch_outcome import BatchOutcome, RecordCaution, Result
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
    from_tables = list(_from_tables(record, figures, values, rules, refused))
    told = {one.name for one in from_tables if isinstance(one, Result)}
    alone = [value for value in values.values() if cooling_results.TOLD_BY.get(value.name) not in told]
    beside = [found for value in alone for found in _compared(value, record, figures, rules, values)]
    for found in (*beside, *from_tables):
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
        results=tuple(with_standing(one, knowledge) for one in results),
        cautions=tuple(dict.fromkeys(one for one in cautions if one.id in knowledge.cautions)),
        plots=plots_of(record, figures, rules),
        missing=(*gaps(record), *dict.fromkeys(refused)),
        values={value.name: value.value for value in values.values()},
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
    yield from _while_it_goes(cooling_results.cooling_values(record), refused)


def _from_tables(
    record: BatchRecord, figures: Figures, values: Mapping[str, Value], rules: str, refused: list[str]
) -> Iterator[Found]:
    for found in (
        table_results.hold_results(record, figures),
        table_results.humidity_results(record, figures),
        cooling_results.cooling_results(record, figures, values, rules),
        table_results.label_results(record, figures, values, rules),
    ):
        yield from _while_it_goes(found, refused)


def _compared(
    value: Value, record: BatchRecord, figures: Figures, rules: str, values: Mapping[str, Value]
) -> Iterator[Found]:
    limits = limits_for(
        value.name,
        figures,
        product=record.product,
        method=record.method,
        rules=rules,
        cured="ingoing-nitrite" in values or "ingoing-nitrate" in values,
    )
    return compared(value, limits)
