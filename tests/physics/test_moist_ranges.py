"""Every limit of the solver of moisture: ball, air or water around it, laws, steps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from baitwright.physics.moist_shells import cut_moist_ball
from baitwright.physics.moist_surface import HeldSurface, OpenSurface
from baitwright.physics.radial import (
    AirLeg,
    MoistBall,
    MoistureDiffusivity,
    MoistureLaws,
    WaterLeg,
    absorb,
    dry,
)
from baitwright.physics.water import saturation_pressure
from baitwright.terms.errors import ComputationError, RangeError
from tests.physics.ranges import Limits, of

# A ball of a metre: a radius is then its own share of the outer one.
MOIST = MoistBall(1.0, 0.5, 0.5, 1350.0)
LAWS = MoistureLaws(
    MoistureDiffusivity(5e-11), lambda content: content / (content + 0.05), saturation_pressure
)
AIR = {"temperature": 293.15, "humidity": 0.6, "mass_coefficient": 7e-3, "heat_coefficient": 12.0}
COLDEST_TO_WARMEST = (255.0, 400.0, "K")


def moist(**numbers: Any) -> None:
    cut_moist_ball(replace(MOIST, **numbers), (1,), cells=4)


def in_shells(cells: int) -> None:
    cut_moist_ball(MOIST, (1,), cells=cells)


def in_air(**air: float) -> None:
    OpenSurface(AirLeg(3600.0, **air), LAWS, (1,))


def in_water(**water: float) -> None:
    HeldSurface(WaterLeg(3600.0, **water), (1,))


def taking_heat(latent_heat: float) -> None:
    OpenSurface(AirLeg(3600.0, **AIR), replace(LAWS, latent_heat=latent_heat), (1,))


def dried(*, steps: int = 8, duration: float = 3600.0, output_time: float | None = None) -> None:
    times = None if output_time is None else np.array([output_time])
    dry(MOIST, [AirLeg(duration, **AIR)], laws=LAWS, steps=steps, output_times=times)


def soaked(*, steps: int = 8, duration: float = 3600.0, output_time: float | None = None) -> None:
    times = None if output_time is None else np.array([output_time])
    legs = [WaterLeg(duration, 290.0, 1.0)]
    absorb(MOIST, legs, diffusivity=LAWS.diffusivity, steps=steps, output_times=times)


def dried_by_law(**law: float) -> None:
    laws = replace(LAWS, diffusivity=MoistureDiffusivity(**law))
    dry(MOIST, [AirLeg(3600.0, **AIR)], laws=laws, steps=8)


def soaked_by_law(**law: float) -> None:
    diffusivity = MoistureDiffusivity(**law)
    absorb(MOIST, [WaterLeg(3600.0, 290.0, 0.6)], diffusivity=diffusivity, steps=8)


MOISTURE = [
    *of(moist, {"core_radius": 0.0}, ("outer_radius", "ball.outer_radius", 1e-5, 1.0, "m")),
    *of(
        moist,
        {},
        ("core_radius", "ball.core_radius", 0.0, 1.0, "m", "", (0.0, 0.999)),
        ("water_content", "ball.water_content", 0.0, 20.0, "kg/kg"),
        ("solids_density", "ball.solids_density", 50.0, 1e4, "kg/m3"),
        ("water_density", "ball.water_density", 900.0, 1100.0, "kg/m3"),
        ("air_fraction", "ball.air_fraction", 0.0, 0.95),
        ("shrinkage", "ball.shrinkage", 0.0, 1.0),
        (
            "core_radius",
            "ball.core_radius / ball.outer_radius",
            0.0,
            0.999,
            "",
            "",
            (0.999,),
            (float(np.nextafter(0.999, 1.0)), 1.0),
        ),
    ),
    *of(in_shells, {}, ("cells", "cells", 4, 10_000)),
    *of(
        in_air,
        AIR,
        ("temperature", "leg.temperature", *COLDEST_TO_WARMEST),
        ("humidity", "leg.humidity", 0.0, 1.0),
        ("mass_coefficient", "leg.mass_coefficient", 1e-6, 10.0, "m/s"),
        ("heat_coefficient", "leg.heat_coefficient", 1e-3, 1e9, "W/m2/K"),
    ),
    *of(taking_heat, {}, ("latent_heat", "laws.latent_heat", 0.0, 3e6, "J/kg")),
    *of(
        in_water,
        {"temperature": 290.0, "surface": 1.0},
        ("temperature", "leg.temperature", *COLDEST_TO_WARMEST),
        ("surface", "leg.surface", 0.0, 20.0, "kg/kg"),
    ),
    *(
        row
        for function in (dried_by_law, soaked_by_law)
        for row in of(
            function,
            {"at_20C": 1e-10, "reference": 0.5},
            ("at_20C", "diffusivity.at_20C", 1e-14, 3e-9, "m2/s"),
            ("activation", "diffusivity.activation", 0.0, 1e5, "J/mol"),
            ("steepness", "diffusivity.steepness", -50.0, 50.0),
            ("reference", "diffusivity.reference", 0.0, 20.0, "kg/kg"),
        )
    ),
    *(
        row
        for function in (dried, soaked)
        for row in of(
            function,
            {},
            ("steps", "steps", 8, 100_000, "", "", (8, 9)),
            ("duration", "leg.duration", 1.0, 1e8, "s"),
            ("output_time", "output_times", 0.0, 3600.0 * (1.0 + 1e-12), "s"),
        )
    ),
]


@pytest.mark.parametrize("ranged", MOISTURE, ids=str)
class TestMoisture(Limits):
    pass


@pytest.mark.parametrize("function", [dried, soaked])
def test_the_most_steps_are_taken_and_only_what_comes_after_them_refused(function: Any) -> None:
    """So many steps would take long: a time too late stops the run before the first of them."""
    with pytest.raises(RangeError, match=r"^output_times: "):
        function(steps=100_000, output_time=1e9)


@pytest.mark.filterwarnings("ignore::RuntimeWarning")  # overflow is the point
@pytest.mark.parametrize("draws", [1, 8])
@pytest.mark.parametrize(("held", "hours"), [(0.0, 25_000.0), (5.0, 1.0)])
def test_a_law_too_steep_for_numbers_is_told(draws: int, held: float, hours: float) -> None:
    balls = replace(MOIST, water_content=np.full(draws, 0.5))
    steep = MoistureDiffusivity(1e-9, steepness=50.0, reference=0.3)
    with pytest.raises(ComputationError, match="one shell"):
        absorb(balls, [WaterLeg(3600.0 * hours, 290.0, held)], diffusivity=steep)
