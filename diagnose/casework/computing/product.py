"""The finished product: salt, water phase, water activity, protein on a fat-free basis."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagnose.casework.batch_record import BatchRecord
from diagnose.process import labels, salt, species

from .values import Value
from .weights import finished_yield

_FINISHED = "per cent of finished weight"


def product_values(record: BatchRecord, before: Mapping[str, Value]) -> Iterator[Value]:
    """Whatever the analysis, or else the ingoing salt and the yield, allow."""
    found = record.get("salt")
    total = finished_yield(record)
    ingoing = before.get("ingoing-salt")
    if ingoing is not None and total is not None and ingoing.value <= 20 and 20 <= total <= 200:
        how = f"ingoing salt and {total:.4g} % yield, none lost with juice"
        estimate = salt.finished_salt_percent(ingoing.value, total)
        yield Value("finished-salt-estimate", "Salt in the product, by the sum", estimate, _FINISHED, how)
    if found is not None:
        yield Value("finished-salt", "Salt in the product, on test", found, _FINISHED, "the analysis")
        if (target := record.get("target-salt")) is not None:
            how = f"salt on test less {target:g} %"
            yield Value("salt-off-target", "Salt on test against the target", found - target, "points", how)
    yield from _water(record)
    yield from _protein(record)
    if (left := record.get("residual-nitrite")) is not None:
        yield Value(
            "residual-nitrite", "Nitrite left, as sodium nitrite", left, "ppm NaNO2 of finished weight", "the analysis"
        )
        ion = species.expressed_as(left, "NaNO2", "NO2")
        yield Value("residual-nitrite-ion", "Nitrite left, as nitrite ion", ion, "mg NO2 per kg", "the analysis")


def water_phase_salt(record: BatchRecord) -> float | None:
    """Water-phase salt in per cent, from the analysis; None where it was not made."""
    found, moisture = record.get("salt"), record.get("moisture")
    return None if found is None or moisture is None else salt.water_phase_salt_percent(found, moisture)


def _water(record: BatchRecord) -> Iterator[Value]:
    phase = water_phase_salt(record)
    if phase is not None:
        yield Value(
            "water-phase-salt", "Water-phase salt", phase, "per cent of the water phase", "salt and moisture on test"
        )
    measured = record.get("water-activity")
    if measured is not None:
        yield Value("water-activity", "Water activity, measured", measured, "water activity", "the analysis")
        return
    found, moisture, sugar = record.get("salt"), record.get("moisture"), record.get("sugar") or 0.0
    if phase is None or found is None or moisture is None or sugar > moisture:
        return
    estimate = salt.water_activity_estimate(found, moisture, sugar).estimate
    note = "An upper estimate from salt and sugar alone; no figure of a rule may be claimed on it."
    how = "salt, moisture and sugar on test"
    yield Value("water-activity-estimate", "Water activity, estimated", estimate, "water activity", how, note=note)


def _protein(record: BatchRecord) -> Iterator[Value]:
    protein, fat, moisture = record.get("protein"), record.get("fat"), record.get("moisture")
    if protein is not None and fat is not None and protein <= 40 and fat <= 70:
        pff = labels.protein_fat_free(protein, fat)
        yield Value("pff", "Protein, fat-free basis (PFF)", pff, "per cent", "protein and fat on test")
    if protein and moisture is not None:
        ratio = salt.moisture_protein_ratio(moisture, protein)
        yield Value("moisture-protein-ratio", "Moisture to protein", ratio, "to 1", "moisture and protein on test")
