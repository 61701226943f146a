"""A computed figure against a published one. The words say where the figure stands and never that a product is safe."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from diagnose.process.ranges import require


class Side(StrEnum):
    """Where a figure stands to the published one."""

    WITHIN = "within the published figure"
    OVER = "over the published figure"
    UNDER = "under the published figure"


@dataclass(frozen=True, slots=True)
class Comparison:
    """One figure beside the published one, in the same unit.

    `room` is how far the figure may still go: positive within the published figure, negative beyond it.
    """

    figure: float
    published: float
    room: float
    side: Side


def against_most(figure: float, published: float) -> Comparison:
    """Compare with a published maximum; equal counts as within. Any unit, the same for both.

    Raises:
        ValueError: a figure is not finite.
    """
    _finite(figure, published)
    side = Side.WITHIN if figure <= published else Side.OVER
    return Comparison(figure, published, published - figure, side)


def against_least(figure: float, published: float) -> Comparison:
    """Compare with a published minimum; equal counts as within. Any unit, the same for both.

    Raises:
        ValueError: a figure is not finite.
    """
    _finite(figure, published)
    side = Side.WITHIN if figure >= published else Side.UNDER
    return Comparison(figure, published, figure - published, side)


def _finite(figure: float, published: float) -> None:
    require("the figure", figure, -1e12, 1e12)
    require("the published figure", published, -1e12, 1e12)
