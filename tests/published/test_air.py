"""Moist air and the exchange of spheres against handbooks, examples and reference programs."""

from __future__ import annotations

import math
from collections.abc import Callable

import ht
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI

from baitwright.physics import air, water
from baitwright.physics.air import AirState
from tests.published.moist_air import psychrolib

ICE_POINT = 273.15
ATMOSPHERE = 101_325.0
PLACES = {
    "room": (20.0, 0.6),
    "warm": (25.0, 0.5),
    "dryer": (45.0, 0.2),
    "fridge": (5.0, 0.8),
}


def state(place: str) -> AirState:
    celsius, humidity = PLACES[place]
    return AirState(celsius + ICE_POINT, humidity)


def by_coolprop(wanted: str, place: str) -> float:
    celsius, humidity = PLACES[place]
    return float(HAPropsSI(wanted, "T", celsius + ICE_POINT, "R", humidity, "P", ATMOSPHERE))


DROP = 5e-4  # m


def drop_coefficient() -> float:
    """mol/m2/s per mole fraction at the textbook's drop, in its own units turned to SI."""
    speed, viscosity, diffusivity = 2.15, 1.91e-5, 0.292e-4
    molar_density = ATMOSPHERE / (8.314462618 * (105.0 + 459.67) / 1.8)
    density = molar_density * 0.029
    sherwood = air.forced_sphere(
        speed * DROP * density / viscosity, viscosity / (density * diffusivity)
    )
    return float(sherwood * molar_density * diffusivity / DROP)


def falling_drop() -> float:
    """Moles of water a second that leave the drop."""
    return math.pi * DROP**2 * drop_coefficient() * 0.0247 / (1.0 - 0.0247)


def shrinking_drop() -> float:
    """Metres a second by which the drop's diameter falls, its water at 21 C."""
    volume_rate = falling_drop() * 0.018015 / float(water.density(294.26))
    return volume_rate / (0.5 * math.pi * DROP**2)


HUMIDITY = [
    *(
        pytest.param(
            "ashrae-fundamentals",
            "ch. 1, eq. 33, by psychrolib",
            lambda p=place: air.wet_bulb(state(p)) - ICE_POINT,
            psychrolib.GetTWetBulbFromRelHum(*PLACES[place], ATMOSPHERE),
            2e-3,
            "the program stops its own search within 0.001 K; its air constant differs by 1e-5",
            id=f"wet-bulb-{place}",
        )
        for place in PLACES
    ),
    *(
        pytest.param(
            "ashrae-fundamentals",
            "ch. 1, eqs. 5 and 6, by psychrolib",
            lambda p=place: air.dew_point(state(p)) - ICE_POINT,
            psychrolib.GetTDewPointFromRelHum(*PLACES[place]),
            4e-3,
            "two equations for the vapour pressure, 0.02 % apart",
            id=f"dew-point-{place}",
        )
        for place in PLACES
    ),
    *(
        pytest.param(
            "hyland-wexler-1983",
            "humidity ratio of real moist air, by CoolProp",
            lambda p=place: 1000.0 * air.humidity_ratio(state(p)),
            1000.0 * by_coolprop("W", place),
            6e-3 * 1000.0 * by_coolprop("W", place),
            "we take ideal gases: real air holds 0.4 to 0.6 % more vapour",
            id=f"humidity-ratio-{place}",
        )
        for place in PLACES
    ),
    *(
        pytest.param(
            "hyland-wexler-1983",
            "volume of real moist air, by CoolProp",
            lambda p=place: air.density(state(p)),
            (1.0 + by_coolprop("W", place)) / by_coolprop("V", place),
            1e-3,
            "ideal gases are off by less than 0.1 %",
            id=f"density-{place}",
        )
        for place in PLACES
    ),
    *(
        pytest.param(
            "ashrae-fundamentals",
            "ch. 1, chart example: 40 C dry bulb, 20 C wet bulb",
            got,
            printed,
            tolerance,
            "read off a chart; the humidity put in, 14 %, is rounded to half a point",
            id=f"chart-{name}",
        )
        for name, got, printed, tolerance in [
            (
                "humidity-ratio",
                lambda: 1000.0 * air.humidity_ratio(AirState(313.15, 0.14)),
                6.5,
                0.1,
            ),
            ("wet-bulb", lambda: air.wet_bulb(AirState(313.15, 0.14)) - ICE_POINT, 20.0, 0.2),
            ("dew-point", lambda: air.dew_point(AirState(313.15, 0.14)) - ICE_POINT, 7.0, 0.6),
        ]
    ),
]

TRANSPORT = [
    pytest.param(
        "monteith-unsworth",
        "25 C, as worked by the package tealeaves",
        lambda: 1e5 * air.vapour_diffusivity(298.15),
        2.471125,
        3e-6,
        "seven digits are printed",
        id="diffusivity-example",
    ),
    *(
        pytest.param(
            source,
            "power law for water vapour in air at 20 C",
            lambda: 1e5 * air.vapour_diffusivity(293.15),
            other,
            tolerance,
            "correlations differ by up to 3.2 %, all of them above ours",
            id=f"diffusivity-{source}",
        )
        for source, other, tolerance in [
            ("marrero-mason-1972", 1.87e-5 * 293.15**2.072, 0.03),
            ("massman-1998", 2.178 * (293.15 / 273.15) ** 1.81, 0.08),
        ]
    ),
    *(
        pytest.param(
            "us-standard-atmosphere-1976",
            "table of viscosity and conductivity at 288.15 K",
            got,
            printed,
            tolerance,
            "five digits are printed",
            id=f"sea-level-{name}",
        )
        for name, got, printed, tolerance in [
            ("viscosity", lambda: 1e5 * air.viscosity(288.15), 1.7894, 1e-4),
            ("conductivity", lambda: 1e2 * air.conductivity(288.15), 2.5326, 1e-4),
        ]
    ),
    *(
        pytest.param(
            "lemmon-jacobsen-2004",
            f"{name} of air at {kelvin:g} K, by CoolProp",
            lambda f=formula, t=kelvin: f(t),
            PropsSI(key, "T", kelvin, "P", ATMOSPHERE, "Air"),
            0.01 * PropsSI(key, "T", kelvin, "P", ATMOSPHERE, "Air"),
            "the standard atmosphere's law of 1976 is within 1 % of the newer one",
            id=f"{name}-{kelvin:g}K",
        )
        for name, formula, key in [
            ("viscosity", air.viscosity, "V"),
            ("conductivity", air.conductivity, "L"),
        ]
        for kelvin in (283.15, 313.15, 343.15)
    ),
]

SPHERES = [
    pytest.param(
        "churchill-1983",
        "example of the package ht: Pr 0.7, Gr 1e7",
        lambda: air.natural_sphere(0.7e7, 0.7),
        25.670869440317578,
        1e-9,
        "the same equation: every printed digit counts",
        id="natural-example",
    ),
    pytest.param(
        "churchill-1983",
        "by ht at Pr 0.6, Gr 3500: a small ball in a still room",
        lambda: air.natural_sphere(0.6 * 3500.0, 0.6),
        ht.Nu_sphere_Churchill(0.6, 3500.0),
        1e-9,
        "the same equation",
        id="natural-small",
    ),
    pytest.param(
        "bird-stewart-lightfoot",
        "evaporating falling drop, example 22.3-1",
        lambda: 1e7 * falling_drop(),
        2.70,
        0.04,
        "the book rounds on the way: its own steps scatter by 1.5 %",
        id="falling-drop",
    ),
    pytest.param(
        "bird-stewart-lightfoot",
        "the same drop: k_xm 1.35e-3 mol/cm2/s (answer from memory)",
        lambda: 1e-1 * drop_coefficient(),
        1.35,
        0.02,
        "the book rounds on the way: its own steps scatter by 1.5 %",
        id="falling-drop-coefficient",
    ),
    pytest.param(
        "bird-stewart-lightfoot",
        "the same drop: dD/dt 1.23e-3 cm/s (answer from memory)",
        lambda: 1e5 * shrinking_drop(),
        1.23,
        0.0185,
        "the book rounds on the way: its own steps scatter by 1.5 %",
        id="falling-drop-shrinks",
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "tolerance", "why"),
    [*HUMIDITY, *TRANSPORT, *SPHERES],
)
def test_air(
    source: str, locator: str, got: Callable[[], float], expected: float, tolerance: float, why: str
) -> None:
    assert got() == pytest.approx(expected, abs=tolerance), f"{source}, {locator}: {why}"
