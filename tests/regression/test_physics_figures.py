"""Our own figures, frozen: nobody published them, and a change must be meant.

Each was first computed by hand or by another program from the sources that the formulas name, so
they agree with those to the digits shown. Plans, defaults and examples lean on them: a difference
here is not an error by itself, but it moves every plan.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from baitwright.physics import (
    air,
    buoyancy,
    diffusion,
    food,
    freezing,
    lethality,
    protein_set,
    series,
    settling,
    sorption,
    water,
)
from baitwright.physics.air import AirState
from baitwright.physics.food import Composition
from baitwright.physics.radial import Ball, Layer, Leg, heat
from baitwright.physics.radial_heat import Bath

ROOM = AirState(293.15, 0.6)
COLD_WATER = {"water_density": 999.7, "water_viscosity": 1.3059e-3}
DRY_MIX = Composition(0.09, 0.32, 0.08, 0.43, 0.04, 0.04)
WHOLE_EGG = Composition(0.7615, 0.1256, 0.0951, 0.0072, 0.0, 0.0106)
PASTE = Composition.mixed([(0.6, DRY_MIX), (0.4, WHOLE_EGG)])
FILM = air.sphere_coefficients(0.017, air=ROOM, surface_temperature=288.15)


def lift_grams(shell_density: float) -> float:
    mass = buoyancy.cored_mass(0.017, 0.010, shell_density=shell_density, core_density=200.0)
    return 1e3 * float(buoyancy.lift(buoyancy.sphere_volume(0.017), mass, water_density=999.7))


def core_mm(carried_grams: float) -> float:
    needed = buoyancy.neutral_core_diameter(
        0.016,
        shell_density=1200.0,
        core_density=200.0,
        water_density=999.7,
        carried=carried_grams / 1e3,
    )
    return 1e3 * float(needed)


def mass_coefficient(speed: float) -> float:
    state = AirState(293.15, 0.6, speed)
    film = air.sphere_coefficients(0.017, air=state, surface_temperature=288.15)
    return float(film.mass_coefficient)


def paste(name: str) -> object:
    return getattr(food, name)(PASTE, 333.15, air_fraction=0.05)


def lewis() -> float:
    return float(FILM.convection_coefficient / FILM.mass_coefficient)


def wet_ball(activity: float) -> float:
    surface = air.wet_surface_temperature(0.017, air=ROOM, surface_activity=activity)
    return float(surface) - 273.15


def boiling(altitude: float) -> float:
    return float(water.saturation_temperature(water.standard_pressure(altitude))) - 273.15


def neutral_paste(diameter: float) -> float:
    shell = buoyancy.neutral_shell_density(diameter, 0.010, core_density=200.0, water_density=999.7)
    return float(shell)


def flooded() -> float:
    voids = 0.05 * buoyancy.shell_volume(0.017, 0.010)
    lost = buoyancy.flooding(voids, np.inf, time_constant=3600.0, water_density=999.7)
    return 1e3 * float(lost)


def egg_by_one_term() -> float:
    """Seconds of an egg of 5.5 cm from 4.3 to 74 C, h 800, k 0.607, alpha 0.146e-6."""
    root, coefficient = series.first_term(800.0 * 0.0275 / 0.607)
    left = (100.0 - 74.0) / (100.0 - 4.3)
    return float(np.log(coefficient / left) / root**2 * 0.0275**2 / 0.146e-6)


def ramp() -> float:
    """Seconds at 70 C that a ramp from 60 to 80 C in 100 s stands for, z 7.5 K."""
    times = np.linspace(0.0, 100.0, 2001)
    kelvin = 333.15 + 0.2 * times
    return float(lethality.equivalent_time(times, kelvin, reference=343.15, z=7.5)[-1])


def pot_and_paste() -> float:
    """Where 3 kg of boiling water and half a kilogram of paste at 20 C meet [C]."""
    radius = float(np.cbrt(3.0 * 0.010 / 1130.0 / (4.0 * np.pi)))
    bath = Bath(3.0 * 4217.0, 0.0, 373.15, 50.0)
    ball = Ball(radius, 0.0, Layer(0.37, 1130.0, 2675.0))
    run = heat(ball, [Leg(6000.0, bath, 1500.0, step=5.0)], start=293.15)
    return float(run.surroundings[-1, 0]) - 273.15


FIGURES: list[tuple[str, Callable[[], object], float, float]] = [
    # What a paste of three fifths dry mix is taken for: the whole boil stands on these.
    ("paste density, 60 C, 5 % air", lambda: paste("density"), 1128.330, 1e-6),
    ("paste heat capacity, 60 C", lambda: food.heat_capacity(PASTE, 333.15), 2691.84, 1e-5),
    ("paste conductivity, 60 C, 5 % air", lambda: paste("conductivity"), 0.36852, 2e-5),
    ("paste conductivity in series", lambda: paste("conductivity_bounds").low, 0.29879, 1e-4),
    ("paste conductivity in parallel", lambda: paste("conductivity_bounds").high, 0.39038, 1e-4),
    # The setting rates depend on the gas constant's digits: 8.314 would move them by 1 %.
    ("yolk rate, 65 C", lambda: protein_set.yolk_rate(338.15), 1.78224e-3, 1e-5),
    ("albumen rate, 80 C", lambda: protein_set.albumen_rate(353.15), 6.11435e-2, 1e-5),
    ("albumen rate, 90 C and above", lambda: protein_set.albumen_rate(370.0), 3.09645, 1e-5),
    ("decimal time, 70 C and above", lambda: lethality.decimal_reduction_time(355.0), 2.0804, 1e-4),
    ("ramp from 60 to 80 C, at 70 C", ramp, 350.116, 5e-6),
    ("pot and paste meet", pot_and_paste, 92.351, 2e-6),
    ("egg of 5.5 cm, one term", egg_by_one_term, 1105.9, 5e-5),
    (
        "centre without a film, Fo 0.1",
        lambda: series.sphere_series(1.0, biot=1e6).innermost(0.1),
        0.70710,
        1e-5,
    ),
    # The drying of every bait starts from these.
    ("still air, mass coefficient", lambda: FILM.mass_coefficient, 0.0070460, 1e-4),
    ("still air, convection", lambda: FILM.convection_coefficient, 7.9287, 1e-4),
    ("radiation", lambda: FILM.radiation_coefficient, 5.0125, 1e-4),
    ("0.2 m/s, mass coefficient", lambda: mass_coefficient(0.2), 0.013810, 1e-4),
    ("1 m/s, mass coefficient", lambda: mass_coefficient(1.0), 0.027002, 1e-4),
    ("heat over mass transfer", lewis, 1125.27, 1e-5),
    ("wet ball in a room", lambda: wet_ball(0.965), 16.2686, 1e-4),
    ("boiling at 1000 m", lambda: boiling(1000.0), 96.649, 1e-5),
    # The default isotherm: judged, so nobody else has these numbers.
    ("default moisture at 0.6", lambda: sorption.gab(0.6), 0.097310, 1e-5),
    ("default moisture at 0.9", lambda: sorption.gab(0.9), 0.305169, 1e-5),
    ("default activity of 35 % water", lambda: sorption.water_activity(0.5385), 0.965455, 1e-5),
    ("default activity of 50 % water", lambda: sorption.water_activity(1.0), 0.993581, 1e-5),
    ("glycerol, 30 %", lambda: sorption.norrish(3.0 / 7.0, sorption.GLYCEROL), 0.916263, 1e-5),
    (
        "glycol, 30 %",
        lambda: sorption.norrish(3.0 / 7.0, sorption.PROPYLENE_GLYCOL),
        0.900206,
        1e-5,
    ),
    (
        "loss to the pot, 75 s",
        lambda: diffusion.fraction_leached(5e-10, 8.5e-3, 75.0),
        0.075564,
        1e-5,
    ),
    ("glycol in water, 5 C", lambda: diffusion.hayduk_laudie(88.8e-6, 278.15), 5.8643e-10, 1e-4),
    (
        "68.68 cm3/mol in water, 25 C",
        lambda: diffusion.hayduk_laudie(68.68e-6, 298.15),
        1.2541e-9,
        1e-4,
    ),
    ("cold over warm diffusivity", lambda: diffusion.at_temperature(1.0, 278.15), 0.54690, 1e-4),
    (
        "hindrance at 40 % water",
        lambda: diffusion.mackie_meares(diffusion.solids_volume(0.4)),
        0.096314,
        1e-4,
    ),
    # Lift is why the whole house stands.
    ("lift of 17 on 10 mm, paste 1.15", lambda: lift_grams(1150.0), 0.110781, 1e-4),
    ("lift of 17 on 10 mm, paste 1.25", lambda: lift_grams(1250.0), -0.094103, 1e-4),
    ("neutral paste, 17 on 10 mm", lambda: neutral_paste(0.017), 1204.07, 1e-5),
    ("neutral paste, 18 on 10 mm", lambda: neutral_paste(0.018), 1165.2, 1e-4),
    ("core to hang, 16 mm", lambda: core_mm(0.0), 9.3615, 1e-4),
    ("core to carry a hook, 16 mm", lambda: core_mm(0.2259), 10.7775, 1e-4),
    ("flooded voids, 5 % of 17 on 10 mm", flooded, 0.102411, 1e-4),
    ("air at 5 m", lambda: buoyancy.void_ratio(5.0, water_density=999.7), 0.673956, 1e-5),
    (
        "sinking, 50 kg/m3",
        lambda: settling.terminal_velocity(0.017, 50.0, **COLD_WATER),
        0.167063,
        1e-5,
    ),
    (
        "rising, 50 kg/m3",
        lambda: settling.rising_velocity(0.017, 50.0, **COLD_WATER).slow,
        0.108179,
        1e-5,
    ),
    ("freezing point at 0.95", lambda: freezing.freezing_point(0.95) - 273.15, -5.1938, 1e-4),
]


@pytest.mark.parametrize(
    ("got", "frozen", "rel"),
    [pytest.param(*row[1:], id=row[0]) for row in FIGURES],
)
def test_figure(got: Callable[[], object], frozen: float, rel: float) -> None:
    assert got() == pytest.approx(frozen, rel=rel)
