"""The published figures beside a single sum, with the cautions of the page of a batch.

Whoever weighs a cure or sets a cook by one of these sums sees the figure first, and the danger where it is passed.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from diagnose.casework.against_limits import Found, compared, limits_for, plain
from diagnose.casework.batch_outcome import Bound, RecordCaution, Result, verdict_of
from diagnose.casework.chart_file import Trace
from diagnose.casework.computing.values import Value
from diagnose.casework.quantities import fahrenheit, shown
from diagnose.casework.table_results import COOKED, held_lines
from diagnose.corpus.figures import HoldTable, Limit
from diagnose.process import heating, species
from diagnose.process.comparing import against_least

from .work import Given, Parameter

Method = Literal["pumped", "immersed", "on-meat"]

_PRODUCTS = ("bone-in-ham", "boneless-ham", "bacon", "dry-cured-ham", "smoked-sausage")
PRODUCT = Parameter("product", "choice", "whose published figures", default="bone-in-ham", choices=_PRODUCTS)
PRODUCT_NEEDED = Parameter("product", "choice", "whose published figures; they differ widely", choices=_PRODUCTS)
COOKED_PRODUCT = Parameter("product", "choice", "whose published figures", default="bone-in-ham", choices=COOKED)
RULES = Parameter("rules", "choice", "figures of the US or the EU", default="us", choices=("us", "eu"))
AGENT = Parameter(
    "of",
    "choice",
    "what the agent is; it is compared as this",
    default="nitrite",
    choices=("nitrite", "nitrate", "erythorbate", "other"),
)
_QUANTITIES = {"nitrite": "ingoing-nitrite", "nitrate": "ingoing-nitrate", "erythorbate": "ingoing-ascorbate"}
_AS_EU = {
    "nitrite": ("added-nitrite", "NaNO2", "NO2", "Added nitrite, as nitrite ion", "mg NO2 per kg"),
    "erythorbate": (
        "added-erythorbic-acid",
        "sodium-erythorbate",
        "erythorbic-acid",
        "Added erythorbate, as the acid",
        "mg erythorbic acid per kg",
    ),
}
_TABLE = "lethality-meat-6-5-log"
ONE_ROW = "One row is met by itself, with one of the humidity options; a comparison, no clearance."


def limits(given: Given, quantity: str, method: Method) -> tuple[Limit, ...]:
    """The figures published for a quantity, for the product and rules given (bone-in ham and US where not asked)."""
    product = given.words.get("product", "bone-in-ham")
    way = {"on-meat": "comminuted" if product == "smoked-sausage" else "dry-rubbed"}.get(method, method)
    rules = given.words.get("rules", "us")
    return limits_for(quantity, given.figures, product=product, method=way, rules=rules, cured=True)


def ingoing(given: Given, value: Value, method: Method, brine_percent: float = 0.0) -> Iterator[Found]:
    """An ingoing amount in ppm of green weight beside its figures. `brine_percent` of green weight went in with it.

    Under the EU rules the amount is also brought to meat and brine together, in the form that they name.
    """
    agent = given.words.get("of", "nitrite")
    if agent not in _QUANTITIES or value.value <= 0:
        yield plain(value)
        return
    yield from compared(value, limits(given, _QUANTITIES[agent], method))
    if given.words.get("rules") == "eu" and agent in _AS_EU:
        name, weighed, form, title, unit = _AS_EU[agent]
        added = species.expressed_as(value.value / (1 + brine_percent / 100), weighed, form)
        what = Value(name, title, added, unit, "on meat and brine together")
        yield from compared(what, limits(given, name, method))


def wanted_logs(given: Given) -> Iterator[Found]:
    """The tenfold reductions that are aimed at, beside the figure published for the organism, if there is one."""
    if given.words["organism"].startswith("salmonella"):
        value = Value("wanted-logs", "Tenfold reductions aimed at", given["logs"], "log", "")
        yield from compared(value, limits(given, "salmonella-logs", "pumped"))


def chart_held(given: Given, core: Trace) -> Iterator[Found]:
    """A core chart beside the cooking table."""
    table = given.figures.table(_TABLE, HoldTable)
    if table is not None:
        yield from held_lines(table, heating.table_hold(core.minutes, core.celsius, table.rows))


def row_at(table: HoldTable, celsius: float) -> tuple[float, float] | None:
    """The row that counts at this core: its °C and minutes; None where the table gives no time so low."""
    rows = [(row[0], row[1]) for row in table.rows if row[0] <= celsius + heating.ROUNDING_C]
    return max(rows) if rows else None


def row_bound(table: HoldTable, row: tuple[float, float]) -> Bound:
    """A row of the cooking table as a published figure."""
    condition = f"core at {row[0]:g} °C ({fahrenheit(row[0]):.0f} °F) or hotter; with one of the humidity options"
    return Bound(table.id, table.title, row[1], False, "min", table.rules, table.date, "", condition, table.basis)


def hold_beside_table(given: Given, value: Value, core_c: float) -> Iterator[Found]:
    """A time at a steady core beside what the cooking table asks there; shorter than that calls for the caution."""
    table = given.figures.table(_TABLE, HoldTable)
    row = row_at(table, core_c) if table is not None else None
    if table is None or row is None:
        yield RecordCaution("undercook-hold", f"the cooking table gives no time for a core of {core_c:.4g} °C")
        yield plain(value)
        return
    side = against_least(value.value, row[1]).side
    if value.value < row[1]:
        short = f"{value.title}: {shown(value.value, 'min')}, under the {shown(row[1], 'min')} of the cooking table"
        yield RecordCaution("undercook-hold", short)
    if row[1] == 0:
        yield plain(value)
        return
    found = plain(value)
    yield Result(
        found.name,
        found.title,
        found.value,
        found.unit,
        found.how,
        verdict_of(side),
        row_bound(table, row),
        found.note,
        found.basis,
    )
