"""A chart drawn with ordinary characters, so that it reads in any terminal and in a screen reader's grid."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.casework.batch_outcome import Line, Plot

_READ_MARKS = "*ow+"
_LIMIT_MARKS = "-.~"
_ROWS = 14
_LABEL = 6
"""Columns for the numbers of the upright axis."""


def plot_lines(plot: Plot, width: int) -> list[str]:
    """The plot in lines of at most `width` columns (30 or more): title, grid, time axis and legend."""
    columns = max(20, min(width, 100) - _LABEL - 2)
    start, end, low, high = bounds(plot.lines)
    grid = [[" "] * columns for _ in range(_ROWS)]
    marks = _marks(plot.lines)
    for line in sorted(plot.lines, key=lambda one: not one.limit):  # what was read is drawn over the limits
        for column in range(columns):
            at = start + (end - start) * column / (columns - 1)
            value = _at(line, at)
            if value is not None and low <= value <= high:
                level = round((high - value) / (high - low) * (_ROWS - 1))
                grid[level][column] = marks[line.name]
    out = [f"{plot.title} (°C over hours)"]
    for at, row in enumerate(grid):
        label = f"{high - (high - low) * at / (_ROWS - 1):.0f}" if at % 3 == 0 or at == _ROWS - 1 else ""
        out.append(f"{label.rjust(_LABEL)} |{''.join(row).rstrip()}")
    out.append(" " * _LABEL + " +" + "-" * columns)
    first, last = f"{start / 60:.1f} h", f"{end / 60:.1f} h"
    out.append(" " * (_LABEL + 2) + first + last.rjust(columns - len(first)))
    out += [f"  {marks[line.name]} {line.name}{' (limit)' if line.limit else ''}" for line in plot.lines]
    return out


def bounds(lines: Sequence[Line]) -> tuple[float, float, float, float]:
    """First and last minute of what was read, and the lowest and highest °C worth showing, whole tens."""
    read = [line for line in lines if not line.limit] or list(lines)
    start = min(line.minutes[0] for line in read)
    end = max(line.minutes[-1] for line in read)
    shown = [value for line in lines for minute, value in zip(line.minutes, line.celsius, strict=True) if minute <= end]
    low = min(0.0, 10.0 * (min(shown) // 10))
    high = 10.0 * (max(shown) // 10 + 1)
    return start, max(end, start + 1.0), low, high


def _marks(lines: Sequence[Line]) -> dict[str, str]:
    read = [line for line in lines if not line.limit]
    limits = [line for line in lines if line.limit]
    found = {line.name: _READ_MARKS[at % len(_READ_MARKS)] for at, line in enumerate(read)}
    return found | {line.name: _LIMIT_MARKS[at % len(_LIMIT_MARKS)] for at, line in enumerate(limits)}


def _at(line: Line, minute: float) -> float | None:
    """The line's value at a minute, straight between its points; None outside it."""
    if not line.minutes[0] <= minute <= line.minutes[-1]:
        return None
    for at in range(1, len(line.minutes)):
        if minute <= line.minutes[at]:
            span = line.minutes[at] - line.minutes[at - 1]
            share = (minute - line.minutes[at - 1]) / span if span else 0.0
            return line.celsius[at - 1] + (line.celsius[at] - line.celsius[at - 1]) * share
    return line.celsius[-1]
