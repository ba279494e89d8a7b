"""The lake's water: its density, fresh or brackish."""

from __future__ import annotations

from typing import Any

from baitwright.physics import water
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import GRAMS_PER_MILLILITRE, PERCENT


@declared(
    "lake_density",
    label="the lake's water",
    unit=GRAMS_PER_MILLILITRE,
    equation="density of fresh water at the lake's temperature",
    source="tanaka-2001",
)
def lake_density(temperature: Any) -> Any:
    """Density of the lake's water."""
    return water.density(temperature)


@declared(
    "rig_water_density",
    label="the water about the rig",
    unit=GRAMS_PER_MILLILITRE,
    equation="density of water at the lake's temperature and salinity",
    source="tanaka-2001",
    note="salt by the seawater equation of unesco-44; for a lake's hardness it is an estimate",
)
def rig_water_density(temperature: Any, salinity: Any) -> Any:
    """Density of fresh or brackish water."""
    return water.density(temperature, salinity=salinity)


def lake_water(temperature: Quantity, *, salinity: float = 0.0) -> Quantity:
    """Density of the lake's water, by its salt where it holds any [kg/kg]."""
    if salinity == 0.0:
        return lake_density(temperature=temperature)
    salt = given("salinity", salinity, label="salinity", unit=PERCENT)
    return rig_water_density(temperature=temperature, salinity=salt)
