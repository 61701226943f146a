"""What went into the meat: the brine against its float reading, and ingoing nitrite, nitrate and the rest."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.casework.batch_record import BatchRecord
from diagnose.process import brine_formula, cure, species
from diagnose.process.brine_formula import BrineFormula, ReadingCheck

from .values import Value
from .weights import GREEN, finished_yield, pump_of

_PPM = "ppm of green weight"


def cure_values(record: BatchRecord, rules: str) -> Iterator[Value]:
    """The brine's strength and every ingoing amount that the record allows."""
    if record.method == "dry-rubbed":
        yield from _rubbed(record)
        return
    formula = formula_of(record)
    if formula is None:
        return
    yield Value("brine-salt", "Salt in the brine", formula.percent("salt_kg"), "per cent", "the weights in the tank")
    yield from _reading(record, formula)
    pump = pump_of(record)
    if pump is None:
        return
    how = f"the weights in the tank and {pump:.3g} % {'pick-up' if record.method == 'immersed' else 'pump'}"
    yield from _ingoing(record, formula, pump, how)
    if rules == "eu":
        yield from _added_eu(record, formula, pump, how)


def formula_of(record: BatchRecord) -> BrineFormula | None:
    """The brine as weighed; None where its water or salt, or the nitrite of its curing mix, was not recorded."""
    water, ice = record.get("brine-water"), record.get("brine-ice")
    salt, mix = record.get("brine-salt"), record.get("cure-mix-weight")
    if (water is None and ice is None) or (salt is None and mix is None):
        return None
    if mix and record.get("cure-mix-nitrite") is None:
        return None
    formula = BrineFormula(
        water_kg=water or 0.0,
        ice_kg=ice or 0.0,
        salt_kg=salt or 0.0,
        sugar_kg=record.get("brine-sugar") or 0.0,
        phosphate_kg=record.get("brine-phosphate") or 0.0,
        nitrite_kg=record.get("brine-nitrite") or 0.0,
        nitrate_kg=record.get("brine-nitrate") or 0.0,
        ascorbate_kg=(record.get("brine-erythorbate") or 0.0) + (record.get("brine-ascorbic-acid") or 0.0),
        other_kg=record.get("brine-other") or 0.0,
    )
    return brine_formula.with_cure_mix(formula, mix, mix_of(record)) if mix else formula


def mix_of(record: BatchRecord) -> cure.CureMix:
    """The curing mix as declared; what is not declared besides nitrite counts as nitrate 0 and the rest as salt."""
    nitrite, nitrate = record.get("cure-mix-nitrite") or 0.0, record.get("cure-mix-nitrate") or 0.0
    salt = record.get("cure-mix-salt")
    return cure.CureMix(nitrite, nitrate, 100 - nitrite - nitrate if salt is None else salt)


def _reading(record: BatchRecord, formula: BrineFormula) -> Iterator[Value]:
    temperature, found = record.get("brine-temperature"), record.get("brine-reading")
    if temperature is None or not 0 <= temperature <= 60:
        return
    try:
        expected = brine_formula.expected_reading(formula, "salometer", temperature)
    except ValueError:  # stronger than a float can show
        return
    unit = "degrees salometer"
    how = f"the weights in the tank, at {temperature:.3g} °C"
    yield Value("brine-reading-expected", "Float reading that the formula foretells", expected, unit, how)
    if found is None:
        return
    check = brine_formula.check_reading(formula, found, "salometer", temperature)
    yield Value(
        "brine-reading-off",
        "Float reading against the formula",
        check.difference,
        unit,
        f"read {found:g}, foretold {expected:.3g}",
        note=_explained(check),
    )


def _explained(check: ReadingCheck) -> str:
    if abs(check.difference) < 1:
        return "Within what a float and the formula can tell apart."
    ways = []
    for off, name in ((check.salt_off_kg, "salt"), (check.water_off_kg, "water")):
        if off is not None:
            ways.append(f"{abs(off):.3g} kg of {name} too {'much' if off > 0 else 'little'}")
    return f"If one weighing is wrong, it would be explained by {' or by '.join(ways)}." if ways else ""


def _ingoing(record: BatchRecord, formula: BrineFormula, pump: float, how: str) -> Iterator[Value]:
    found = brine_formula.ingoing_from_formula(formula, pump)
    yield Value("ingoing-salt", "Ingoing salt", found.salt_percent, GREEN, how)
    if formula.nitrite_kg > 0 or "brine-nitrite" in record.values or "cure-mix-weight" in record.values:
        yield Value(
            "ingoing-nitrite", "Ingoing sodium nitrite", found.nitrite_ppm, _PPM, how, note=_at_the_needles(record)
        )
    if formula.nitrate_kg > 0:
        yield Value("ingoing-nitrate", "Ingoing sodium nitrate", found.nitrate_ppm, _PPM, how)
    erythorbate, acid = record.get("brine-erythorbate"), record.get("brine-ascorbic-acid")
    if erythorbate is not None:
        ppm = cure.ingoing_pumped(erythorbate, formula.total_kg, pump)
        yield Value("ingoing-ascorbate", "Ingoing sodium erythorbate or ascorbate", ppm, _PPM, how)
    if acid is not None:
        ppm = cure.ingoing_pumped(acid, formula.total_kg, pump)
        yield Value("ingoing-ascorbic-acid", "Ingoing ascorbic or erythorbic acid", ppm, _PPM, how)
    if formula.phosphate_kg > 0:
        total = finished_yield(record)
        yield Value("ingoing-phosphate", "Ingoing phosphate", found.phosphate_percent, GREEN, how)
        if total is not None:
            finished = (
                cure.in_finished_ppm(found.phosphate_percent * cure.PPM_PER_PERCENT, total) / cure.PPM_PER_PERCENT
            )
            how_finished = f"ingoing phosphate and {total:.4g} % yield"
            yield Value(
                "finished-phosphate", "Phosphate in the product", finished, "per cent of the product", how_finished
            )


def _at_the_needles(record: BatchRecord) -> str:
    if "drained-weight" not in record.values:
        return ""
    return "Counted at the needles; a plant that counts on what drains off must show it to its inspector."


def _added_eu(record: BatchRecord, formula: BrineFormula, pump: float, how: str) -> Iterator[Value]:
    how = f"{how}, on meat and brine together"
    if formula.nitrite_kg > 0:
        salt = cure.added_pumped_eu(formula.nitrite_kg, formula.total_kg, pump)
        ion = species.expressed_as(salt, "NaNO2", "NO2")
        yield Value("added-nitrite", "Added nitrite, as nitrite ion", ion, "mg NO2 per kg", how)
    if (erythorbate := record.get("brine-erythorbate")) is not None:
        salt = cure.added_pumped_eu(erythorbate, formula.total_kg, pump)
        acid = species.expressed_as(salt, "sodium-erythorbate", "erythorbic-acid")
        unit = "mg erythorbic acid per kg"
        yield Value("added-erythorbic-acid", "Added erythorbate, as the acid", acid, unit, how)
    if formula.phosphate_kg > 0 and (share := record.get("phosphate-p2o5")) is not None:
        added = cure.added_pumped_eu(formula.phosphate_kg * share / 100, formula.total_kg, pump)
        yield Value("added-phosphate", "Added phosphate, as P2O5", added, "mg P2O5 per kg", how)


def _rubbed(record: BatchRecord) -> Iterator[Value]:
    green, mix = record.get("green-weight"), record.get("cure-mix-weight")
    if green is None or (mix and record.get("cure-mix-nitrite") is None):
        return
    parts = mix_of(record)
    how = "what was rubbed on, on green weight"
    for agent, name, title, share in (
        ("rub-nitrite", "ingoing-nitrite", "Ingoing sodium nitrite", parts.nitrite_percent),
        ("rub-nitrate", "ingoing-nitrate", "Ingoing sodium nitrate", parts.nitrate_percent),
        ("rub-salt", "ingoing-salt", "Ingoing salt", parts.salt_percent),
    ):
        kg = (record.get(agent) or 0.0) + (cure.in_mix_kg(mix, share) if mix else 0.0)
        if kg > 0 or agent in record.values:
            ppm = cure.ingoing_dry_rubbed(kg, green)
            salt = name == "ingoing-salt"
            yield Value(name, title, ppm / cure.PPM_PER_PERCENT if salt else ppm, GREEN if salt else _PPM, how)
