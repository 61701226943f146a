"""Refusal of numbers that make no sense: one function, so that every message has the same form."""

from __future__ import annotations

import math


def require(quantity: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value itself, if it is finite and lies between `low` and `high`, both included.

    Raises:
        ValueError: it does not; the message names the quantity, its range and its unit.
    """
    if not math.isfinite(value) or not low <= value <= high:
        shown = f" {unit}" if unit else ""
        raise ValueError(f"{quantity} must lie between {low:g} and {high:g}{shown}, not {value:g}")
    return value


def require_positive(quantity: str, value: float, unit: str = "") -> float:
    """The value itself, if it is finite and above zero.

    Raises:
        ValueError: it is not; the message names the quantity and its unit.
    """
    if not math.isfinite(value) or value <= 0:
        shown = f" {unit}" if unit else ""
        raise ValueError(f"{quantity} must be above 0{shown}, not {value:g}")
    return value


def require_not_negative(quantity: str, value: float, unit: str = "") -> float:
    """The value itself, if it is finite and not below zero.

    Raises:
        ValueError: it is; the message names the quantity and its unit.
    """
    if not math.isfinite(value) or value < 0:
        shown = f" {unit}" if unit else ""
        raise ValueError(f"{quantity} must be 0{shown} or more, not {value:g}")
    return value
