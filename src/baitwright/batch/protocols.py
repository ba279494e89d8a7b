"""Measure, don't guess: how to take a lift and two densities, and how sure each result is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from baitwright.materials.rig_parts import Protocol, protocols
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLIMETRES
from baitwright.uncertainty.gum import Measured, combine

SCALE_STEP = 0.01e-3
"""The scale these are meant for shows this, kg."""
RULER_STEP = 1e-3
"""A ruler shows whole millimetres, m."""


def step_error(step: float) -> float:
    """Standard uncertainty of one reading of a display.

    Parameters
    ----------
    step: what one count of the display stands for, in any unit.

    Reference: gum-2008, clause F.2.2.1.
    """
    return step / math.sqrt(12.0)


@declared(
    "lift_error",
    label="standard uncertainty of the lift",
    unit=GRAMS,
    equation="u = step / 12^(1/2) x 2, of two readings and two settings to zero",
    source="gum-2008",
)
def lift_error(step: float) -> float:
    """Rise less weight, each read once and set to zero once."""
    one = math.sqrt(2.0) * step_error(step)
    zeroed = {"rise": Measured(0.0, one), "weight": Measured(0.0, one)}
    return combine(lambda rise, weight: rise - weight, zeroed).u


@declared(
    "core_density_error",
    label="standard uncertainty of the mean core's density",
    unit=GRAMS_PER_MILLILITRE,
    equation="u of weight / (n pi (row / n)^3 / 6) from scale and ruler",
    source="gum-2008",
)
def core_density_error(
    density: float, diameter: float, count: float, scale_step: float, ruler_step: float
) -> float:
    """The mean of a row of cores; how they scatter about it is not in it."""
    mass = count * density * math.pi / 6.0 * diameter**3
    read = {
        "mass": Measured(mass, math.sqrt(2.0) * step_error(scale_step)),
        "row": Measured(count * diameter, math.sqrt(2.0) * step_error(ruler_step)),
    }
    return combine(lambda mass, row: mass / (count * math.pi / 6.0 * (row / count) ** 3), read).u


@declared(
    "paste_density_error",
    label="standard uncertainty of the paste's density",
    unit=GRAMS_PER_MILLILITRE,
    equation="u of water density x weight / rise from the scale",
    source="gum-2008",
)
def paste_density_error(
    density: float, diameter: float, count: float, step: float, water_density: float
) -> float:
    """Balls without a core, weighed together and pushed under one by one."""
    volume = count * math.pi / 6.0 * diameter**3
    one = math.sqrt(2.0) * step_error(step)
    read = {
        "mass": Measured(density * volume, one),
        "rise": Measured(water_density * volume, math.sqrt(count) * one),
    }
    return combine(lambda mass, rise: water_density * mass / rise, read).u


@dataclass(frozen=True, slots=True)
class Told:
    """A protocol with the uncertainty of what it finds."""

    protocol: Protocol
    error: Quantity


@dataclass(frozen=True, slots=True)
class Sizes:
    """What is to be measured, about: diameters [m] and densities [kg/m3]."""

    bait: float
    core: float
    paste_density: float
    core_density: float
    water_density: float


def measure(sizes: Sizes) -> tuple[Told, ...]:
    """Each protocol with its uncertainty at these sizes; cores only where there is one."""
    step = given("scale_step", SCALE_STEP, label="step of the scale", unit=GRAMS, backing=IDENTITY)
    table = protocols()
    told = [
        Told(table["lift"], lift_error(step=step)),
        Told(table["paste-density"], _paste_error(sizes, step, table["paste-density"])),
    ]
    if sizes.core > 0.0:
        told.append(Told(table["core-density"], _core_error(sizes, step, table["core-density"])))
    return tuple(told)


def _paste_error(sizes: Sizes, step: Quantity, row: Protocol) -> Quantity:
    return paste_density_error(
        density=_density("paste", sizes.paste_density),
        diameter=given("ball", sizes.bait, label="ball", unit=MILLIMETRES),
        count=given("sample", float(row.sample), label="balls", backing=IDENTITY),
        step=step,
        water_density=_density("water", sizes.water_density),
    )


def _core_error(sizes: Sizes, step: Quantity, row: Protocol) -> Quantity:
    ruler = given(
        "ruler_step", RULER_STEP, label="step of the ruler", unit=MILLIMETRES, backing=IDENTITY
    )
    return core_density_error(
        density=_density("core", sizes.core_density),
        diameter=given("core", sizes.core, label="core", unit=MILLIMETRES),
        count=given("sample", float(row.sample), label="cores", backing=IDENTITY),
        scale_step=step,
        ruler_step=ruler,
    )


def _density(name: str, value: float) -> Quantity:
    return given(f"{name}_about", value, label=f"{name}, about", unit=GRAMS_PER_MILLILITRE)
