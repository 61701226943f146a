"""A computed value on its way to the page."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.corpus.records import Basis


@dataclass(frozen=True, slots=True)
class Value:
    """One value: its name (what limits and measures call it), title, number and unit, and what it was computed from.

    `note` says what a reader must know besides; `basis` the sources of data that went in (an organism's D and z, say).
    """

    name: str
    title: str
    value: float
    unit: str
    how: str
    note: str = ""
    basis: tuple[Basis, ...] = ()
    more_than: bool = False
    """The real value is greater, but nothing can show by how much."""
