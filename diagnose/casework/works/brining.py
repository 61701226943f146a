"""Brines: what a float says, what it should say, designing one and mending one."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.casework.against_limits import Found
from diagnose.casework.batch_outcome import RecordCaution
from diagnose.casework.computing.values import Value
from diagnose.process import brine, brine_design, brine_formula, cure, cure_backwards

from . import published
from .work import Given, Parameter, Work

_PPM = "ppm of green weight"
_SIXTY_F = round(brine.SIXTY_F, 4)


def _strength(given: Given) -> Iterator[Value]:
    salt = brine.salt_percent_from_reading(given["reading"], "salometer", given["temperature"])
    yield from _scales(salt, given["temperature"])


def _reading(given: Given) -> Iterator[Value]:
    yield from _scales(given["salt"], given["temperature"])


def _scales(salt: float, temperature: float) -> Iterator[Value]:
    yield Value("salt", "Salt in the brine", salt, "per cent by weight", "")
    sixty = brine.salometer_from_salt_percent(min(salt, brine.SATURATED))
    yield Value("salometer-60f", "Salometer at 60 °F", sixty, "degrees", "")
    now = brine.reading(salt, "salometer", temperature)
    yield Value("salometer-now", "Salometer at this temperature", now, "degrees", "")
    yield Value("baume-60f", "Baumé at 60 °F (US)", brine.baume_from_salt_percent(salt), "degrees", "")
    yield Value("density", "Density at this temperature", brine.density(salt, temperature), "kg/m³", "")


def _formula(given: Given) -> brine_formula.BrineFormula:
    formula = brine_formula.BrineFormula(
        water_kg=given["water"],
        ice_kg=given["ice"],
        salt_kg=given["salt"],
        sugar_kg=given["sugar"],
        phosphate_kg=given["phosphate"],
        ascorbate_kg=given["erythorbate"],
        other_kg=given["other"],
    )
    return brine_formula.with_cure_mix(formula, given["mix"], _mix(given)) if given["mix"] else formula


def _mix(given: Given) -> cure.CureMix:
    nitrite = given["mix-nitrite"]
    return cure.CureMix(nitrite, 0.0, 100.0 - nitrite)


_FLOAT_TELLS = 2.0
"""Degrees salometer beyond which a float and a formula do not agree (the band of the measure brine-reading-off)."""


def _expected(given: Given) -> Iterator[Value | Found]:
    formula = _formula(given)
    expected = brine_formula.expected_reading(formula, "salometer", given["temperature"])
    yield Value("salt", "Salt in the brine", formula.percent("salt_kg"), "per cent", "")
    yield Value("expected", "What a salometer should read", expected, "degrees", "")
    found = given.get("reading")
    if found is not None:
        check = brine_formula.check_reading(formula, found, "salometer", given["temperature"])
        if abs(check.difference) > _FLOAT_TELLS:
            why = f"the float reads {check.difference:+.1f} degrees off the formula"
            yield RecordCaution("nitrite-in-doubt", why)
        yield Value("off", "Found less expected", check.difference, "degrees", "")
        for off, name, title in (
            (check.salt_off_kg, "salt-off", "Salt over (or short, below 0) if that alone is wrong"),
            (check.water_off_kg, "water-off", "Water over (or short, below 0) if that alone is wrong"),
        ):
            if off is not None:
                yield Value(name, title, off, "kg", "")


def _design(given: Given) -> Iterator[Value | Found]:
    design = brine_design.design_brine(
        given["pickle"],
        given["pump"],
        salt_percent=given["salt"],
        nitrite_ppm=given["nitrite"],
        ascorbate_ppm=given["erythorbate"],
        phosphate_percent=given["phosphate"],
        sugar_percent=given["sugar"],
        mix=_mix(given) if given["nitrite"] > 0 else None,
        ice_percent_of_water=given["ice"],
    )
    if design.formula is None:
        why = "; ".join(
            f"{one.says} (asked {one.asked:.3g}, bound {one.bound:.3g} {one.unit})" for one in design.obstacles
        )
        raise ValueError(f"no brine can do this: {why}. It could from a pump of {design.least_pump_percent:.3g} % on")
    formula = design.formula
    if given["nitrite"] > 0:
        asked = Value("ingoing-nitrite", "Ingoing sodium nitrite that was asked for", given["nitrite"], _PPM, "")
        yield from published.ingoing(given, asked, "pumped", given["pump"])
    yield Value("water", "Water", formula.water_kg, "kg", "")
    if formula.ice_kg:
        yield Value("ice", "Ice", formula.ice_kg, "kg", "")
    yield Value("salt", "Salt besides that of the curing mix", design.salt_to_weigh_kg, "kg", "")
    yield Value("mix", "Curing mix", design.mix_kg, "kg", "")
    for name, title, kg in (
        ("sugar", "Sugar", formula.sugar_kg),
        ("phosphate", "Phosphate", formula.phosphate_kg),
        ("erythorbate", "Erythorbate", formula.ascorbate_kg),
    ):
        if kg:
            yield Value(name, title, kg, "kg", "")
    yield Value("brine-salt", "Salt in the brine", formula.percent("salt_kg"), "per cent", "")
    try:
        reading = brine_formula.expected_reading(formula, "salometer", given["temperature"])
        yield Value("reading", f"Salometer reading at {given['temperature']:.3g} °C", reading, "degrees", "")
    except ValueError:
        pass  # stronger than a float can show
    yield Value("least-pump", "Least pump that could carry this", design.least_pump_percent, "per cent", "")


def _mend(given: Given) -> Iterator[Value | Found]:
    mended = brine_design.mend_strength(given["brine"], given["now"], given["wanted"])
    share = mended.others_diluted_to_percent
    nitrite = given.get("nitrite")
    if nitrite is not None:
        thinned = Value("ingoing-nitrite", "Ingoing sodium nitrite afterwards", nitrite * share / 100, _PPM, "")
        yield from published.ingoing(given, thinned, "pumped")
    yield Value("add-salt", "Salt to add", mended.add_salt_kg, "kg", "")
    yield Value("add-water", "Water to add", mended.add_water_kg, "kg", "")
    yield Value("total", "Brine afterwards", mended.total_kg, "kg", "")
    note = "Nitrite, phosphate and the rest are thinned to this; bring them back up by the recipe."
    if nitrite is None:
        note += " With nitrite= (ingoing, before the mending) the nitrite afterwards is compared with its figures."
    yield Value("others", "Everything else, of its strength before", share, "per cent", "", note=note)


def _highest_pump(given: Given) -> Iterator[Value | Found]:
    agent = given["mix"] * given["mix-nitrite"] / 100
    figures = [one.at_most for one in published.limits(given, "ingoing-nitrite", "pumped") if one.at_most is not None]
    limit = given.get("limit") or min(figures, default=None)
    if limit is None:
        raise ValueError(f"no figure is published here for {given.words['product']} pumped; give limit=")
    found = cure_backwards.highest_pump_percent(agent, given["pickle"], limit)
    reached = Value("ingoing-nitrite", "Ingoing sodium nitrite at this pump", limit, _PPM, "")
    yield from published.ingoing(given, reached, "pumped")
    yield Value("pump", "Pump at which the brine reaches the figure", found, "per cent of green weight", "")


_MIX_SHARE = Parameter("mix-nitrite", "share", "sodium nitrite in the curing mix", 0.1, 100, default=6.25)
_TEMPERATURE = Parameter("temperature", "temperature", "of the brine", 0, 60, default=_SIXTY_F)
_TANK = 1e5
WORKS = (
    Work(
        "salometer",
        "Strength of a salt brine from a salometer reading",
        (Parameter("reading", "float", "salometer reading", 0, 100), _TEMPERATURE),
        _strength,
        "density of salt water after Laliberté and Cooper (2004)",
    ),
    Work(
        "brine-strength",
        "What the floats read in a salt brine of known strength",
        (Parameter("salt", "share", "salt in the brine", 0, 26.3), _TEMPERATURE),
        _reading,
        "density of salt water after Laliberté and Cooper (2004)",
    ),
    Work(
        "brine-check",
        "What a salometer should read from the formula, and which weighing error explains another reading",
        (
            Parameter("water", "weight", "water", 0, _TANK),
            Parameter("salt", "weight", "salt", 0, _TANK),
            Parameter("ice", "weight", "ice", 0, _TANK, default=0.0),
            Parameter("sugar", "weight", "sugar", 0, _TANK, default=0.0),
            Parameter("phosphate", "weight", "phosphate", 0, _TANK, default=0.0),
            Parameter("erythorbate", "weight", "erythorbate or ascorbate", 0, _TANK, default=0.0),
            Parameter("other", "weight", "anything else dissolved", 0, _TANK, default=0.0),
            Parameter("mix", "weight", "curing mix", 0, _TANK, default=0.0),
            _MIX_SHARE,
            _TEMPERATURE,
            Parameter("reading", "float", "reading that was found", 0, 100, optional=True),
        ),
        _expected,
        "mass balance and density of salt water after Laliberté and Cooper (2004)",
    ),
    Work(
        "design-brine",
        "Weights of a brine for wanted amounts at a pump",
        (
            Parameter("pickle", "weight", "brine to make", 0.1, _TANK),
            Parameter("pump", "share", "per cent pump", 1, 100),
            Parameter("salt", "share", "wanted salt, of green weight", 0, 20),
            Parameter("nitrite", "ppm", "wanted sodium nitrite, of green weight", 0, 5000, default=0.0),
            Parameter("erythorbate", "ppm", "wanted erythorbate, of green weight", 0, 5000, default=0.0),
            Parameter("phosphate", "share", "wanted phosphate, of green weight", 0, 5, default=0.0),
            Parameter("sugar", "share", "wanted sugar, of green weight", 0, 20, default=0.0),
            _MIX_SHARE,
            Parameter("ice", "share", "ice, of the water", 0, 100, default=0.0),
            _TEMPERATURE,
            published.PRODUCT,
            published.RULES,
        ),
        _design,
        "share in the pickle = share in green meat / pump; mass balance",
        backwards=True,
    ),
    Work(
        "mend-brine",
        "Salt or water to add to a brine of wrong strength",
        (
            Parameter("brine", "weight", "brine in the tank", 0.1, _TANK),
            Parameter("now", "share", "salt in it now", 0, 26.4),
            Parameter("wanted", "share", "salt wanted", 0.1, 26.4),
            Parameter("nitrite", "ppm", "ingoing nitrite with the brine as it is", 0, 5000, optional=True),
            published.PRODUCT,
        ),
        _mend,
        "mass balance",
        backwards=True,
    ),
    Work(
        "highest-pump",
        "Pump at which a brine reaches a published nitrite figure",
        (
            Parameter("pickle", "weight", "brine in the tank", 0.1, _TANK),
            Parameter("mix", "weight", "curing mix in it", 0.0001, _TANK),
            _MIX_SHARE,
            Parameter("limit", "ppm", "another figure than the greatest published one", 1, 5000, optional=True),
            published.PRODUCT,
        ),
        _highest_pump,
        "Processing Inspectors' Calculations Handbook, pump formula turned round",
        backwards=True,
    ),
)
