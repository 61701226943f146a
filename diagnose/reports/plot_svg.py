"""A chart as SVG that stands inside a page: lines told apart by dashes as well as by colour, nothing loaded from anywhere."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from diagnose.casework.batch_outcome import Line, Plot

from .layout import one_line
from .plot_text import bounds

_WIDTH, _HEIGHT = 720, 300
_LEFT, _RIGHT, _TOP, _BOTTOM = 46, 12, 12, 40
_READ = (("#7a2e1d", ""), ("#1f5f8b", ""), ("#3c7d4a", "2 2"), ("#555555", ""))
_LIMIT = (("#b00020", "8 4"), ("#b36b00", "3 4"), ("#555555", "1 4"))


def plot_svg(plot: Plot) -> str:
    """The plot as one `svg` element with a title for those who cannot see it, and its legend below."""
    start, end, low, high = bounds(plot.lines)

    def x(minute: float) -> float:
        return _LEFT + (minute - start) / (end - start) * (_WIDTH - _LEFT - _RIGHT)

    def y(celsius: float) -> float:
        return _TOP + (high - celsius) / (high - low) * (_HEIGHT - _TOP - _BOTTOM)

    parts = [
        f'<svg viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" aria-label="{_text(plot.title)}">',
        f"<title>{_text(plot.title)}</title>",
        f'<clipPath id="{_id(plot)}"><rect x="{_LEFT}" y="{_TOP}" width="{_WIDTH - _LEFT - _RIGHT}" '
        f'height="{_HEIGHT - _TOP - _BOTTOM}"/></clipPath>',
    ]
    for celsius in _steps(low, high, 10.0 if high - low <= 70 else 20.0):
        parts.append(
            f'<line class="grid" x1="{_LEFT}" x2="{_WIDTH - _RIGHT}" y1="{y(celsius):.1f}" y2="{y(celsius):.1f}"/>'
        )
        parts.append(f'<text class="y" x="{_LEFT - 6}" y="{y(celsius) + 4:.1f}">{celsius:.0f}</text>')
    hours = (end - start) / 60
    for hour in _steps(0.0, hours, next(step for step in (0.25, 0.5, 1, 2, 4, 8, 24, 96, 1e9) if hours / step <= 12)):
        parts.append(f'<text class="x" x="{x(start + hour * 60):.1f}" y="{_HEIGHT - 22}">{hour:g}</text>')
    parts.append(
        f'<text class="x" x="{(_LEFT + _WIDTH) / 2}" y="{_HEIGHT - 5}">hours from the start; upright: °C</text>'
    )
    for line, (colour, dash) in _styled(plot):
        points = " ".join(
            f"{x(minute):.1f},{y(value):.1f}" for minute, value in zip(line.minutes, line.celsius, strict=True)
        )
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        parts.append(
            f'<polyline clip-path="url(#{_id(plot)})" fill="none" stroke="{colour}" stroke-width="2"{dashes} points="{points}"/>'
        )
    parts.append("</svg>")
    return "\n".join(parts) + _legend(plot)


def _legend(plot: Plot) -> str:
    items = []
    for line, (colour, dash) in _styled(plot):
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        sample = (
            f'<svg class="key" viewBox="0 0 30 8" aria-hidden="true"><line x1="0" x2="30" y1="4" y2="4" stroke="{colour}" '
            f'stroke-width="2"{dashes}/></svg>'
        )
        items.append(f"<li>{sample} {_text(line.name)}{' (limit)' if line.limit else ''}</li>")
    return f'\n<ul class="legend">{"".join(items)}</ul>'


def _styled(plot: Plot) -> Iterator[tuple[Line, tuple[str, str]]]:
    counts = {True: 0, False: 0}
    for line in plot.lines:
        styles = _LIMIT if line.limit else _READ
        yield line, styles[counts[line.limit] % len(styles)]
        counts[line.limit] += 1


def _steps(low: float, high: float, step: float) -> Iterator[float]:
    at = low
    while at <= high + 1e-9:
        yield at
        at += step


def _id(plot: Plot) -> str:
    return "clip-" + "".join(
        character if character.isascii() and character.isalnum() else "-" for character in plot.title
    )


def _text(text: str) -> str:
    return escape(one_line(text))
