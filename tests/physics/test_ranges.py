"""Every limit holds where its docstring puts it, and a refusal names field, limits and unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from baitwright.physics import (
    buoyancy,
    diffusion,
    freezing,
    keeping,
    lethality,
    series,
    sorption,
)
from baitwright.physics.radial_laws import ExponentialLaw, MoistureDiffusivity
from baitwright.terms.errors import InputError, RangeError
from tests.physics.ranges import Limits, of

BODY = {"density": 1100.0, "latent_heat": 2e5, "conductivity": 1.2, "freezing_point": 271.0}
COURSE = {
    "start": 290.0,
    "end": 255.0,
    "air": 240.0,
    "heat_capacity": 3500.0,
    "frozen_heat_capacity": 1900.0,
}


def freezes(**record: Any) -> dict[str, Any]:
    return {"diameter": 0.015, "body": freezing.FreezingBody(**BODY), "coefficient": 10.0, **record}


def exponential(**numbers: float) -> None:
    ExponentialLaw(**numbers).check("law")


def moist(**numbers: float) -> None:
    MoistureDiffusivity(**numbers).check("law")


def held_at(temperature: float) -> None:
    lethality.equivalent_time(
        np.array([0.0, 60.0]), np.full(2, temperature), reference=343.15, z=7.5
    )


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
        freezing.freezing_point,
        {"activity": 0.9},
        ("activity", "water_activity", 0.7, 1.0),
    ),
    *of(
        exponential,
        {"at_reference": 0.4},
        ("at_reference", "law.at_reference", 1e-16, 1e4),
        ("steepness", "law.steepness", -50.0, 50.0),
        ("reference", "law.reference", -1e3, 1e3),
    ),
    *of(
        moist,
        {"at_20C": 1e-10},
        ("at_20C", "law.at_20C", 1e-14, 3e-9, "m2/s"),
        ("activation", "law.activation", 0.0, 1e5, "J/mol"),
        ("steepness", "law.steepness", -50.0, 50.0),
        ("reference", "law.reference", 0.0, 20.0, "kg/kg"),
    ),
    *of(
        keeping.acidity_factor,
        {"acidity": 6.0, "sourest": 4.5},
        ("acidity", "acidity", 0.0, 8.0),
        ("sourest", "sourest", 3.0, 6.0),
    ),
    *of(
        held_at,
        {},
        ("temperature", "temperature", 253.15, 423.15, "K"),
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
        buoyancy.cored_mass,
        {"diameter": 0.015, "core_diameter": 0.009, "shell_density": 1150.0, "core_density": 200.0},
        ("shell_density", "shell.density", *SOLID),
        ("core_density", "core.density", *SOLID),
    ),
    *of(
        buoyancy.lift_gained,
        {"water_lost": 1e-4, "shrinkage": 0.9},
        ("shrinkage", "shrinkage", 0.0, 1.0),
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
        sorption.oswin,
        {"activity": 0.7, "scale": 0.15, "exponent": 0.4},
        ("activity", "water_activity", 0.0, 0.99),
    ),
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
class TestRange(Limits):
    pass


def test_what_is_not_negative_may_be_endless_but_not_less_than_none() -> None:
    good = {"void_volume": 1e-7, "time": 60.0, "time_constant": 3600.0, "water_density": 999.0}
    for name, field in (("void_volume", "void.volume"), ("time", "time")):
        with pytest.raises(RangeError, match=rf"^{field}: "):
            buoyancy.flooding(**{**good, name: -1e-12})
    assert buoyancy.flooding(**{**good, "time": np.inf}) == pytest.approx(1e-7 * 999.0, rel=1e-15)


def test_a_course_ends_colder_than_it_freezes_and_warmer_than_its_air() -> None:
    course = freezing.FreezingCourse(**COURSE)
    with pytest.raises(RangeError, match="The air must be colder than the end") as refused:
        replace(course, air=course.end + 1.0)
    error = refused.value
    assert (error.field, error.got) == ("course.end less air", -1.0)
    assert (error.low, error.high, error.unit) == (0.1, 100.0, "K")


def test_what_freezes_does_so_in_colder_air() -> None:
    with pytest.raises(RangeError, match="The air must be colder than the freezing point") as no:
        freezing.plank_time(**freezes(air_temperature=BODY["freezing_point"] + 1.0))
    error = no.value
    assert (error.field, error.got) == ("freezing_point less air_temperature", -1.0)
    assert (error.low, error.high, error.unit) == (0.1, 200.0, "K")


def test_no_body_loses_more_than_all_its_volume() -> None:
    with pytest.raises(RangeError) as refused:
        buoyancy.volume_after_loss(1e-6, 2e-3, shrinkage=1.0, water_density=1000.0)
    error = refused.value
    assert (error.field, error.low, error.high) == ("body.volume", 0.0, np.inf)
    assert error.got == pytest.approx(-1e-6)
    assert error.unit == "m3"


def test_no_core_makes_a_shell_lighter_than_it_float() -> None:
    densities = {"core_density": 200.0, "water_density": 999.0}
    for beyond in (0.5, 25_001.0):
        with pytest.raises(RangeError, match=r"^shell\.density: "):
            buoyancy.neutral_core_diameter(0.015, shell_density=beyond, **densities)
        with pytest.raises(RangeError, match=r"^core\.density: "):
            buoyancy.neutral_core_diameter(
                0.015, shell_density=1150.0, core_density=beyond, water_density=999.0
            )
    with pytest.raises(InputError, match=r"^core\.diameter: got 'no shell', .*smaller than the"):
        buoyancy.neutral_shell_density(0.015, 0.015, **densities)
    with pytest.raises(InputError, match=r"^shell\.density: .*a shell denser than its core\.$"):
        buoyancy.neutral_core_diameter(
            0.015, shell_density=150.0, core_density=200.0, water_density=999.0
        )
