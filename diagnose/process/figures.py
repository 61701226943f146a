"""Single figures of a record beside the published ones, and the worst of several: shared by cooking and cooling."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.process.comparing import Side, against_least, against_most


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: what it is, its unit, the published value, the measured one (None = not recorded).

    at_most: True when the published value is a maximum, False when it is a minimum.
    """

    quantity: str
    unit: str
    published: float
    measured: float | None
    at_most: bool = False

    @property
    def side(self) -> Side | None:
        """Where the measured value stands; None when it is not recorded."""
        if self.measured is None:
            return None
        compare = against_most if self.at_most else against_least
        return compare(self.measured, self.published).side

    @property
    def beyond(self) -> float:
        """How far the measured value lies outside the published one, in the figure's unit; 0 when inside or not recorded."""
        if self.measured is None:
            return 0.0
        return max(0.0, (self.measured - self.published) * (1 if self.at_most else -1))


def worst(sides: Iterable[Side | None]) -> Side | None:
    """The worst of several: over, then under, then None (something is not shown), then within. Of nothing: None."""
    found = set(sides)
    for side in (Side.OVER, Side.UNDER, None):
        if side in found:
            return side
    return Side.WITHIN if found else None
