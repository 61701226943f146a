"""What a record lacks for the sums that a person would expect from it."""

from __future__ import annotations

from collections.abc import Iterator

from .batch_record import BatchRecord


def gaps(record: BatchRecord) -> Iterator[str]:
    """What could not be computed, and which figure it would take, in words."""
    have = set(record.values)
    if record.method == "pumped" and not {"green-weight", "injected-weight"} <= have:
        yield "The pump, and with it every ingoing amount, needs green-weight and injected-weight."
    if record.method == "immersed" and not {"green-weight", "cured-weight"} <= have:
        yield "The pick-up, and with it every ingoing amount, needs green-weight and cured-weight."
    if record.method != "dry-rubbed" and not (
        have & {"brine-water", "brine-ice"} and have & {"brine-salt", "cure-mix-weight"}
    ):
        yield "Ingoing cure needs what was weighed into the tank: brine-water, brine-salt and the rest."
    if record.values.get("cure-mix-weight") and "cure-mix-nitrite" not in have:
        yield "Ingoing nitrite needs cure-mix-nitrite, the share that the bag declares; no sum is made without it."
    if "brine-reading" in have and "brine-temperature" not in have:
        yield "The float reading says nothing without brine-temperature."
    chart = record.charts.get("cook-chart")
    if chart is None:
        yield "Lethality, come-up and humidity need a cook-chart."
    elif chart.core is None:
        yield "Lethality and come-up need a core column in the cook chart."
    elif chart.air is not None and not {"colour-from", "colour-to"} <= have:
        yield "Humidity during colour development needs colour-from and colour-to."
    if "chill-chart" not in record.charts:
        yield "Cooling after the cook needs a chill-chart; without one it is not shown."
