"""The same curing agent under its several names: sodium or potassium salt, ion, acid, or phosphorus pentoxide.

Limits are written on different bases (US: weight of the salt used; EU: nitrite ion since October 2025, sodium nitrite
before; erythorbic acid; phosphorus pentoxide), so a figure must be brought to the basis of the limit it is compared with.
Molar masses in g/mol from IUPAC standard atomic weights.
"""

from __future__ import annotations

from diagnose.process.ranges import require_not_negative

_MOLAR_MASS = {
    "nitrite": {"NaNO2": 68.995, "KNO2": 85.103, "NO2": 46.005},
    "nitrate": {"NaNO3": 84.994, "KNO3": 101.102, "NO3": 62.004},
    "ascorbate": {"ascorbic-acid": 176.124, "sodium-ascorbate": 198.106},
    "erythorbate": {
        "erythorbic-acid": 176.124,
        "sodium-erythorbate": 198.106,
        "sodium-erythorbate-monohydrate": 216.121,
    },
}

_HALF_PENTOXIDE = 141.943 / 2

_PHOSPHATES = {
    "sodium-tripolyphosphate": (3, 367.86),
    "tetrasodium-pyrophosphate": (2, 265.90),
    "sodium-acid-pyrophosphate": (2, 221.94),
    "sodium-hexametaphosphate": (1, 101.96),
    "disodium-phosphate": (1, 141.96),
    "monosodium-phosphate": (1, 119.98),
}
"""Phosphorus atoms and molar mass of the anhydrous salt; hexametaphosphate per NaPO3 unit."""


def expressed_as(amount: float, of: str, wanted: str) -> float:
    """An amount of one form as the amount of another form that holds as much of the active part.

    amount x M(wanted) / M(of). Any unit of mass or concentration, 0 or more. Forms: NaNO2, KNO2, NO2; NaNO3, KNO3, NO3;
    ascorbic-acid, sodium-ascorbate; erythorbic-acid, sodium-erythorbate, sodium-erythorbate-monohydrate. Nitrite and
    nitrate are not converted into each other: what bacteria reduce is not known beforehand.

    Raises:
        ValueError: the amount is negative, a form is unknown, or the two are not forms of one agent.
    """
    require_not_negative("amount", amount)
    for family in _MOLAR_MASS.values():
        if of in family and wanted in family:
            return amount * family[wanted] / family[of]
    known = "; ".join(f"{name}: {', '.join(forms)}" for name, forms in _MOLAR_MASS.items())
    raise ValueError(f"{of} and {wanted} are not forms of one agent; known forms are {known}")


def phosphate_as_pentoxide(amount: float, salt: str) -> float:
    """An amount of a phosphate as phosphorus pentoxide (P2O5), the basis of the EU ceiling; any unit, 0 or more.

    amount x phosphorus atoms x 70.97 / M(salt), anhydrous salts of full purity. Commercial blends carry their P2O5
    share on the specification; use that where it is known.

    Raises:
        ValueError: the amount is negative or the salt is unknown.
    """
    require_not_negative("amount", amount)
    if salt not in _PHOSPHATES:
        raise ValueError(f"unknown phosphate {salt}; known are {', '.join(_PHOSPHATES)}")
    atoms, molar_mass = _PHOSPHATES[salt]
    return amount * atoms * _HALF_PENTOXIDE / molar_mass
