"""Laws of moist air: order between dew, wet bulb and air; limits of still and moving air."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics import air
from baitwright.physics.air import AirState
from baitwright.terms.errors import InputError, RangeError

CELSIUS = st.floats(1.0, 60.0)
HUMIDITY = st.floats(0.2, 0.99)
DIAMETER = st.floats(0.008, 0.035)


@given(CELSIUS, HUMIDITY)
def test_dew_point_below_wet_bulb_below_air(celsius: float, humidity: float) -> None:
    state = AirState(celsius + 273.15, humidity)
    assert air.dew_point(state) < air.wet_bulb(state) < state.temperature


@given(CELSIUS)
def test_saturated_air_has_one_temperature(celsius: float) -> None:
    state = AirState(celsius + 273.15, 1.0)
    assert air.dew_point(state) == pytest.approx(state.temperature, abs=1e-6)
    assert air.wet_bulb(state) == pytest.approx(state.temperature, abs=1e-6)


@given(CELSIUS, HUMIDITY, st.floats(0.5, 30.0))
def test_warming_keeps_the_water_and_lowers_the_humidity(
    celsius: float, humidity: float, rise: float
) -> None:
    state = AirState(celsius + 273.15, humidity)
    after = air.warmed(state, celsius + 273.15 + rise)
    assert air.humidity_ratio(after) == pytest.approx(air.humidity_ratio(state), rel=1e-12)
    assert after.relative_humidity < humidity


@given(CELSIUS, HUMIDITY)
def test_moist_air_is_lighter_than_dry(celsius: float, humidity: float) -> None:
    dry, moist = AirState(celsius + 273.15, 0.0), AirState(celsius + 273.15, humidity)
    assert air.density(moist) < air.density(dry)


@given(DIAMETER, HUMIDITY, st.floats(0.0, 2.0), st.floats(0.05, 1.0))
def test_wind_dries_faster(diameter: float, humidity: float, speed: float, more: float) -> None:
    slow, fast = (
        air.sphere_coefficients(
            diameter, air=AirState(293.15, humidity, wind), surface_temperature=288.15
        )
        for wind in (speed, speed + more)
    )
    assert fast.mass_coefficient > slow.mass_coefficient
    assert fast.convection_coefficient > slow.convection_coefficient
    assert fast.radiation_coefficient == slow.radiation_coefficient


@given(DIAMETER)
def test_still_and_even_air_leaves_pure_diffusion(diameter: float) -> None:
    """Without wind and without any difference of density the Sherwood number is 2."""
    film = air.sphere_coefficients(diameter, air=AirState(293.15, 1.0), surface_temperature=293.15)
    diffusivity = air.vapour_diffusivity(293.15)
    assert film.mass_coefficient * diameter / diffusivity == pytest.approx(2.0, rel=1e-3)


@given(DIAMETER, HUMIDITY)
def test_heat_and_mass_keep_the_lewis_relation(diameter: float, humidity: float) -> None:
    still, windy = (
        air.sphere_coefficients(
            diameter, air=AirState(293.15, humidity, speed), surface_temperature=288.15
        )
        for speed in (0.0, 1.0)
    )
    assert windy.convection_coefficient / windy.mass_coefficient == pytest.approx(
        still.convection_coefficient / still.mass_coefficient, rel=1e-12
    )


@given(DIAMETER, st.floats(0.3, 0.9), st.floats(0.0, 1.0))
def test_a_wet_ball_stands_between_wet_bulb_and_air(
    diameter: float, humidity: float, speed: float
) -> None:
    state = AirState(293.15, humidity, speed)
    surface = air.wet_surface_temperature(diameter, air=state)
    assert air.wet_bulb(state) - 0.15 < surface < 293.15


@given(DIAMETER, st.floats(0.3, 0.9))
def test_heat_that_comes_in_leaves_as_vapour(diameter: float, humidity: float) -> None:
    state = AirState(293.15, humidity)
    surface = air.wet_surface_temperature(diameter, air=state, surface_activity=0.95)
    film = air.sphere_coefficients(
        diameter, air=state, surface_temperature=surface, surface_activity=0.95
    )
    flux = air.evaporation_flux(film, air=state, surface_temperature=surface, surface_activity=0.95)
    gained = film.heat_coefficient * (293.15 - surface)
    assert air.latent_heat(surface) * flux == pytest.approx(gained, abs=1e-6)


@given(st.floats(0.0, 1e6), st.floats(0.5, 10.0), st.floats(1.01, 10.0))
def test_exchange_numbers_start_at_two_and_rise(number: float, prandtl: float, by: float) -> None:
    for formula, largest in ((air.natural_sphere, 1e11), (air.forced_sphere, 1e5)):
        start = min(number, 0.99 * largest / by)
        assert formula(0.0, prandtl) == pytest.approx(2.0, rel=1e-12)
        assert formula(start * by, prandtl) >= formula(start, prandtl) >= 2.0


@given(st.floats(253.15, 360.0), st.floats(0.5, 12.0))
def test_warm_air_conducts_and_spreads_more(kelvin: float, step: float) -> None:
    for formula in (air.viscosity, air.conductivity, air.vapour_diffusivity):
        assert formula(kelvin + step) > formula(kelvin)


def test_thin_air_lets_vapour_spread_faster() -> None:
    thin = air.vapour_diffusivity(293.15, pressure=80_000.0)
    assert thin == pytest.approx(air.vapour_diffusivity(293.15) * 101_325.0 / 80_000.0)


def test_arrays_broadcast() -> None:
    state = AirState(np.array([283.15, 293.15, 303.15]), 0.6, np.array([[0.0], [0.5]]))
    film = air.sphere_coefficients(0.017, air=state, surface_temperature=285.15)
    assert np.shape(film.mass_coefficient) == (2, 3)
    assert np.shape(air.wet_surface_temperature(0.017, air=state)) == (2, 3)
    one = AirState(293.15, 0.6, 0.5)
    alone = air.sphere_coefficients(0.017, air=one, surface_temperature=285.15)
    assert np.asarray(film.mass_coefficient)[1, 1] == pytest.approx(alone.mass_coefficient)


@pytest.mark.parametrize(
    "wrong",
    [
        {"temperature": 20.0},
        {"relative_humidity": 60.0},
        {"relative_humidity": np.nan},
        {"speed": -0.1},
        {"pressure": 1013.25},
    ],
)
def test_air_in_the_wrong_unit_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(RangeError):
        AirState(**{"temperature": 293.15, "relative_humidity": 0.6, **wrong})


def test_steam_is_not_air() -> None:
    with pytest.raises(InputError, match="steam"):
        AirState(373.15, 0.95)


def test_air_too_cold_for_the_formulas_says_so() -> None:
    with pytest.raises(InputError, match="too cold"):
        air.wet_bulb(AirState(254.0, 0.1))
    with pytest.raises(RangeError, match=r"surface\.activity"):
        air.wet_surface_temperature(0.017, air=AirState(293.15, 0.6), surface_activity=0.5)
    with pytest.raises(RangeError):
        air.dew_point(AirState(263.15, 0.1))


def test_warming_keeps_speed_pressure_and_vapour() -> None:
    before = AirState(288.15, 0.7, speed=1.5, pressure=90_000.0)
    after = air.warmed(before, 303.15)
    assert (after.temperature, after.speed, after.pressure) == (303.15, 1.5, 90_000.0)
    assert after.vapour_pressure == pytest.approx(before.vapour_pressure, rel=1e-12)
