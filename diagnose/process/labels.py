"""Protein on a fat-free basis (PFF) of cured pork, and the product name that it supports under the US rule.

PFF = 100 x meat protein / (100 - fat): the protein native to the raw pork as a share of the fat-free finished product
(9 CFR 319.104, chart and footnotes seen). Added water lowers it, so each name has a minimum. The minima are data
(knowledge/tables/pff-names.yaml) and come in as rows; official compliance rests on sampling of lots under 9 CFR 318.19,
which one analysis cannot stand for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypedDict

from diagnose.process.ranges import require, require_positive

NameRow = TypedDict("NameRow", {"product": str, "name": str, "at-least": float})
"""One name of one kind of product and the least PFF for it, per cent; 0 for the name that asks for none."""


@dataclass(frozen=True, slots=True)
class SupportedName:
    """The name that a PFF supports, the published minimum for it, and how far the next better name is.

    `room` is PFF minus the minimum of the supported name. `next_name` and `short_by` are None at the best name.
    """

    pff: float
    name: str
    published: float
    room: float
    next_name: str | None
    short_by: float | None


def protein_fat_free(meat_protein_percent: float, fat_percent: float) -> float:
    """PFF in per cent: 100 x meat protein / (100 - fat), both as analysed in the finished product.

    Meat protein 0 to 40 per cent (protein added as such, soy or milk, is not meat protein: take it off first), fat 0 to
    70 per cent, both together no more than 100.

    Raises:
        ValueError: a number lies outside its range.
    """
    require("meat protein", meat_protein_percent, 0, 40, "per cent")
    require("fat", fat_percent, 0, 70, "per cent")
    require("meat protein and fat together", meat_protein_percent + fat_percent, 0, 100, "per cent")
    return 100 * meat_protein_percent / (100 - fat_percent)


def supported_name(pff: float, product: str, names: Sequence[NameRow]) -> SupportedName:
    """The best name whose published minimum a PFF (0 to 100 per cent) reaches, from the rows of one product.

    The figure is compared as computed, unrounded.

    Raises:
        ValueError: PFF outside its range, no rows for the product, or the PFF reaches none of them.
    """
    require("PFF", pff, 0, 100, "per cent")
    rows = sorted((row for row in names if row["product"] == product), key=lambda row: row["at-least"])
    if not rows:
        known = ", ".join(sorted({row["product"] for row in names}))
        raise ValueError(f"no names for {product}; known are {known}")
    reached = [at for at, row in enumerate(rows) if pff >= row["at-least"]]
    if not reached:
        least = rows[0]
        raise ValueError(f"a PFF of {pff:g} supports no name of {product}; the least is {least['at-least']:g}")
    row = rows[reached[-1]]
    better = rows[reached[-1] + 1] if reached[-1] + 1 < len(rows) else None
    return SupportedName(
        pff=pff,
        name=row["name"],
        published=row["at-least"],
        room=pff - row["at-least"],
        next_name=None if better is None else better["name"],
        short_by=None if better is None else better["at-least"] - pff,
    )


def added_ingredients_percent(meat_kg: float, finished_kg: float) -> float:
    """Added substances as a share of the finished weight: 100 x (finished - meat) / finished, where no meat was lost.

    The X of "and water product, X per cent of weight is added ingredients" (9 CFR 319.104 footnote 3, seen). Never below
    0: a finished weight under the raw weight holds no measurable addition. Weights in kg.

    Raises:
        ValueError: a weight is not above 0.
    """
    require_positive("weight of the raw meat", meat_kg, "kg")
    require_positive("finished weight", finished_kg, "kg")
    return max(0.0, 100 * (finished_kg - meat_kg) / finished_kg)


def protein_for(pff_wanted: float, fat_percent: float) -> float:
    """Meat protein that a finished product of stated fat needs for a PFF: PFF x (100 - fat) / 100, all per cent.

    Raises:
        ValueError: PFF outside 0 to 40 or fat outside 0 to 70.
    """
    require("wanted PFF", pff_wanted, 0, 40, "per cent")
    return pff_wanted * (100 - require("fat", fat_percent, 0, 70, "per cent")) / 100


def highest_yield_percent(raw_protein_percent: float, raw_fat_percent: float, pff_wanted: float) -> float:
    """The most a ham may weigh, per cent of green weight, and still reach a PFF.

    100 x protein / (yield - fat) = PFF solved for the yield, with protein and fat of the raw meat kept whole; cook juice
    takes some of both along, so the real ceiling is a little lower. Raw protein above 0 to 30, raw fat 0 to 60, PFF above
    0 to 40 per cent. Source: mass balance on the definition of PFF.

    Raises:
        ValueError: a number lies outside its range.
    """
    require_positive("protein of the raw meat", raw_protein_percent, "per cent")
    require("protein of the raw meat", raw_protein_percent, 0, 30, "per cent")
    require("fat of the raw meat", raw_fat_percent, 0, 60, "per cent")
    require_positive("wanted PFF", pff_wanted, "per cent")
    return raw_fat_percent + 100 * raw_protein_percent / require("wanted PFF", pff_wanted, 0, 40, "per cent")
