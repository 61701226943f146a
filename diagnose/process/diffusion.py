"""How far salt and cure have soaked in, and how even they are: Fick's law for a slab, a round bar or a ball.

Days and metres; diffusivity in m²/s. Values for pork lie near 1e-10 to 5e-10 for salt at cellar temperature and rise with
warmth; published ones scatter widely (fat, fibre direction, salt level), so a result is an order of size and a way to
compare two schedules. A share of 1 means the level it would have everywhere in the end. Bone, skin and seams are not in
the model: a ham takes cure only through its cut face, so half its thickness counts from there, not from both sides.

Source throughout: Crank (1975), The Mathematics of Diffusion, chapters 2-6 (read from memory; examples of the open-source
library PolyKin, which cites its pages, agree).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.process import transient
from diagnose.process.ranges import require, require_not_negative, require_positive
from diagnose.process.transient import Shape

SECONDS_PER_DAY = 86_400.0
GAS_CONSTANT = 8.314462618  # J/(mol K)


def diffusivity_at(celsius: float, known_diffusivity: float, known_c: float, activation_j_per_mol: float) -> float:
    """Diffusivity, m²/s, at another temperature: D exp(Ea / R (1/T_known - 1/T)), T in kelvin.

    Temperatures -5 to 60 °C, Ea 0 to 150 000 J/mol, D above 0; else ValueError. Source: Arrhenius; used so for pork by
    Gomez and others (2015), Journal of Food Engineering 149:188-194 (abstract).
    """
    require("temperature", celsius, -5.0, 60.0, "°C")
    require("temperature of the known value", known_c, -5.0, 60.0, "°C")
    require("activation energy", activation_j_per_mol, 0.0, 150_000.0, "J/mol")
    require("diffusivity", known_diffusivity, 1e-14, 1e-7, "m²/s")
    turn = 1.0 / (known_c + 273.15) - 1.0 / (celsius + 273.15)
    return known_diffusivity * math.exp(activation_j_per_mol / GAS_CONSTANT * turn)


def days_at_temperature(days: float, from_c: float, to_c: float, activation_j_per_mol: float) -> float:
    """Days at to_c that carry cure as far as some days at from_c: days x D(from) / D(to). Ranges as diffusivity_at."""
    require_not_negative("days", days)
    return days / diffusivity_at(to_c, 1e-10, from_c, activation_j_per_mol) * 1e-10


def fourier_number(diffusivity: float, days: float, half_thickness_m: float) -> float:
    """D t / L²: diffusivity 1e-14 to 1e-7 m²/s, days 0 or more, half thickness or radius 0.0005 to 0.5 m; else ValueError."""
    require("diffusivity", diffusivity, 1e-14, 1e-7, "m²/s")
    require("half thickness", half_thickness_m, 0.0005, 0.5, "m")
    require_not_negative("days", days)
    return diffusivity * days * SECONDS_PER_DAY / half_thickness_m**2


@dataclass(frozen=True, slots=True)
class Uptake:
    """How far a piece lying in cure or brine has come: shares (0-1) of the final level in the middle and on average."""

    fourier: float
    middle: float
    average: float


def uptake(shape: Shape, diffusivity: float, days: float, half_thickness_m: float) -> Uptake:
    """Salt or cure in a piece whose surface is kept at the full level (rub renewed, or plenty of brine).

    Ranges as fourier_number; a piece that takes cure from one face only counts its whole thickness as half_thickness_m.
    """
    fourier = fourier_number(diffusivity, days, half_thickness_m)
    return Uptake(
        fourier,
        1.0 - transient.left_at_middle(shape, fourier),
        1.0 - transient.left_on_average(shape, fourier),
    )


def days_until_middle(shape: Shape, share: float, diffusivity: float, half_thickness_m: float) -> float:
    """Days until the middle has `share` (above 0, below 1) of the final level; ranges as fourier_number."""
    _share(share)
    fourier_number(diffusivity, 0.0, half_thickness_m)
    fourier = transient.fourier_when_left(lambda fo: transient.left_at_middle(shape, fo), 1.0 - share)
    return fourier * half_thickness_m**2 / diffusivity / SECONDS_PER_DAY


def days_until_average(shape: Shape, share: float, diffusivity: float, half_thickness_m: float) -> float:
    """Days until the piece on average has `share` (above 0, below 1) of the final level; ranges as fourier_number."""
    _share(share)
    fourier_number(diffusivity, 0.0, half_thickness_m)
    fourier = transient.fourier_when_left(lambda fo: transient.left_on_average(shape, fo), 1.0 - share)
    return fourier * half_thickness_m**2 / diffusivity / SECONDS_PER_DAY


def _share(share: float) -> None:
    if not 0 < share < 1:
        raise ValueError(f"the share must be above 0 and below 1, not {share:g}")


def share_at_depth(depth_m: float, diffusivity: float, days: float) -> float:
    """Share of the surface level at a depth in a piece so thick that the far side has felt nothing: erfc(x / (2 (D t)^½)).

    depth 0 to 0.5 m, days above 0; ranges as fourier_number; else ValueError.
    """
    require("depth", depth_m, 0.0, 0.5, "m")
    require("diffusivity", diffusivity, 1e-14, 1e-7, "m²/s")
    require_positive("days", days)
    return math.erfc(depth_m / (2.0 * math.sqrt(diffusivity * days * SECONDS_PER_DAY)))


def depth_with_share(share: float, diffusivity: float, days: float) -> float:
    """Depth in m down to which a thick piece has `share` of the surface level; inverse of share_at_depth."""
    _share(share)
    share_at_depth(0.0, diffusivity, days)
    low, high = 0.0, 6.0
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (middle, high) if math.erfc(middle) > share else (low, middle)
    return 2.0 * high * math.sqrt(diffusivity * days * SECONDS_PER_DAY)


@dataclass(frozen=True, slots=True)
class Evenness:
    """How even a profile is: average, least and most in the profile's own unit, and the spread in per cent of the average.

    spread_percent = 100 (most - least) / average: 0 when it is the same everywhere.
    """

    average: float
    least: float
    most: float
    spread_percent: float


def evenness(profile: Sequence[float]) -> Evenness:
    """Evenness of a slab's profile, equal layers from the middle to the surface; levels 0 or more and not all 0."""
    level = _profile(profile)
    average = float(level.mean())
    least, most = float(level.min()), float(level.max())
    return Evenness(average, least, most, 100.0 * (most - least) / average)


def _profile(profile: Sequence[float]) -> transient.Floats:
    level = np.asarray(profile, dtype=np.float64)
    if level.ndim != 1 or level.size < 2:
        raise ValueError("a profile needs 2 layers at least")
    if not np.isfinite(level).all() or level.min() < 0 or level.max() == 0:
        raise ValueError("the levels of a profile must be 0 or more, and not all 0")
    return level


def banded_profile(salted_share: float, layers: int = 200) -> tuple[float, ...]:
    """A slab with all its salt in the outer `salted_share` of its half thickness, none inside; average 1.

    Also the meat between two rows of needles: half the distance between rows is the half thickness, and the share is the
    width that the brine filled. salted_share above 0 to 1, layers 10 to 2000; else ValueError.
    """
    require("salted share", salted_share, 1.0 / layers if layers > 0 else 1.0, 1.0, "")
    require("layers", layers, 10, 2000, "")
    edge = (1.0 - salted_share) * layers
    outer = np.clip(np.arange(1, layers + 1) - edge, 0.0, 1.0)
    return tuple(outer / outer.mean())


def soaked_profile(diffusivity: float, days: float, half_thickness_m: float, layers: int = 200) -> tuple[float, ...]:
    """Level in equal layers of a slab, middle to surface, after days in cure with the surface held at 1.

    Layer k is read at its middle. Fourier number 0.001 or more and layers 10 to 2000; else ValueError.
    """
    require("layers", layers, 10, 2000, "")
    fourier = fourier_number(diffusivity, days, half_thickness_m)
    if fourier < transient.SERIES_FROM_FO:
        raise ValueError("too early for a profile of the whole piece: use share_at_depth")
    where = (np.arange(layers) + 0.5) / layers
    return tuple(1.0 - transient.left_at("slab", fourier, float(x)) for x in where)


def rested_profile(
    profile: Sequence[float], diffusivity: float, days: float, half_thickness_m: float
) -> tuple[float, ...]:
    """A slab's profile after resting with no salt coming or going: the equalisation of cure.

    Cosine series on N equal layers from the middle to the surface, the exact answer for layers that trade with their
    neighbours: term n fades as exp(-2 N² (1 - cos(n pi / N)) Fo), near exp(-n² pi² Fo). The average stays, nothing turns
    negative. Ranges as fourier_number and evenness.
    """
    level = _profile(profile)
    fourier = fourier_number(diffusivity, days, half_thickness_m)
    return tuple(_rest(level, fourier))


def _rest(level: transient.Floats, fourier: float) -> transient.Floats:
    n = np.arange(level.size)
    waves = np.cos(np.outer(n, (n + 0.5) * math.pi / level.size))
    weights = waves @ level * 2.0 / level.size
    weights[0] /= 2.0
    fading = np.exp(-2.0 * level.size**2 * (1.0 - np.cos(n * math.pi / level.size)) * fourier)
    return np.asarray(np.clip((weights * fading) @ waves, 0.0, None))  # the clip takes rounding crumbs only


def days_until_even(
    profile: Sequence[float], spread_percent: float, diffusivity: float, half_thickness_m: float
) -> float:
    """Days of rest until the spread of a profile is down to spread_percent of the average; 0 when it is already.

    spread_percent 0.01 to 1000; ranges as rested_profile.
    """
    require("spread", spread_percent, 0.01, 1000.0, "%")
    level = _profile(profile)
    fourier_number(diffusivity, 0.0, half_thickness_m)
    first = evenness(profile).spread_percent
    if first <= spread_percent:
        return 0.0
    fourier = transient.fourier_when_left(
        lambda fo: 1.0 if fo == 0 else evenness(_rest(level, fo).tolist()).spread_percent / first,
        spread_percent / first,
    )
    return fourier * half_thickness_m**2 / diffusivity / SECONDS_PER_DAY


@dataclass(frozen=True, slots=True)
class CureAndRest:
    """A slab after cure and after rest: evenness of each; levels as shares of the level kept at the surface in cure."""

    after_cure: Evenness
    after_rest: Evenness


def cure_and_rest(
    half_thickness_m: float,
    *,
    cure_days: float,
    cure_diffusivity: float,
    rest_days: float,
    rest_diffusivity: float,
) -> CureAndRest:
    """How even is it: a slab cured with its surface held at the full level, then rested with the surface sealed.

    Cure and rest have their own diffusivity (take diffusivity_at for each room). Ranges as soaked_profile.
    """
    cured = soaked_profile(cure_diffusivity, cure_days, half_thickness_m)
    rested = rested_profile(cured, rest_diffusivity, rest_days, half_thickness_m)
    return CureAndRest(evenness(cured), evenness(rested))


def days_for_thickness(known_days: float, known_thickness: float, thickness: float) -> float:
    """Cure days for another thickness at the same room and recipe: days x (thickness / known)².

    Any one unit of length; all above 0, else ValueError.
    """
    for name, value in (("days", known_days), ("thickness", known_thickness), ("thickness", thickness)):
        require_positive(name, value)
    return known_days * (thickness / known_thickness) ** 2


def cure_days_by_thickness(thickness_mm: float, days_per_25_4_mm: float) -> float:
    """Dry-cure days by the trade's rule of days per inch of greatest thickness. The rule is linear and kind to thin pieces.

    thickness 5 to 400 mm, rate 0.1 to 30 days per 25.4 mm; else ValueError. Source: trade rule (flavor365, opening
    paragraph).
    """
    require("thickness", thickness_mm, 5.0, 400.0, "mm")
    require("rate", days_per_25_4_mm, 0.1, 30.0, "days per 25.4 mm")
    return thickness_mm / 25.4 * days_per_25_4_mm


def cure_days_by_weight(weight_kg: float, days_per_kg: float) -> float:
    """Days in dry cure or pickle by the trade's rule of days per weight (1 day per lb = 2.2046 days per kg).

    weight 0.1 to 40 kg, rate 0.1 to 20 days per kg; else ValueError. Source: trade rule (flavor365, opening paragraph);
    Cross and others, Pork: Slaughtering, Cutting, Preserving, and Cooking on the Farm (USDA), sweet pickle.
    """
    require("weight", weight_kg, 0.1, 40.0, "kg")
    require("rate", days_per_kg, 0.1, 20.0, "days per kg")
    return weight_kg * days_per_kg
