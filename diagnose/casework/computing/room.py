"""The raw leg and the cure room: temperatures as recorded, and how far the cure has soaked in."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.casework.batch_record import BatchRecord
from diagnose.corpus.figures import DiffusivityTable, Figures
from diagnose.process import diffusion

from .values import Value

_AS_RECORDED = (
    ("raw-ph", "raw-ph", "pH of the raw meat", "pH"),
    ("deep-leg", "deep-leg", "Deep leg when the cure began", "°C"),
    ("cure-room", "cure-room", "Cure room at its coldest", "°C"),
    ("hold-temperature", "hold-temperature", "Warmest while waiting for the cook", "°C"),
)
_MINUTES_PER_DAY = 1440.0


def room_values(record: BatchRecord, figures: Figures) -> Iterator[Value]:
    """What was read before the house, and the reach of the salt by diffusion."""
    for key, name, title, unit in _AS_RECORDED:
        if (value := record.get(key)) is not None:
            yield Value(name, title, value, unit, "as recorded")
    yield from _soaked(record, figures)


def _soaked(record: BatchRecord, figures: Figures) -> Iterator[Value]:
    table = figures.table("diffusivity", DiffusivityTable)
    time, thickness = record.get("cure-time"), record.get("thickness")
    row = next((row for row in table.rows if row.id == "salt-in-pork"), None) if table is not None else None
    if row is None or row.diffusivity is None or not time or thickness is None or record.method == "pumped":
        return  # pumped brine is spread by needles, not from the surface
    days = time / _MINUTES_PER_DAY
    found = diffusion.uptake("slab", row.diffusivity, days, thickness / 1000)
    yield Value(
        "cure-middle-share",
        "Salt in the middle, of its final level",
        100 * found.middle,
        "per cent",
        f"{days:.3g} days, {thickness:g} mm, Fick's law with {row.diffusivity:g} m²/s",
        note="Published diffusivities scatter widely: an order of size, no promise to the day."
        + (" The figure used is recalled, not seen." if row.read == "memory" else ""),
        basis=row.basis,
    )
