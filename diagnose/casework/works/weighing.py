"""Weights, yields and the name on the label."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.casework.computing.values import Value
from diagnose.casework.table_results import names_of
from diagnose.corpus.figures import NameTable
from diagnose.process import labels, yields

from .work import Given, Parameter, Work

_GREEN = "per cent of green weight"
_ARITHMETIC = "arithmetic of the trade"


def _pump(given: Given) -> Iterator[Value]:
    yield Value("pump", "Per cent pump", yields.pump_percent(given["green"], given["injected"]), _GREEN, "")


def _drain(given: Given) -> Iterator[Value]:
    found = yields.retained_after_drain(given["green"], given["injected"], given["drained"])
    yield Value("pump", "Per cent pump", found.pump_percent, _GREEN, "")
    yield Value("retained", "Pump left after draining", found.retained_percent, _GREEN, "")
    yield Value("brine-lost", "Brine lost", found.brine_lost_percent, "per cent of the brine", "")


def _yield(given: Given) -> Iterator[Value]:
    found = yields.yield_percent(given["start"], given["end"])
    yield Value("yield", "Yield", found, "per cent of the start", "")
    yield Value("shrink", "Shrink", 100 - found, "per cent of the start", "")


def _green_for(given: Given) -> Iterator[Value]:
    yield Value("green", "Green weight to start with", yields.green_kg_for(given["finished"], given["yield"]), "kg", "")


def _cook_loss(given: Given) -> Iterator[Value]:
    found = yields.cook_loss_allowed_percent(given["pump"], [given["other-loss"]], given["yield"])
    yield Value("cook-loss", "Cook loss that gives the yield", found, "per cent of the weight into the house", "")


def _pff(given: Given) -> Iterator[Value]:
    pff = labels.protein_fat_free(given["protein"], given["fat"])
    yield Value("pff", "Protein on a fat-free basis", pff, "per cent", "")
    table = given.figures.table("pff-names", NameTable)
    if table is not None:
        name = labels.supported_name(pff, given.words["kind"], names_of(table))
        note = f'supports the name "{name.name}"'
        if name.next_name:
            note += f'; {name.short_by:.2g} points short of "{name.next_name}"'
        yield Value("room", "Above the least for its name", name.room, "points", "", note=note, basis=table.basis)


def _highest_yield(given: Given) -> Iterator[Value]:
    found = labels.highest_yield_percent(given["raw-protein"], given["raw-fat"], given["pff"])
    yield Value("yield", "Highest yield that keeps the PFF", found, _GREEN, "")


_WEIGHT = 1e6
WORKS = (
    Work(
        "pump",
        "Per cent pump from green and injected weight",
        (
            Parameter("green", "weight", "green weight", 0.01, _WEIGHT),
            Parameter("injected", "weight", "straight after injection", 0.01, _WEIGHT),
        ),
        _pump,
        _ARITHMETIC,
    ),
    Work(
        "drain",
        "Pump left and brine lost after draining",
        (
            Parameter("green", "weight", "green weight", 0.01, _WEIGHT),
            Parameter("injected", "weight", "straight after injection", 0.01, _WEIGHT),
            Parameter("drained", "weight", "after draining", 0.01, _WEIGHT),
        ),
        _drain,
        _ARITHMETIC,
    ),
    Work(
        "yield",
        "Yield and shrink between two weighings",
        (
            Parameter("start", "weight", "at the start", 0.01, _WEIGHT),
            Parameter("end", "weight", "at the end", 0.01, _WEIGHT),
        ),
        _yield,
        _ARITHMETIC,
    ),
    Work(
        "green-for",
        "Green weight for a wanted finished weight",
        (
            Parameter("finished", "weight", "wanted finished weight", 0.01, _WEIGHT),
            Parameter("yield", "share", "yield on green weight", 1, 300),
        ),
        _green_for,
        _ARITHMETIC,
        backwards=True,
    ),
    Work(
        "cook-loss",
        "Cook loss that a wanted yield allows",
        (
            Parameter("pump", "share", "per cent pump", 0, 200),
            Parameter("yield", "share", "wanted yield on green weight", 1, 300),
            Parameter("other-loss", "share", "drip and chill loss together", -20, 95, default=0.0),
        ),
        _cook_loss,
        _ARITHMETIC,
        backwards=True,
    ),
    Work(
        "pff",
        "Protein on a fat-free basis and the name it supports (US)",
        (
            Parameter("protein", "share", "meat protein in the product", 0, 40),
            Parameter("fat", "share", "fat in the product", 0, 70),
            Parameter(
                "kind",
                "choice",
                "kind of product",
                default="cooked-ham-or-loin",
                choices=(
                    "cooked-ham-or-loin",
                    "cooked-shoulder-butt-or-picnic",
                    "uncooked-cured-ham-or-loin",
                    "uncooked-cured-shoulder-butt-or-picnic",
                ),
            ),
        ),
        _pff,
        "9 CFR 319.104",
    ),
    Work(
        "highest-yield",
        "Highest yield that still keeps a PFF",
        (
            Parameter("raw-protein", "share", "protein of the raw meat", 0.1, 30),
            Parameter("raw-fat", "share", "fat of the raw meat", 0, 60),
            Parameter("pff", "share", "wanted PFF", 0.1, 40),
        ),
        _highest_yield,
        "mass balance on the definition of PFF",
        backwards=True,
    ),
)
