"""Moist air: agreement with PsychroLib over the smokehouse range, the way back, surfaces, and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.process import humidity

psychrolib = pytest.importorskip("psychrolib")

PRESSURES = [101325.0, 95461.0, 84556.0, 61640.0]


@pytest.fixture(autouse=True)
def _si_units() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("pressure", PRESSURES)
@pytest.mark.parametrize("dry", [-10.0, 2.0, 10.0, 25.0, 40.0, 55.0, 70.0, 85.0, 99.0])
@pytest.mark.parametrize("depression", [0.5, 2.0, 5.0, 15.0, 30.0])
def test_humidity_and_dew_point_agree_with_psychrolib(pressure: float, dry: float, depression: float) -> None:
    """Relative humidity within 1e-3 relative and dew point within 0.01 °C of an independent library, at any pressure."""
    wet = dry - depression
    boils = humidity.saturation_pressure(wet) >= pressure
    if boils or wet < -40 or humidity._ratio_at_wet_bulb(dry, wet, pressure) < 1e-5:
        with pytest.raises(ValueError, match="wet bulb"):
            humidity.relative_humidity(dry, wet - 100 if not boils else wet, pressure)
        return
    theirs = psychrolib.GetRelHumFromTWetBulb(dry, wet, pressure)
    ours = humidity.relative_humidity(dry, wet, pressure)
    assert ours == pytest.approx(100 * theirs, rel=1e-3)
    if theirs < 1.0:
        assert humidity.dew_point(dry, ours) == pytest.approx(psychrolib.GetTDewPointFromRelHum(dry, theirs), abs=0.01)


@pytest.mark.parametrize("pressure", PRESSURES)
@pytest.mark.parametrize(
    ("dry", "percent"), [(5.0, 85.0), (12.0, 75.0), (45.0, 30.0), (60.0, 50.0), (75.0, 90.0), (80.0, 20.0)]
)
def test_wet_bulb_agrees_with_psychrolib(pressure: float, dry: float, percent: float) -> None:
    """The wet bulb for a wanted humidity is within 0.002 °C of an independent library (it stops at 0.001)."""
    theirs = psychrolib.GetTWetBulbFromRelHum(dry, percent / 100, pressure)
    assert humidity.wet_bulb_for(dry, percent, pressure) == pytest.approx(theirs, abs=0.002)


@settings(max_examples=60, deadline=None)
@given(
    dry=st.floats(-30, 120),
    percent=st.floats(1, 100),
    pressure=st.floats(60_000, 110_000),
)
def test_wet_bulb_and_humidity_are_inverse(dry: float, percent: float, pressure: float) -> None:
    """Setting the wet bulb that was asked for gives the humidity that was wanted."""
    if humidity.saturation_pressure(dry) * percent / 100 > 0.95 * pressure:
        return
    wet = humidity.wet_bulb_for(dry, percent, pressure)
    if -1 < wet < 1 or wet < -39:  # the wick may be wet or frozen here, and the two equations do not meet
        return
    assert humidity.relative_humidity(dry, wet, pressure) == pytest.approx(percent, rel=1e-5, abs=1e-5)


@settings(max_examples=60, deadline=None)
@given(dry=st.floats(-20, 140), percent=st.floats(0.5, 100))
def test_dew_point_is_the_temperature_of_saturation(dry: float, percent: float) -> None:
    """Air cooled to its dew point is saturated: the definition itself."""
    dew = humidity.dew_point(dry, percent)
    assert dew <= dry
    wanted = humidity.saturation_pressure(dry) * percent / 100
    # the ice and water equations leave a gap of some 0.01 % at 0 °C
    assert humidity.saturation_pressure(dew) == pytest.approx(wanted, rel=3e-4)


def test_humidity_falls_with_the_depression() -> None:
    """A larger gap between the bulbs always means drier air."""
    values = [humidity.relative_humidity(60.0, wet) for wet in (59.0, 50.0, 40.0, 30.0)]
    assert values == sorted(values, reverse=True)


def test_altitude_matters() -> None:
    """The same two bulbs mean a higher humidity in thin air, so the pressure is not left out by mistake."""
    low = humidity.relative_humidity(70.0, 50.0, humidity.pressure_at_altitude(0))
    high = humidity.relative_humidity(70.0, 50.0, humidity.pressure_at_altitude(2000))
    assert high - low > 0.5


@pytest.mark.parametrize(
    ("surface", "water_activity", "state"),
    [(4.0, 1.0, "sweats"), (30.0, 1.0, "dries"), (21.5, 0.8, "takes-up-water"), (19.1, 1.0, "close")],
)
def test_surface_states(surface: float, water_activity: float, state: str) -> None:
    """In one air (dew point near 19 °C) a surface sweats, dries, draws water by its salt, or is too close to call."""
    found = humidity.surface_moisture(surface, 40.0, 25.0, water_activity=water_activity)
    assert found.dew_point_c == pytest.approx(19.0, abs=0.4)
    assert found.state == state
    assert (found.drying_pressure_pa > 0) == (state == "dries") or state == "close"


@settings(max_examples=60, deadline=None)
@given(surface=st.floats(-5, 70), dry=st.floats(5, 90), percent=st.floats(5, 99))
def test_sweating_is_exactly_below_the_dew_point(surface: float, dry: float, percent: float) -> None:
    """With certain thermometers a wet surface sweats below the dew point and dries above it, never the other way round."""
    wet = humidity.wet_bulb_for(dry, percent)
    if abs(wet) < 1:
        return
    found = humidity.surface_moisture(surface, dry, wet, thermometer_error_c=0.0)
    if abs(found.above_dew_point_c) > 0.02:
        assert found.state == ("dries" if found.above_dew_point_c > 0 else "sweats")


def test_short_formula_stays_near_the_full_one() -> None:
    """The formula of printed tables is within about one point over the smokehouse range, as its docstring says."""
    for dry in (10.0, 30.0, 50.0, 70.0, 85.0):
        for depression in (1.0, 5.0, 15.0):
            if dry - depression > 0 and dry - depression > dry / 3:
                short = humidity.relative_humidity_by_psychrometer(dry, dry - depression)
                assert short == pytest.approx(humidity.relative_humidity(dry, dry - depression), abs=1.2)


def test_refusals() -> None:
    """Readings that cannot be are refused with the quantity named."""
    with pytest.raises(ValueError, match="wet bulb must be"):
        humidity.relative_humidity(20.0, 21.0)
    with pytest.raises(ValueError, match="check both thermometers"):
        humidity.relative_humidity(60.0, 10.0)
    with pytest.raises(ValueError, match="boiling"):
        humidity.relative_humidity(120.0, 101.0)
    with pytest.raises(ValueError, match="pressure must"):
        humidity.relative_humidity(20.0, 15.0, 101.325)
    with pytest.raises(ValueError, match="more than the pressure"):
        humidity.wet_bulb_for(130.0, 90.0)
    with pytest.raises(ValueError, match="relative humidity must"):
        humidity.dew_point(20.0, 101.0)
    with pytest.raises(ValueError, match="too low"):
        humidity.relative_humidity_by_psychrometer(60.0, 10.0)
    with pytest.raises(ValueError, match="temperature must"):
        humidity.saturation_pressure(250.0)
    with pytest.raises(ValueError, match="vapour pressure must"):
        humidity.humidity_ratio(2e5, 101325.0)
    with pytest.raises(ValueError, match="below -100"):
        humidity.dew_point(-40.0, 0.01)
