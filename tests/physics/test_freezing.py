"""Laws of freezing: dry freezes late, cold air freezes fast."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.freezing import (
    DRIEST_WITH_ICE,
    FreezingBody,
    FreezingCourse,
    freezing_point,
    ice_temperature,
    ice_water_activity,
    pham_time,
    plank_time,
)
from baitwright.terms.errors import RangeError

BODY = FreezingBody(density=1100.0, latent_heat=8e4, conductivity=0.6, freezing_point=268.15)


@given(st.floats(0.7, 0.999), st.floats(1e-4, 1e-3))
def test_drier_freezes_colder(activity: float, more: float) -> None:
    assert freezing_point(activity) < freezing_point(activity + more) <= 273.15


@given(st.floats(220.0, 273.0), st.floats(0.01, 0.15))
def test_ice_binds_its_water_harder_when_colder(kelvin: float, step: float) -> None:
    assert 0.0 < ice_water_activity(kelvin) < ice_water_activity(kelvin + step) <= 1.0


@given(st.floats(0.85, 1.0))
def test_both_ways_to_the_freezing_point_agree(activity: float) -> None:
    """The constant heat of fusion costs up to 6 % of the depression, on the warm side."""
    excess = ice_water_activity(freezing_point(activity)) - activity
    # The two sources put the melting point 0.01 K apart, which is 1e-4 of activity.
    assert -1.1e-4 <= excess <= 0.06 * (1.0 - activity)


@given(st.floats(0.005, 0.05), st.floats(1.05, 3.0))
def test_cold_wind_and_small_bodies_freeze_fast(diameter: float, by: float) -> None:
    start = plank_time(diameter, BODY, air_temperature=255.15, coefficient=8.0)
    assert plank_time(diameter * by, BODY, air_temperature=255.15, coefficient=8.0) > start
    assert plank_time(diameter, BODY, air_temperature=250.15, coefficient=8.0) < start
    assert plank_time(diameter, BODY, air_temperature=255.15, coefficient=8.0 * by) < start


@given(st.floats(0.005, 0.05))
def test_the_two_resistances_add(diameter: float) -> None:
    film = 1100.0 * 8e4 / 13.0 * diameter / (6.0 * 8.0)
    inside = 1100.0 * 8e4 / 13.0 * diameter**2 / (24.0 * 0.6)
    got = plank_time(diameter, BODY, air_temperature=255.15, coefficient=8.0)
    assert got == pytest.approx(film + inside, rel=1e-12)


def test_pure_water_freezes_where_it_should() -> None:
    assert freezing_point(1.0) == pytest.approx(273.15, abs=1e-9)
    assert ice_water_activity(273.15) == pytest.approx(1.0, abs=1e-4)


def test_draws_broadcast() -> None:
    body = FreezingBody(1100.0, np.array([7e4, 8e4]), 0.6, freezing_point(0.95))
    assert np.shape(plank_time(0.017, body, air_temperature=255.15, coefficient=8.0)) == (2,)


def test_limits() -> None:
    for wrong in (-1.0, np.nan, np.inf):
        with pytest.raises(RangeError):
            freezing_point(wrong)
        with pytest.raises(RangeError):
            ice_water_activity(wrong)
        with pytest.raises(RangeError):
            plank_time(wrong, BODY, air_temperature=255.15, coefficient=8.0)
        with pytest.raises(RangeError):
            plank_time(0.017, BODY, air_temperature=255.15, coefficient=wrong)
        for field in ("density", "latent_heat", "conductivity", "freezing_point"):
            fields = {
                "density": 1100.0,
                "latent_heat": 8e4,
                "conductivity": 0.6,
                "freezing_point": 268.15,
            }
            with pytest.raises(RangeError):
                FreezingBody(**{**fields, field: wrong})
    with pytest.raises(RangeError, match="colder than the freezing point"):
        plank_time(0.017, BODY, air_temperature=270.0, coefficient=8.0)


@given(st.floats(DRIEST_WITH_ICE, 1.0))
def test_the_exact_freezing_point_is_where_ice_is_as_dry(activity: float) -> None:
    # Activity ends a hair below 1 at the melting point: murphy-koop put it 0.01 K higher.
    assert ice_water_activity(ice_temperature(activity)) == pytest.approx(activity, abs=1.1e-4)


@given(st.floats(220.0, 273.0))
def test_activity_and_temperature_of_ice_undo_each_other(kelvin: float) -> None:
    assert ice_temperature(ice_water_activity(kelvin)) == pytest.approx(kelvin, abs=1e-7)


@pytest.mark.parametrize("wrong", [0.5, 1.1, np.nan])
def test_no_freezing_point_without_ice(wrong: float) -> None:
    with pytest.raises(RangeError, match="water_activity"):
        ice_temperature(wrong)


MOIST = FreezingBody(density=1000.0, latent_heat=2.5e5, conductivity=1.2, freezing_point=271.9)
COURSE = {
    "start": 283.15,
    "end": 255.15,
    "air": 233.15,
    "heat_capacity": 3600.0,
    "frozen_heat_capacity": 1800.0,
}


@given(st.floats(0.01, 0.1), st.floats(1.05, 2.0))
def test_cooling_before_and_after_takes_its_time(diameter: float, by: float) -> None:
    whole = pham_time(diameter, MOIST, FreezingCourse(**COURSE), coefficient=50.0)
    latent = plank_time(diameter, MOIST, air_temperature=233.15, coefficient=50.0)
    assert whole > latent
    assert pham_time(diameter * by, MOIST, FreezingCourse(**COURSE), coefficient=50.0) > whole
    assert pham_time(diameter, MOIST, FreezingCourse(**COURSE), coefficient=50.0 * by) < whole
    warmer = FreezingCourse(**{**COURSE, "start": 293.15})
    assert pham_time(diameter, MOIST, warmer, coefficient=50.0) > whole


@pytest.mark.parametrize("field", COURSE)
def test_a_course_that_cannot_be_is_refused(field: str) -> None:
    with pytest.raises(RangeError):
        FreezingCourse(**{**COURSE, field: np.nan})


def test_dry_food_is_not_for_phams_equation() -> None:
    with pytest.raises(RangeError, match="freezing_point"):
        pham_time(0.017, BODY, FreezingCourse(**COURSE), coefficient=8.0)
    with pytest.raises(RangeError, match="colder than the end"):
        FreezingCourse(**{**COURSE, "air": 260.0})
