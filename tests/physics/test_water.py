"""Laws of water: inverses, order, limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics import water
from baitwright.terms.errors import RangeError

LAKE = st.floats(273.15, 313.15)


@given(st.floats(253.15, 640.0))
def test_boiling_point_undoes_vapour_pressure(kelvin: float) -> None:
    back = water.saturation_temperature(water.saturation_pressure(kelvin))
    assert back == pytest.approx(kelvin, rel=1e-10)


@given(st.floats(273.15, 370.0), st.floats(0.01, 3.0))
def test_warmer_water_is_thinner_and_nearer_to_vapour(kelvin: float, step: float) -> None:
    warmer = kelvin + step
    assert water.viscosity(warmer) < water.viscosity(kelvin)
    assert water.saturation_pressure(warmer) > water.saturation_pressure(kelvin)
    assert water.latent_heat(warmer) < water.latent_heat(kelvin)


@given(LAKE, st.floats(0.0, 0.04), st.floats(1e-4, 2e-3))
def test_salt_makes_water_heavier(kelvin: float, salinity: float, more: float) -> None:
    fresh = water.density(kelvin, salinity=salinity)
    assert water.density(kelvin, salinity=salinity + more) > fresh
    assert water.density(kelvin, salinity=0.0) == water.density(kelvin)


@given(LAKE)
def test_fresh_water_is_heaviest_at_four_degrees(kelvin: float) -> None:
    assert water.density(kelvin) <= water.density(277.133)


@given(st.floats(-500.0, 10_000.0), st.floats(1.0, 1000.0))
def test_pressure_falls_with_height(altitude: float, step: float) -> None:
    assert water.standard_pressure(altitude + step) < water.standard_pressure(altitude)


def test_latent_heat_goes_on_smoothly_below_freezing() -> None:
    below, above = water.latent_heat(273.15 - 1e-6), water.latent_heat(273.15 + 1e-6)
    assert below == pytest.approx(above, rel=1e-8)
    assert water.latent_heat(253.15) > water.latent_heat(273.15)


@pytest.mark.parametrize(
    ("formula", "inside", "outside"),
    [
        (water.density, 283.15, 313.2),
        (water.viscosity, 283.15, 373.2),
        (water.saturation_pressure, 283.15, 253.0),
        (water.saturation_temperature, 1e5, 100.0),
        (water.latent_heat, 283.15, 373.2),
        (water.standard_pressure, 0.0, 11_001.0),
    ],
)
def test_arrays_numbers_and_limits(formula, inside, outside) -> None:  # type: ignore[no-untyped-def]
    assert formula(np.full((2, 3), inside)) == pytest.approx(np.full((2, 3), formula(inside)))
    for wrong in (outside, np.nan, np.inf, -np.inf, np.array([inside, outside])):
        with pytest.raises(RangeError):
            formula(wrong)


def test_the_message_names_the_value_that_is_outside() -> None:
    with pytest.raises(RangeError, match=r"water\.temperature: got 320\.0.*273\.15 to 313\.15 K"):
        water.density(np.array([280.0, 320.0]))
    with pytest.raises(RangeError, match=r"water\.salinity"):
        water.density(280.0, salinity=3.5)
