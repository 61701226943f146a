"""Numbers with units as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.casework.quantities import EXAMPLES, UNITS, Kind, parse, shown


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("412 kg", "weight", 412.0),
        ("412kg", "weight", 412.0),
        ("12 lb 4 oz", "weight", 5.55650653),
        ("2774 g", "weight", 2.774),
        ("38 F", "temperature", 3.3333333),
        ("4 °C", "temperature", 4.0),
        ("\u22122 C", "temperature", -2.0),
        ("2 h 10 min", "time", 130.0),
        ("3 days", "time", 4320.0),
        ("18 %", "share", 18.0),
        ("0.2 per cent", "share", 0.2),
        ("156 ppm", "ppm", 156.0),
        ("156 mg/kg", "ppm", 156.0),
        ("0.02 %", "ppm", 200.0),
        ("62", "float", 62.0),
        ("62 degrees", "float", 62.0),
        ("5 in", "length", 127.0),
        ("1000 ft", "altitude", 304.8),
        ("1013 hPa", "pressure", 101300.0),
        ("9 F", "degrees", 5.0),
    ],
)
def test_people_write_it_and_it_is_understood(text: str, kind: Kind, value: float) -> None:
    """Metric and US units, with and without a blank, and more than one part where that is usual."""
    assert parse(text, kind) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    [
        ("412", "weight", "the unit is missing"),
        ("1,080 lb", "weight", "decimal point as a dot"),
        ("38 kg", "temperature", "no unit that fits here; write it like 4 C or 38 F"),
        ("2 h -10 min", "time", "one number"),
        ("4 C 3 C", "temperature", "one number"),
        ("heavy", "weight", "is not a number"),
        ("", "weight", "a number with its unit is wanted"),
        ("9" * 400 + " kg", "weight", "too long"),
        ("1e999 kg", "weight", "is no unit"),
        ("3 kg**9", "weight", "is no unit"),
        ("__import__('os') kg", "weight", "is not a number"),
    ],
)
def test_what_cannot_be_understood_is_refused_with_help(text: str, kind: Kind, says: str) -> None:
    """No guess is made about a missing unit, and no text is ever evaluated."""
    with pytest.raises(ValueError, match=says.replace("(", r"\(")):
        parse(text, kind)


def test_every_kind_has_an_example_that_it_takes() -> None:
    """The example in an error message is itself no error."""
    for kind in UNITS:
        for text in EXAMPLES[kind].split(" or "):
            parse(text, kind)


@given(st.floats(0.001, 1e5))
def test_pounds_and_kilograms_agree(kg: float) -> None:
    """A weight in pounds comes back as the same weight in kilograms."""
    assert parse(f"{kg / 0.45359237:.9f} lb", "weight") == pytest.approx(kg, rel=1e-5, abs=1e-8)


@pytest.mark.parametrize(
    ("value", "text"), [(1234.5, "1234 kg"), (156.16, "156.2 kg"), (2.2166, "2.22 kg"), (-0.0, "0 kg")]
)
def test_numbers_are_shown_as_people_read_them(value: float, text: str) -> None:
    """Three or four figures, and no minus before nothing."""
    assert shown(value, "kg") == text
