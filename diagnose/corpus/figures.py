"""Published figures and what computed values mean: limits, tables of guidelines, and measures, as typed records.

They are data beside the causes and signs: `limits.yaml` holds single figures of rules and advice, `tables/` the rows of
guidelines that the arithmetic takes as arguments, `measures.yaml` the bands through which a value computed from a batch
record becomes evidence for a sign or cause. The reader, the checks and the schemas are drawn from these classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeVar

from diagnose.corpus.records import Basis, said

Rules = Literal["us", "eu", "any"]
Method = Literal["pumped", "immersed", "dry-rubbed", "comminuted"]
Read = Literal["seen", "memory"]


@dataclass(frozen=True, slots=True)
class Limit:
    """One published figure that a computed value is compared with."""

    id: str = said("Id, kebab-case.")
    title: str = said("What the figure limits, in plain words.", longest=110)
    quantity: str = said("Name of the computed value it belongs to (docs/numbers.md lists them).", longest=60)
    rules: Rules = said("us or eu: used under these rules only. any: advice or teaching that is used under both.")
    unit: str = said("Unit of the figure, the same as that of the computed value.", longest=60)
    date: str = said("Date of the text that the figure was read in, or undated.", longest=20)
    basis: tuple[Basis, ...] = said("A list of sources, or the words common-practice.")
    at_most: float | None = said("The greatest published value.", default=None)
    at_least: float | None = said("The least published value.", default=None)
    products: tuple[str, ...] = said("Products it is for; left out means all.", refers="product", default=())
    methods: tuple[Method, ...] = said("Ways of curing it is for; left out means all.", default=())
    without_nitrite: bool = said(
        "true where it holds only for product cured without nitrite and nitrate.", default=False
    )
    condition: str = said("When and how it holds, in a sentence or two.", default="")
    caution: tuple[str, ...] = said("Cautions to show when the value is not within it.", refers="caution", default=())


@dataclass(frozen=True, slots=True)
class LimitsFile:
    """Published figures, one entry each."""

    limits: tuple[Limit, ...] = said("The figures.")


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a value on one side of a band says of a sign or cause."""

    about: str = said("Id of the sign or cause that is there when the value lies on this side.", refers="cause|sign")
    reliability: str = said("How often that is right far beyond the edge.", scale="reliability")
    full_at: float = said("Distance from the edge, in the measure's unit, from which the full reliability holds.")
    within: Literal["speaks-against", "says-nothing"] = said(
        "Whether a value on the other side of this edge speaks against it in the same way.", default="speaks-against"
    )


@dataclass(frozen=True, slots=True)
class Band:
    """Where the value of an ordinary batch lies, and what a value below or above it means."""

    basis: tuple[Basis, ...] = said("Sources of the edges, or the words common-practice.")
    at_least: float | None = said("Lower edge.", default=None)
    at_most: float | None = said("Upper edge.", default=None)
    below: tuple[Meaning, ...] = said("What a value under the lower edge means.", default=())
    above: tuple[Meaning, ...] = said("What a value over the upper edge means.", default=())
    products: tuple[str, ...] = said("Products it is for; left out means all.", refers="product", default=())
    rules: Rules = said("us or eu: used only where the figures of these rules are chosen.", default="any")


@dataclass(frozen=True, slots=True)
class Measure:
    """A value computed from batch records that is evidence for a sign or cause."""

    id: str = said("Id, kebab-case.")
    title: str = said("What was computed, worded so that it can follow a number.", longest=90)
    result: str = said("Name of the computed value (docs/numbers.md lists them).", longest=60)
    unit: str = said("Unit of the value.", longest=40)
    bands: tuple[Band, ...] = said("The bands; the first that suits the product counts.", at_least=1)


@dataclass(frozen=True, slots=True)
class MeasuresFile:
    """What computed values mean."""

    measures: tuple[Measure, ...] = said("The measures.")


@dataclass(frozen=True, slots=True)
class _Table:
    """What every table begins with."""

    id: str = said("Name of the file.", key="table")
    title: str = said("What the table is.", longest=120)


@dataclass(frozen=True, slots=True)
class _Guideline(_Table):
    """What a table of rules or of a guideline begins with."""

    rules: Rules = said("Whose rules it belongs to.")
    date: str = said("Date of the text it was read in, or undated.", longest=20)


@dataclass(frozen=True, slots=True)
class HoldTable(_Guideline):
    """Rows of temperature and least time at it."""

    basis: tuple[Basis, ...] = said("Sources of the rows.")
    columns: tuple[str, ...] = said("Names of the columns.")
    rows: tuple[tuple[float, ...], ...] = said("The rows, one list of numbers each.")
    note: str = said("What a user of the table must know.", default="")


@dataclass(frozen=True, slots=True)
class HumidityRow:
    """One way to keep the surface moist while cooking."""

    id: str = said("Id of the option.")
    title: str = said("The option in one line.", longest=140)
    counts: Literal["humid", "steam", "sealed", "dry-oven"] = said("What is timed.")
    read: Read = said("seen or memory.")
    basis: tuple[Basis, ...] = said("Sources of the option.")
    share_percent: float = said("Least share of the cooking time, per cent.", default=0.0)
    minutes: float = said("Least time, minutes.", default=0.0)
    humidity_percent: float | None = said("Relative humidity that counts as humid, per cent.", default=None)
    core_c: float | None = said("Lowest core peak, °C.", default=None)
    oven_c: float | None = said("Lowest oven temperature, °C.", default=None)
    piece_kg: float | None = said("Lightest piece, kg.", default=None)


@dataclass(frozen=True, slots=True)
class HumidityTable(_Guideline):
    """The humidity options of a cooking guideline."""

    rows: tuple[HumidityRow, ...] = said("The options.")
    note: str = said("What a user of the table must know.", default="")


@dataclass(frozen=True, slots=True)
class CoolingRow:
    """One cooling schedule of a guideline."""

    id: str = said("Id of the option.")
    title: str = said("The option in one line.", longest=140)
    rules: Rules = said("Whose rules it belongs to.")
    date: str = said("Date of the text it was read in, or undated.", longest=20)
    read: Read = said("seen or memory.")
    ranges: tuple[tuple[float, ...], ...] = said("Ranges: from °C, to °C, minutes at most.")
    basis: tuple[Basis, ...] = said("Sources of the option.")
    start_within_minutes: float | None = said("Chilling begins so many minutes after the cook at most.", default=None)
    nitrite_ppm: float | None = said("Least ingoing nitrite, ppm.", default=None)
    accelerator_ppm: float | None = said("Least ingoing erythorbate or ascorbate, ppm.", default=None)
    brine_percent: float | None = said("Least salt in the water phase, per cent.", default=None)
    note: str = said("What a user of the option must know.", default="")
    disputed: str | None = said("Where sources disagree.", default=None)


@dataclass(frozen=True, slots=True)
class CoolingTable(_Table):
    """Cooling schedules after the cook."""

    rows: tuple[CoolingRow, ...] = said("The options.")
    note: str = said("What a user of the table must know.", default="")


@dataclass(frozen=True, slots=True)
class CureDaysRow:
    """One rule of the trade for days in cure; the pairs are its lower and upper end."""

    id: str = said("Id of the rule.")
    read: Read = said("seen or memory.")
    basis: tuple[Basis, ...] = said("Sources of the rule.")
    days_per_25_4_mm: float | None = said("Days for each 25.4 mm of greatest thickness.", default=None)
    days_per_kg: tuple[float, ...] = said("Days for each kg, least and most.", default=())


@dataclass(frozen=True, slots=True)
class CureDaysTable(_Table):
    """Rules of the trade for days in cure."""

    rows: tuple[CureDaysRow, ...] = said("The rules.")


@dataclass(frozen=True, slots=True)
class DiffusivityRow:
    """How fast something moves in meat."""

    id: str = said("Id of the row.")
    what: str = said("What moves in what.", longest=120)
    read: Read = said("seen or memory.")
    basis: tuple[Basis, ...] = said("Sources, or the words common-practice.")
    diffusivity: float | None = said("m²/s.", default=None)
    at_c: float | None = said("Temperature of the figure, °C.", default=None)
    activation_j_per_mol: float | None = said("Activation energy, J/mol.", default=None)
    times: float | None = said("A factor on another row's figure.", default=None)
    note: str = said("What a user of the row must know.", default="")


@dataclass(frozen=True, slots=True)
class DiffusivityTable(_Table):
    """Diffusivities in pork."""

    rows: tuple[DiffusivityRow, ...] = said("The rows.")
    note: str = said("What a user of the table must know.", default="")


@dataclass(frozen=True, slots=True)
class ResistanceRow:
    """D and z of one organism in one product."""

    id: str = said("Id of the row.")
    organism: str = said("The organism.", longest=60)
    product: str = said("What it was measured in.", longest=80)
    read: Read = said("seen or memory.")
    z_c: float = said("z, °C.")
    basis: tuple[Basis, ...] = said("Sources.")
    reference_c: float | None = said("Temperature of D, °C.", default=None)
    d_minutes: float | None = said("D at that temperature, minutes.", default=None)
    points: tuple[tuple[float, ...], ...] = said("Measured pairs of °C and D in minutes.", default=())


@dataclass(frozen=True, slots=True)
class ResistanceTable(_Table):
    """Heat resistance of organisms."""

    rows: tuple[ResistanceRow, ...] = said("The rows.")
    note: str = said("What a user of the table must know.", default="")


@dataclass(frozen=True, slots=True)
class ThermalRow:
    """One thermal figure."""

    id: str = said("Id of the row.")
    what: str = said("What it is, with its unit.", longest=140)
    value: float = said("The figure.")
    read: Read = said("seen or memory.")
    basis: tuple[Basis, ...] = said("Sources, or the words common-practice.")
    low: float | None = said("Low end of what was found.", default=None)
    high: float | None = said("High end of what was found.", default=None)


@dataclass(frozen=True, slots=True)
class ThermalTable(_Table):
    """Thermal figures of meat and air."""

    rows: tuple[ThermalRow, ...] = said("The rows.")


@dataclass(frozen=True, slots=True)
class MixRow:
    """What one curing mix declares."""

    mix: str = said("Name of the mix, as `cure-mix` in a batch record takes it.", longest=60)
    nitrite_percent: float = said("Sodium nitrite, per cent by weight.")
    nitrate_percent: float = said("Sodium nitrate, per cent by weight.")
    salt_percent: float = said("Salt, per cent by weight.")


@dataclass(frozen=True, slots=True)
class MixTable(_Guideline):
    """Curing mixes."""

    basis: tuple[Basis, ...] = said("Sources of the rows.")
    rows: tuple[MixRow, ...] = said("The rows.")


@dataclass(frozen=True, slots=True)
class NameRow:
    """The least protein fat-free value for one name."""

    product: str = said("Kind of product.", longest=60)
    name: str = said("What the label may say.", longest=60)
    at_least: float = said("Least PFF, per cent.")


@dataclass(frozen=True, slots=True)
class NameTable(_Guideline):
    """Names of cured pork products and their least PFF."""

    basis: tuple[Basis, ...] = said("Sources of the rows.")
    rows: tuple[NameRow, ...] = said("The rows.")


@dataclass(frozen=True, slots=True)
class TrichinaeRow:
    """One row of a treatment against trichinae; a table uses the columns that its method needs."""

    internal_f: float | None = said("Temperature inside the meat, °F.", default=None)
    room_f: float | None = said("Temperature of the room, °F.", default=None)
    thickest_inches: float | None = said("Thickest piece of the group, inches.", default=None)
    minutes: float | None = said("Least minutes.", default=None)
    hours: float | None = said("Least hours.", default=None)
    days: float | None = said("Least days.", default=None)
    cure_days: float | None = said("Least days in cure.", default=None)
    cure_f: float | None = said("Coldest cure, °F.", default=None)
    salt_percent: float | None = said("Least salt, per cent of green weight.", default=None)
    drying_f: float | None = said("Coldest drying, °F.", default=None)
    drying_days: float | None = said("Least days of drying.", default=None)


@dataclass(frozen=True, slots=True)
class TrichinaeTable(_Guideline):
    """A treatment against trichinae."""

    basis: tuple[Basis, ...] = said("Sources of the rows.")
    rows: tuple[TrichinaeRow, ...] = said("The rows.")


TABLES: Mapping[str, type] = {
    "lethality-meat-6-5-log": HoldTable,
    "lethality-meat-7-log": HoldTable,
    "cooking-humidity-options": HumidityTable,
    "cooling-options": CoolingTable,
    "cure-days": CureDaysTable,
    "cure-mixes": MixTable,
    "diffusivity": DiffusivityTable,
    "heat-resistance": ResistanceTable,
    "pff-names": NameTable,
    "thermal-properties": ThermalTable,
    "trichinae-dry-cure": TrichinaeTable,
    "trichinae-freezing": TrichinaeTable,
    "trichinae-freezing-internal": TrichinaeTable,
    "trichinae-heating": TrichinaeTable,
}
"""The tables that may stand in the folder `tables`, by the names of their files."""


T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Figures:
    """All published figures and measures of the folders; `tables` by the names of their files."""

    limits: tuple[Limit, ...] = ()
    measures: tuple[Measure, ...] = ()
    tables: Mapping[str, object] = field(default_factory=dict)

    def table(self, name: str, kind: type[T]) -> T | None:
        """The table of this name, or None where the folders hold none."""
        found = self.tables.get(name)
        return found if isinstance(found, kind) else None
