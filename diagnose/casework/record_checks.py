"""What cannot be true of one lot, however the figures came about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from .chart_file import Chart

SCALE_SLACK = 1.005
"""Two weighings of the same meat may differ by half a per cent."""

MOST_GAIN = 3.0
"""Meat that weighs more than this many times its green weight was weighed in another unit."""

SHOWER = 1.02
"""A house with a shower may leave this much more on the scale than went in, and no more."""

_ANALYSIS = ("salt", "moisture", "protein", "fat", "sugar")
_NEEDED_FOR_A_WHOLE = ("moisture", "protein", "fat", "salt")
_LEAST_WHOLE, _MOST_WHOLE = 90.0, 101.0


def impossible(values: Mapping[str, float], charts: Mapping[str, Chart]) -> Iterator[tuple[str, str]]:
    """The key of a figure and what is wrong with it, for everything that cannot be."""
    yield from _weights(values)
    yield from _brine(values)
    yield from _analysis(values)
    yield from _times(values, charts)


def _weights(values: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    green, injected = values.get("green-weight"), values.get("injected-weight")
    if green is not None and injected is not None and injected < green:
        yield "injected-weight", f"the injected weight ({injected:g} kg) is below the green weight ({green:g} kg)"
    for key, name in (("injected-weight", "injected"), ("cured-weight", "cured")):
        if green is not None and values.get(key, 0.0) > MOST_GAIN * green:
            yield (
                key,
                f"the {name} weight ({values[key]:g} kg) is over {MOST_GAIN:g} times the green weight; a unit is wrong",
            )
    chain = [
        (key, name, values[key], slack)
        for key, name, slack in (
            ("injected-weight", "injected", 1.0),
            ("drained-weight", "drained", SCALE_SLACK),
            ("cooked-weight", "cooked", SHOWER),
            ("finished-weight", "finished", SCALE_SLACK),
        )
        if key in values
    ]
    for (_, before, heavier, _), (key, after, lighter, slack) in pairwise(chain):
        if lighter > heavier * slack:
            yield key, f"the {after} weight ({lighter:g} kg) is above the {before} weight ({heavier:g} kg)"
    if green is not None and values.get("piece-weight", 0.0) > green:
        yield "piece-weight", "one piece is heavier than all the green meat"


def _brine(values: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    shares = [key for key in ("cure-mix-nitrite", "cure-mix-nitrate", "cure-mix-salt") if key in values]
    whole = sum(values[key] for key in shares)
    if whole > 100.0 + 1e-6:
        yield shares[-1], f"the shares of the curing mix sum to {whole:g} %, more than the whole"
    solids = [key for key in values if key.startswith("brine-") and key not in _NOT_SOLIDS]
    water = values.get("brine-water", 0.0) + values.get("brine-ice", 0.0)
    if (solids or "cure-mix-weight" in values) and ("brine-water" in values or "brine-ice" in values) and water == 0:
        yield "brine-water" if "brine-water" in values else "brine-ice", "a brine without water or ice is none"


_NOT_SOLIDS = ("brine-water", "brine-ice", "brine-temperature", "brine-reading")


def _analysis(values: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    found = [key for key in _ANALYSIS if key in values]
    whole = sum(values[key] for key in found)
    if whole > _MOST_WHOLE:
        yield found[-1], f"{', '.join(found)} sum to {whole:.4g} %, more than the whole"
    elif all(key in values for key in _NEEDED_FOR_A_WHOLE) and whole < _LEAST_WHOLE:
        yield found[-1], f"{', '.join(found)} sum to only {whole:.4g} %; a ham has no other tenth"


def _times(values: Mapping[str, float], charts: Mapping[str, Chart]) -> Iterator[tuple[str, str]]:
    start, end = values.get("colour-from"), values.get("colour-to")
    if start is not None and end is not None and end <= start:
        yield "colour-to", "colour development ends before it begins"
    chart = charts.get("cook-chart")
    if chart is None:
        return
    last = max(trace.minutes[-1] for trace in chart.traces.values())
    for key in ("colour-from", "colour-to", "steam-time", "sealed-time"):
        if key in values and values[key] > last + 1e-6:
            yield key, f"{values[key]:g} min is past the end of the cook chart ({last:g} min)"
