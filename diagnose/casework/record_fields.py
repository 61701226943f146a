"""What a batch record may hold: each figure with its kind, its range and what it is.

The list is the single description of the format: the reader, the handbook page and the messages are drawn from it. A figure
that nobody took is left out, left blank, or written as `not recorded`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from .quantities import Kind

FieldKind = Kind | Literal["chart", "choice"]


@dataclass(frozen=True, slots=True)
class Field:
    """One figure: its key in the record, kind, lowest and highest value in the unit of the kind, and what it is.

    `choices` holds the words of a choice, `columns` the columns a chart must and may have.
    """

    key: str
    kind: FieldKind
    says: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()


METHODS = ("pumped", "immersed", "dry-rubbed")

_WEIGHT = 1e6
GROUPS: Mapping[str, tuple[Field, ...]] = {
    "Weights": (
        Field("green-weight", "weight", "raw meat before anything was added", 0.01, _WEIGHT),
        Field("injected-weight", "weight", "straight after injection", 0.01, _WEIGHT),
        Field("drained-weight", "weight", "before the house, when no more brine drips", 0.01, _WEIGHT),
        Field("cured-weight", "weight", "out of the cover brine, for immersed meat", 0.01, _WEIGHT),
        Field("cooked-weight", "weight", "out of the house", 0.01, _WEIGHT),
        Field("finished-weight", "weight", "chilled, before packing", 0.01, _WEIGHT),
        Field("piece-weight", "weight", "of the lightest piece", 0.01, 60),
    ),
    "Targets of the plant": (
        Field("target-pump", "share", "pump, of green weight", 0, 100),
        Field("target-salt", "share", "salt in the finished product", 0, 20),
        Field("target-yield", "share", "finished weight, of green weight", 20, 200),
        Field("target-core", "temperature", "core temperature to reach", 0, 100),
    ),
    "Cure": (
        Field("cure-method", "choice", "how the cure goes in; left out: pumped", choices=METHODS),
        Field("brine-water", "weight", "water in the tank", 0, _WEIGHT),
        Field("brine-ice", "weight", "ice in the tank", 0, _WEIGHT),
        Field("brine-salt", "weight", "salt, without that of a curing mix", 0, _WEIGHT),
        Field("brine-sugar", "weight", "sugar, dextrose, syrup solids", 0, _WEIGHT),
        Field("brine-phosphate", "weight", "phosphate", 0, _WEIGHT),
        Field("brine-nitrite", "weight", "pure sodium nitrite", 0, _WEIGHT),
        Field("brine-nitrate", "weight", "pure sodium nitrate", 0, _WEIGHT),
        Field("brine-erythorbate", "weight", "sodium erythorbate or ascorbate", 0, _WEIGHT),
        Field("brine-ascorbic-acid", "weight", "ascorbic or erythorbic acid", 0, _WEIGHT),
        Field("brine-other", "weight", "anything else dissolved", 0, _WEIGHT),
        Field("cure-mix-weight", "weight", "curing mix in the tank", 0, _WEIGHT),
        Field("cure-mix-nitrite", "share", "sodium nitrite in the curing mix", 0, 100),
        Field("cure-mix-nitrate", "share", "sodium nitrate in the curing mix", 0, 100),
        Field("cure-mix-salt", "share", "salt in the curing mix", 0, 100),
        Field("phosphate-p2o5", "share", "phosphorus pentoxide in the phosphate, from its specification", 1, 80),
        Field("brine-temperature", "temperature", "of the brine when it was read", -5, 60),
        Field("brine-reading", "float", "salometer reading at that temperature", 0, 100),
        Field("rub-salt", "weight", "salt rubbed on", 0, _WEIGHT),
        Field("rub-nitrite", "weight", "pure sodium nitrite rubbed on", 0, _WEIGHT),
        Field("rub-nitrate", "weight", "pure sodium nitrate rubbed on", 0, _WEIGHT),
    ),
    "Raw meat, cure room and waiting": (
        Field("raw-ph", "plain", "pH of the raw meat", 4.5, 7.5),
        Field("deep-leg", "temperature", "at the bone when the cure began", -5, 45),
        Field("thickness", "length", "from the cut face to the far side of the flesh", 5, 400),
        Field("cure-time", "time", "from curing to the house", 0, 60 * 24 * 400),
        Field("cure-room", "temperature", "coldest of the cure room over much of that time", -10, 40),
        Field("hold-temperature", "temperature", "warmest while waiting for the cook", -10, 60),
    ),
    "House and cook": (
        Field("surface-temperature", "temperature", "of the hams when loaded", -10, 60),
        Field("altitude", "altitude", "of the plant; left out: sea level", -400, 5000),
        Field(
            "cook-chart",
            "chart",
            "CSV file with time, core, and dry and wet bulb where there are any",
            columns=("core", "dry bulb", "wet bulb"),
        ),
        Field("colour-from", "time", "time on the cook chart at which colour development began", 0, 60 * 24 * 60),
        Field("colour-to", "time", "time on the cook chart at which it ended", 0, 60 * 24 * 60),
        Field("steam-time", "time", "steam let in without a break", 0, 60 * 24 * 10),
        Field("sealed-time", "time", "house shut without a break", 0, 60 * 24 * 10),
    ),
    "Chill": (
        Field("chill-chart", "chart", "CSV file with time and core", columns=("core",)),
        Field("chill-delay", "time", "from the end of the cook to the start of chilling", 0, 60 * 24),
    ),
    "Analysis of the finished product": (
        Field("salt", "share", "salt", 0, 26),
        Field("moisture", "share", "moisture", 1, 95),
        Field("protein", "share", "meat protein", 0, 60),
        Field("fat", "share", "fat", 0, 90),
        Field("sugar", "share", "sugar", 0, 40),
        Field("water-activity", "plain", "water activity, measured", 0.3, 1),
        Field("residual-nitrite", "ppm", "nitrite left, as sodium nitrite", 0, 5000),
    ),
}

FIELDS: Mapping[str, Field] = {field.key: field for group in GROUPS.values() for field in group}
