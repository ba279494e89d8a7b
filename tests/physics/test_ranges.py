"""Every limit holds where its docstring puts it, and a refusal names field, limits and unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest

from baitwright.physics import (
    buoyancy,
    diffusion,
    freezing,
    lethality,
    series,
    sorption,
)
from baitwright.terms.errors import InputError, RangeError

BODY = {"density": 1100.0, "latent_heat": 2e5, "conductivity": 1.2, "freezing_point": 271.0}
COURSE = {
    "start": 290.0,
    "end": 255.0,
    "air": 240.0,
    "heat_capacity": 3500.0,
    "frozen_heat_capacity": 1900.0,
}


@dataclass(frozen=True)
class Ranged:
    """A function, arguments it takes, and one of them with the range documented for it."""

    function: Callable[..., Any]
    good: dict[str, Any]
    argument: str
    field: str
    low: float
    high: float
    unit: str = ""

    def __str__(self) -> str:
        return f"{self.function.__name__}-{self.argument}"


def of(function: Callable[..., Any], good: dict[str, Any], *rows: tuple[Any, ...]) -> list[Ranged]:
    return [Ranged(function, good, *row) for row in rows]


def freezes(**record: Any) -> dict[str, Any]:
    return {"diameter": 0.015, "body": freezing.FreezingBody(**BODY), "coefficient": 10.0, **record}


SOLID = (1.0, 25_000.0, "kg/m3")
WATER = ("water_density", "water.density", 950.0, 1100.0, "kg/m3")
SPHERE = ("diameter", "sphere.diameter", 1e-3, 0.5, "m")
FILM = ("coefficient", "coefficient", 0.5, 5000.0, "W/m2/K")
RANGES = [
    *of(
        freezing.FreezingBody,
        BODY,
        ("density", "body.density", 100.0, 3000.0, "kg/m3"),
        ("latent_heat", "body.latent_heat", 1e3, 3.4e5, "J/kg"),
        ("conductivity", "body.conductivity", 0.01, 5.0, "W/m/K"),
        ("freezing_point", "body.freezing_point", 233.15, 273.15, "K"),
    ),
    *of(
        freezing.FreezingCourse,
        {**COURSE, "air": 200.0},
        ("start", "course.start", 273.15, 373.15, "K"),
        ("end", "course.end", 213.15, 268.15, "K"),
        ("heat_capacity", "heat_capacity", 1e3, 4.5e3, "J/kg/K"),
        ("frozen_heat_capacity", "frozen_heat_capacity", 1e3, 3e3, "J/kg/K"),
    ),
    *of(
        freezing.plank_time,
        freezes(air_temperature=250.0),
        SPHERE,
        FILM,
    ),
    *of(
        freezing.pham_time,
        freezes(course=freezing.FreezingCourse(**COURSE)),
        SPHERE,
        FILM,
    ),
    *of(
        diffusion.fraction_leached,
        {"diffusivity": 1e-10, "radius": 7e-3, "time": 3600.0},
        ("diffusivity", "diffusivity", 0.0, 1e-6, "m2/s"),
        ("radius", "radius", 1e-9, 1.0, "m"),
        ("time", "time", 0.0, 1e12, "s"),
    ),
    *of(
        diffusion.peleg,
        {"time": 3600.0, "rate_constant": 500.0, "capacity_constant": 1.0},
        ("time", "time", 0.0, 1e12, "s"),
        ("rate_constant", "rate_constant", 1e-12, 1e12, "s"),
        ("capacity_constant", "capacity_constant", 1e-12, 1e12),
    ),
    *of(
        diffusion.wilke_chang,
        {"molar_volume": 1e-4, "temperature": 290.0},
        ("molar_volume", "molar_volume", 1e-5, 1e-3, "m3/mol"),
        ("association", "association", 1.0, 3.0),
    ),
    *of(
        lethality.equivalent_time,
        {
            "times": np.array([0.0, 60.0]),
            "temperatures": np.array([350.0, 350.0]),
            "reference": 343.15,
            "z": 7.5,
        },
        ("reference", "reference", 273.15, 423.15, "K"),
        ("z", "z", 1.0, 50.0, "K"),
    ),
    *of(
        buoyancy.neutral_shell_density,
        {"diameter": 0.015, "core_diameter": 0.009, "core_density": 200.0, "water_density": 999.0},
        ("core_density", "core.density", *SOLID),
        WATER,
    ),
    *of(
        buoyancy.neutral_core_diameter,
        {"diameter": 0.015, "shell_density": 1150.0, "core_density": 200.0, "water_density": 999.0},
        WATER,
    ),
    *of(
        buoyancy.volume_after_loss,
        {"volume": 1e-6, "water_lost": 1e-4, "shrinkage": 0.9, "water_density": 999.0},
        ("shrinkage", "shrinkage", 0.0, 1.0),
        WATER,
    ),
    *of(
        buoyancy.flooding,
        {"void_volume": 1e-7, "time": 60.0, "time_constant": 3600.0, "water_density": 999.0},
        ("time_constant", "time_constant", 1.0, 1e9, "s"),
        WATER,
    ),
    *of(buoyancy.sphere_diameter, {"volume": 1e-6}, ("volume", "sphere.volume", 0.0, 0.5, "m3")),
    *of(
        buoyancy.void_ratio,
        {"depth": 3.0, "water_density": 999.0},
        ("depth", "depth", 0.0, 100.0, "m"),
        WATER,
    ),
    *of(
        sorption.equilibrium_moisture,
        {"activity": 0.7},
        ("activity", "water_activity", 0.0, 0.9999),
    ),
    *of(sorption.water_activity, {"moisture": 0.2}, ("moisture", "moisture", 0.0, 5.0, "kg/kg")),
    *of(sorption.gab_inverse, {"moisture": 0.2}, ("moisture", "moisture", 0.0, 10.0, "kg/kg")),
    *of(
        sorption.oswin_inverse,
        {"moisture": 0.2, "scale": 0.15, "exponent": 0.4},
        ("moisture", "moisture", 0.0, 10.0, "kg/kg"),
    ),
    *of(
        sorption.chung_pfost,
        {"activity": 0.7, "temperature": 290.0, "a": 330.0, "b": 16.0, "c": 30.0},
        ("activity", "water_activity", 0.1, 0.95),
        ("temperature", "temperature", 273.15, 333.15, "K"),
    ),
    *of(
        series.sphere_series,
        {"outer_radius": 7e-3, "biot": 5.0},
        ("outer_radius", "outer_radius", 1e-9, 1e9, "m"),
    ),
]


@pytest.mark.parametrize("ranged", RANGES, ids=str)
class TestRange:
    def test_its_ends_are_inside(self, ranged: Ranged) -> None:
        for end in (ranged.low, ranged.high):
            ranged.function(**{**ranged.good, ranged.argument: end})

    def test_just_beyond_is_refused_by_name(self, ranged: Ranged) -> None:
        for beyond in (np.nextafter(ranged.low, -np.inf), np.nextafter(ranged.high, np.inf)):
            with pytest.raises(RangeError) as refused:
                ranged.function(**{**ranged.good, ranged.argument: float(beyond)})
            error = refused.value
            assert error.field == ranged.field
            assert (error.low, error.high, error.unit) == (ranged.low, ranged.high, ranged.unit)
            assert error.got == beyond


def test_what_is_not_negative_may_be_endless_but_not_less_than_none() -> None:
    good = {"void_volume": 1e-7, "time": 60.0, "time_constant": 3600.0, "water_density": 999.0}
    for name, field in (("void_volume", "void.volume"), ("time", "time")):
        with pytest.raises(RangeError, match=rf"^{field}: "):
            buoyancy.flooding(**{**good, name: -1e-12})
    assert buoyancy.flooding(**{**good, "time": np.inf}) == pytest.approx(1e-7 * 999.0, rel=1e-15)


def test_a_course_ends_colder_than_it_freezes_and_warmer_than_its_air() -> None:
    course = freezing.FreezingCourse(**COURSE)
    with pytest.raises(RangeError):
        replace(course, air=course.end + 1.0)


def test_no_core_makes_a_shell_lighter_than_it_float() -> None:
    with pytest.raises(InputError, match=r"^shell\.density: .*a shell denser than its core\.$"):
        buoyancy.neutral_core_diameter(
            0.015, shell_density=150.0, core_density=200.0, water_density=999.0
        )
