"""Ingoing amounts by way of curing, their forms, salt in the product, days in cure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from diagnose.casework.against_limits import Found, compared
from diagnose.casework.computing.values import Value
from diagnose.corpus.figures import CureDaysTable, DiffusivityTable
from diagnose.process import cure, cure_backwards, diffusion, salt, species

from . import published
from .work import Given, Parameter, Work

_PPM = "ppm of green weight"
_HANDBOOK = "Processing Inspectors' Calculations Handbook (FSIS Directive 7620.3, 1995), parts seen as quoted"


def _pumped(given: Given) -> Iterator[Value | Found]:
    agent = given["agent"] * given["share"] / 100
    found = cure.ingoing_pumped(agent, given["pickle"], given["pump"])
    value = Value("ingoing", f"{_ingoing_words(given)} at the needles", found, _PPM, "")
    yield from published.ingoing(given, value, "pumped", given["pump"])
    retained = given.get("retained")
    if retained is not None:
        drained = cure.ingoing_pump_and_drain(agent, given["pickle"], given["pump"], retained)
        note = "Compare the figure at the needles until the plant has shown the drain by weights."
        yield Value("retained", "With what stays after draining", drained.retained_ppm, _PPM, "", note=note)


def _immersed(given: Given) -> Iterator[Value | Found]:
    agent = given["agent"] * given["share"] / 100
    level = cure.ingoing_immersed_at_equilibrium(agent, given["pickle"], given["green"])
    title = f"{_ingoing_words(given)} when meat and pickle have levelled out"
    yield from published.ingoing(given, Value("levelled", title, level, "ppm of meat and pickle", ""), "immersed")
    pick_up = given.get("pick-up")
    if pick_up is not None:
        found = cure.ingoing_immersed_by_pick_up(agent, given["pickle"], pick_up)
        title = f"{_ingoing_words(given)} by pick-up, for large pieces"
        yield from published.ingoing(given, Value("by-pick-up", title, found, _PPM, ""), "immersed", pick_up)


def _on_meat(given: Given) -> Iterator[Value | Found]:
    found = cure.ingoing_dry_rubbed(given["agent"] * given["share"] / 100, given["green"])
    yield from published.ingoing(given, Value("ingoing", _ingoing_words(given), found, _PPM, ""), "on-meat")


def _ingoing_words(given: Given) -> str:
    names = {
        "nitrite": "Ingoing sodium nitrite",
        "nitrate": "Ingoing sodium nitrate",
        "erythorbate": "Ingoing erythorbate",
    }
    return names.get(given.words["of"], "Ingoing amount")


def _added_eu(given: Given) -> Iterator[Value | Found]:
    agent = given["agent"] * given["share"] / 100
    found = cure.added_pumped_eu(agent, given["pickle"], given["pump"])
    ion = species.expressed_as(found, "NaNO2", "NO2")
    value = Value("as-ion", "Added sodium nitrite, as nitrite ion", ion, "mg NO2 per kg", "")
    yield from compared(value, published.limits(given, "added-nitrite", "pumped"))
    yield Value("added", "Added, as the salt weighed", found, "mg per kg of meat and brine", "")


def _agent_for(given: Given) -> Iterator[Value | Found]:
    asked = Value("asked", f"{_ingoing_words(given)} that was asked for", given["target"], _PPM, "")
    yield from published.ingoing(given, asked, "pumped", given["pump"])
    agent = cure_backwards.agent_kg_for_pump(given["target"], given["pickle"], given["pump"])
    yield Value("agent", "Pure agent", agent, "kg", "")
    yield Value("mix", "Of a mix with this share", cure_backwards.mix_kg_for(agent, given["share"]), "kg", "")


def _converted(given: Given) -> Iterator[Value | Found]:
    found = species.expressed_as(given["amount"], given.words["of"], given.words["as"])
    if given.words["of"] in _NITRITES:
        for quantity, form, rules, unit, title in _NITRITE_FIGURES:
            value = species.expressed_as(given["amount"], given.words["of"], form)
            words = {"product": given.words["product"], "rules": rules}
            most = [one for one in published.limits(replace(given, words=words), quantity, "pumped") if one.at_most]
            yield from compared(
                Value(quantity, title, value, unit, "", note="If this is what went into the meat."), most
            )
    yield Value("amount", f"As {given.words['as']}", found, "ppm", "")


def _finished_salt(given: Given) -> Iterator[Value]:
    found = salt.finished_salt_percent(given["ingoing"], given["yield"], given["lost"])
    yield Value("salt", "Salt in the product", found, "per cent of finished weight", "")


def _salt_for(given: Given) -> Iterator[Value]:
    found = salt.ingoing_salt_for_finished(given["wanted"], given["yield"], given["lost"])
    yield Value("ingoing", "Ingoing salt for it", found, "per cent of green weight", "")


def _water(given: Given) -> Iterator[Value]:
    found = salt.water_activity_estimate(given["salt"], given["moisture"], given["sugar"])
    yield Value("water-phase-salt", "Water-phase salt", found.water_phase_salt_percent, "per cent", "")
    note = "An upper estimate from salt and sugar alone; no figure of a rule may be claimed on it."
    yield Value("water-activity", "Water activity, estimated", found.estimate, "", "", note=note)


def _soaked(given: Given) -> Iterator[Value]:
    table = given.figures.table("diffusivity", DiffusivityTable)
    row = next((one for one in table.rows if one.id == "salt-in-pork"), None) if table else None
    if row is None or row.diffusivity is None:
        raise ValueError("this knowledge has no diffusivity of salt in pork")
    depth = given["thickness"] / 1000
    note = (
        f"With {row.diffusivity:g} m²/s, {'recalled, not seen' if row.read == 'memory' else 'seen'}: an order of size."
    )
    time = given.get("time")
    if time is not None:
        found = diffusion.uptake("slab", row.diffusivity, time / 1440, depth)
        yield Value(
            "middle",
            "Salt farthest from the cut face, of its final level",
            100 * found.middle,
            "per cent",
            "",
            note=note,
        )
        yield Value("average", "Salt on average, of its final level", 100 * found.average, "per cent", "")
    days = diffusion.days_until_middle("slab", given["share"] / 100, row.diffusivity, depth)
    title = f"Days until it has {given['share']:g} % of its final level there"
    yield Value("days", title, days, "days", "", note=note)


def _cure_days(given: Given) -> Iterator[Value]:
    table = given.figures.table("cure-days", CureDaysTable)
    rows = {row.id: row for row in table.rows} if table else {}
    thickness, weight = given.get("thickness"), given.get("weight")
    if thickness is None and weight is None:
        raise ValueError("give the thickness, the weight, or both")
    row = rows.get("dry-cure-by-thickness")
    if thickness is not None and row is not None and row.days_per_25_4_mm is not None:
        days = diffusion.cure_days_by_thickness(thickness, row.days_per_25_4_mm)
        yield Value("dry-by-thickness", "Dry cure, by thickness", days, "days", "", basis=row.basis)
    for name, title in (
        ("dry-cure-by-weight", "Dry cure, by weight"),
        ("sweet-pickle-by-weight", "Sweet pickle, by weight"),
    ):
        row = rows.get(name)
        if weight is not None and row is not None:
            for end, each in zip(("least", "most"), row.days_per_kg, strict=False):
                days = diffusion.cure_days_by_weight(weight, each)
                yield Value(f"{name}-{end}", f"{title}, at {end}", days, "days", "", basis=row.basis)


_NITRITES = ("NaNO2", "KNO2", "NO2")
_NITRITE_FIGURES = (
    ("ingoing-nitrite", "NaNO2", "us", _PPM, "As sodium nitrite, if ingoing on green weight (US)"),
    ("added-nitrite", "NO2", "eu", "mg NO2 per kg", "As nitrite ion, if added to meat and brine together (EU)"),
)
_AGENT = Parameter("agent", "weight", "curing agent or mix that was weighed", 0, 1e5)
_SHARE = Parameter("share", "share", "the agent's share in it", 0.01, 100, default=100.0)
_PICKLE = Parameter("pickle", "weight", "whole batch of brine", 0.01, 1e6)
_PUMP = Parameter("pump", "share", "per cent pump", 0.1, 200)
_GREEN = Parameter("green", "weight", "green weight", 0.01, 1e6)
_YIELD = Parameter("yield", "share", "yield on green weight", 20, 200)
_LOST = Parameter("lost", "share", "salt that went with juice, of the salt", 0, 99, default=0.0)
_FORMS = (
    "NaNO2",
    "KNO2",
    "NO2",
    "NaNO3",
    "KNO3",
    "NO3",
    "ascorbic-acid",
    "sodium-ascorbate",
    "erythorbic-acid",
    "sodium-erythorbate",
)
WORKS = (
    Work(
        "ingoing-pumped",
        "Ingoing nitrite (or any agent) of pumped product",
        (
            _AGENT,
            _SHARE,
            _PICKLE,
            _PUMP,
            published.AGENT,
            published.PRODUCT,
            published.RULES,
            Parameter("retained", "share", "pump left after draining", 0, 200, optional=True),
        ),
        _pumped,
        _HANDBOOK,
    ),
    Work(
        "ingoing-immersed",
        "Ingoing nitrite (or any agent) of immersed product",
        (
            _AGENT,
            _SHARE,
            _PICKLE,
            _GREEN,
            Parameter("pick-up", "share", "gain in the pickle", 0, 200, optional=True),
            published.AGENT,
            published.PRODUCT,
            published.RULES,
        ),
        _immersed,
        _HANDBOOK,
    ),
    Work(
        "ingoing-on-meat",
        "Ingoing nitrite (or any agent) of dry-rubbed or chopped product",
        (_AGENT, _SHARE, _GREEN, published.PRODUCT_NEEDED, published.AGENT, published.RULES),
        _on_meat,
        _HANDBOOK,
    ),
    Work(
        "added-eu",
        "Added nitrite the EU way, on meat and brine together",
        (_AGENT, _SHARE, _PICKLE, _PUMP, published.PRODUCT, replace(published.RULES, default="eu", choices=("eu",))),
        _added_eu,
        "Regulation (EU) 2023/2108, as quoted; our reading of the basis",
    ),
    Work(
        "agent-for-pump",
        "Agent or curing mix for a wanted ingoing amount",
        (
            Parameter("target", "ppm", "wanted, of green weight", 0, 5000),
            _SHARE,
            _PICKLE,
            _PUMP,
            published.AGENT,
            published.PRODUCT,
            published.RULES,
        ),
        _agent_for,
        _HANDBOOK,
        backwards=True,
    ),
    Work(
        "convert",
        "One form of nitrite, nitrate, ascorbate or erythorbate as another",
        (
            Parameter("amount", "ppm", "the amount", 0, 1e6),
            Parameter("of", "choice", "the form it is in", choices=_FORMS),
            Parameter("as", "choice", "the form wanted", choices=_FORMS),
            published.PRODUCT,
        ),
        _converted,
        "molar masses",
    ),
    Work(
        "finished-salt",
        "Salt in the product from ingoing salt and yield",
        (Parameter("ingoing", "share", "ingoing salt, of green weight", 0, 20), _YIELD, _LOST),
        _finished_salt,
        "mass balance",
    ),
    Work(
        "salt-for-finished",
        "Ingoing salt for a wanted salt in the product",
        (Parameter("wanted", "share", "wanted salt in the product", 0, 20), _YIELD, _LOST),
        _salt_for,
        "mass balance",
        backwards=True,
    ),
    Work(
        "water-activity",
        "Water-phase salt and an estimate of water activity",
        (
            Parameter("salt", "share", "salt", 0, 26),
            Parameter("moisture", "share", "moisture", 1, 95),
            Parameter("sugar", "share", "sugar", 0, 40, default=0.0),
        ),
        _water,
        "Pitzer and Mayorga (1973), Ross (1975), Norrish (1966), all recalled",
    ),
    Work(
        "salt-soak",
        "How far salt has soaked in from the cut face, and the days still to go",
        (
            Parameter("thickness", "length", "from the cut face to the far side of the flesh", 5, 400),
            Parameter("time", "time", "time in cure so far", 1, 1440 * 400, optional=True),
            Parameter("share", "share", "share of the final level that is wanted there", 1, 99, default=80.0),
        ),
        _soaked,
        "Fick's law for a slab (Crank 1975, recalled)",
        backwards=True,
    ),
    Work(
        "cure-days",
        "Days in cure by the rules of the trade",
        (
            Parameter("thickness", "length", "greatest thickness", 5, 400, optional=True),
            Parameter("weight", "weight", "of one piece", 0.1, 40, optional=True),
        ),
        _cure_days,
        "rules of the trade",
    ),
)
