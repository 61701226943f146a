"""Computed results in words: the value, where it stands, the published figure with its date, and what belongs together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from diagnose.casework.batch_outcome import Bound, Result
from diagnose.casework.quantities import fahrenheit

from . import words
from .citations import Citations
from .document import Figure

_WHOSE = {"us": "US", "eu": "EU", "any": "advice"}
_CHILL = "Chill of the core"


def grouped(results: Sequence[Result]) -> list[list[Result]]:
    """Results that tell one thing together: a value beside several figures, and the ranges of one chill."""
    groups: dict[str, list[Result]] = {}
    for one in results:
        chill = one.bound is not None and one.name.startswith("chill-") and "-to-" in one.name
        groups.setdefault(f"chill {one.bound.id}" if chill and one.bound else one.name.partition("--")[0], []).append(
            one
        )
    return list(groups.values())


def finding(group: Sequence[Result]) -> str:
    """What is out of bounds, in one line."""
    if len({one.title for one in group}) > 1:
        return f"{_CHILL}: {'; '.join(_range_words(one) for one in group if one.off)}"
    one = next(one for one in group if one.off)
    against = f", {_against(one.bound)}" if one.bound is not None and one.bound.unit else ""
    return f"{one.title}: {value_words(one)}; {one.verdict}{against}"


def figures_of(results: Sequence[Result], cited: Citations) -> tuple[Figure, ...]:
    """Results in words, one entry for all that tells one thing."""
    return tuple(_figure(group, cited) for group in grouped(results))


def _figure(group: Sequence[Result], cited: Citations) -> Figure:
    """One entry of the page. The first of several stands for them all, being the worst."""
    first = group[0]
    if len(group) == 1:
        return figure_of(first, cited)
    if len({one.title for one in group}) > 1:
        worst = next((one for one in group if one.off), first)
        figure = figure_of(worst, cited)
        limit = option_words(worst.bound, cited) if worst.bound else ""
        ranges = "; ".join(_range_words(one) for one in group)
        return replace(figure, title=_CHILL, value=ranges, limit=limit, how="the chill chart", note="")
    figure = figure_of(first, cited)
    others = "; ".join(f"{one.verdict} {bound_words(one.bound, cited)}" for one in group[1:] if one.bound)
    return replace(figure, limit=f"{figure.limit} Also {others}")


def _range_words(one: Result) -> str:
    """One range of a chill: how long, of how long at most, and what is wrong with it."""
    span = one.title.removeprefix(f"{_CHILL}, ")
    most = f" of at most {_minutes(one.bound.value)}" if one.bound else ""
    note = f" ({one.note.rstrip('.').lower()})" if one.note else ""
    taken = _minutes(one.value) if isinstance(one.value, float) else "not shown"
    return f"{span}: {taken}{most}{note}"


def _minutes(value: float) -> str:
    if value < 120:
        return words.amount(value, "min")
    hours, rest = divmod(round(value), 60)
    return f"{hours}{words.FIXED}h {rest}{words.FIXED}min" if rest else f"{hours}{words.FIXED}h"


def figure_of(result: Result, cited: Citations) -> Figure:
    """One result in words."""
    marks = cited.marks(result.basis) if result.basis else ""
    how = "" if result.how == "as recorded" else result.how
    return Figure(
        title=result.title,
        value=value_words(result),
        verdict=result.verdict,
        limit=bound_words(result.bound, cited) if result.bound else "",
        how=f"{how} {marks}".strip() if how else "",
        note=result.note if how else f"{result.note} {marks}".strip(),
        off=result.off,
    )


def value_words(result: Result) -> str:
    """The value with its unit; a temperature also in °F."""
    if result.value is None:
        return "not shown"
    if isinstance(result.value, str):
        return result.value
    shown = words.amount(result.value, result.unit)
    if result.more_than:
        return f"more than {shown}"
    if result.unit == "°C" and not result.name.endswith(("-off-target", "dew-point")):
        return f"{shown} ({fahrenheit(result.value):.0f}{words.FIXED}°F)"
    if result.unit == "min" and result.value >= 120:
        return f"{shown} ({_minutes(result.value)})"
    return shown


def bound_words(bound: Bound, cited: Citations) -> str:
    """The published figure, what it is, its date, and whether anybody has seen it."""
    named = f"{_against(bound)}: {bound.title}" if bound.unit else bound.title
    return _published(named, bound, cited)


def option_words(bound: Bound, cited: Citations) -> str:
    """The option that a figure belongs to, its date, and whether anybody has seen it."""
    return _published(bound.title, bound, cited)


def _against(bound: Bound) -> str:
    figure = f"{'at most' if bound.at_most else 'at least'} {words.figure(bound.value)} {bound.unit}"
    warm = bound.unit == "°C" and bound.value >= 2
    return f"{figure} ({fahrenheit(bound.value):.0f}{words.FIXED}°F)" if warm else figure


def _published(named: str, bound: Bound, cited: Citations) -> str:
    date = "undated" if bound.date == "undated" else f"text of {bound.date}"
    read = {"seen": "seen", "memory": "RECALLED, NOT SEEN"}.get(bound.read, bound.read)
    condition = f" {bound.condition}" if bound.condition else ""
    return f"({named}; {_WHOSE.get(bound.rules, bound.rules)}, {date}, {read}) {cited.marks(bound.basis)}{condition}"
