"""What people type: numbers, fractions, commas, units; in and out of SI without loss or guess."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.quantities import EXAMPLES, Kind, from_si, read, show, si_unit, tidy, to_si
from baitwright.terms.errors import InputError

PINT = pint.UnitRegistry()
PINT_NAMES = {
    "mm": "millimeter",
    "in": "inch",
    "ft": "foot",
    "g": "gram",
    "mg": "milligram",
    "lb": "pound",
    "oz": "ounce",
    "l": "liter",
    "ml": "milliliter",
    "UK fl oz": "imperial_fluid_ounce",
    "US fl oz": "fluid_ounce",
    "UK pint": "imperial_pint",
    "US pint": "pint",
    "min": "minute",
    "h": "hour",
    "d": "day",
    "%": "percent",
    "hPa": "hectopascal",
    "mbar": "millibar",
    "kW": "kilowatt",
}


@pytest.mark.parametrize(("unit", "name"), PINT_NAMES.items())
def test_units_are_what_pint_says(unit: str, name: str) -> None:
    """Checked against a general-purpose unit library, to its own last digits."""
    assert to_si(1.0, unit) == pytest.approx(
        PINT.Quantity(1.0, name).to_base_units().magnitude, rel=1e-9
    )


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("15 mm", Kind.LENGTH, 0.015),
        ("15mm", Kind.LENGTH, 0.015),
        ("0,3 ml", Kind.VOLUME, 0.3e-6),
        ("0.3 mL", Kind.VOLUME, 0.3e-6),
        ("2 1/2 oz", Kind.MASS, 2.5 * 0.45359237 / 16),
        ("1/2 tsp", Kind.VOLUME, 2.5e-6),
        ("3 l", Kind.VOLUME, 3e-3),
        ("20 C", Kind.TEMPERATURE, 293.15),
        ("20 °C", Kind.TEMPERATURE, 293.15),
        ("68 F", Kind.TEMPERATURE, 293.15),
        ("-2 C", Kind.TEMPERATURE, 271.15),
        ("10 %", Kind.SHARE, 0.1),
        ("12", Kind.COUNT, 12.0),
        (12, Kind.COUNT, 12.0),
        (".5 kg", Kind.MASS, 0.5),
        ("1 UK fl oz", Kind.VOLUME, 28.4130625e-6),
        ("1 US fl oz", Kind.VOLUME, 29.5735295625e-6),
    ],
)
def test_what_makers_write(text: object, kind: Kind, expected: float) -> None:
    assert read(text, kind, "field") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    [
        ("15", Kind.LENGTH, "no unit"),
        (15, Kind.LENGTH, "Write the unit"),
        ("15 g", Kind.LENGTH, "the unit 'g'"),
        ("fifteen mm", Kind.LENGTH, "15 mm"),
        ("1 fl oz", Kind.VOLUME, "UK fl oz"),
        ("1 oz", Kind.VOLUME, "Which ounce"),
        ("1 pint", Kind.VOLUME, "US pint"),
        ("3 drops", Kind.VOLUME, "calibrated"),
        ("1 cup", Kind.VOLUME, "differs by country"),
        ("1/0 g", Kind.MASS, "550 g"),
        ("nan g", Kind.MASS, "550 g"),
        ("inf g", Kind.MASS, "550 g"),
        ("1e999 g", Kind.MASS, "550 g"),
        ("", Kind.MASS, "550 g"),
        (None, Kind.MASS, "nothing"),
        (True, Kind.COUNT, "whole number"),
        (float("nan"), Kind.COUNT, "whole number"),
        ("1.000,5 g", Kind.MASS, "550 g"),
    ],
)
def test_what_cannot_be_read_is_asked_about(text: object, kind: Kind, says: str) -> None:
    with pytest.raises(InputError) as caught:
        read(text, kind, "bait.diameter")
    assert says in str(caught.value)
    assert "bait.diameter" in str(caught.value)


def test_every_kind_has_an_example_that_it_takes() -> None:
    for kind, words in EXAMPLES.items():
        example = words.split(" such as ")[1].split(" or ")[0]
        assert math.isfinite(read(example, kind, "field"))


@given(
    st.floats(1e-6, 1e6),
    st.sampled_from(["mm", "g", "ml", "l", "kg", "oz", "UK fl oz", "s", "min", "h", "%", "C", "F"]),
)
def test_out_of_si_and_back_is_the_same(number: float, unit: str) -> None:
    assert from_si(to_si(number, unit), unit) == pytest.approx(number, rel=1e-9, abs=1e-10)


@given(st.floats(0.001, 9999.0), st.sampled_from(["mm", "g", "ml", "%"]))
def test_what_is_shown_can_be_read(number: float, unit: str) -> None:
    kinds = {"mm": Kind.LENGTH, "g": Kind.MASS, "ml": Kind.VOLUME, "%": Kind.SHARE}
    shown = show(to_si(number, unit), unit)
    assert from_si(read(shown, kinds[unit], "field"), unit) == pytest.approx(number, rel=6e-3)


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (1234.5, "1234"),
        (0.012345, "0.0123"),
        (2.50, "2.5"),
        (99.96, "100"),
        (-0.0831, "-0.0831"),
        (math.inf, "never"),
    ],
)
def test_numbers_are_tidy(number: float, text: str) -> None:
    assert tidy(number) == text


@given(st.floats(-1e7, 1e7, allow_nan=False))
def test_tidy_never_uses_exponents(number: float) -> None:
    assert "e" not in tidy(number)


def test_units_that_are_only_shown_know_their_si_unit() -> None:
    shown = ("MPa", "mPa s", "µm2/s", "kJ/mol")
    assert [si_unit(unit) for unit in shown] == ["Pa", "Pa s", "m2/s", "J/mol"]


def test_shown_units_know_their_si_unit() -> None:
    assert [si_unit(u) for u in ("mm", "g", "ml", "g/ml", "C", "h", "MPa", "mPa s", "%", "")] == [
        "m",
        "kg",
        "m3",
        "kg/m3",
        "K",
        "s",
        "Pa",
        "Pa s",
        "",
        "",
    ]
