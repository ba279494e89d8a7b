"""How dry the skin of a dried bait is, and whether, when and how fast the bait freezes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.drying import at_time
from baitwright.physics.constants import MOLAR_MASS
from baitwright.physics.freezing import (
    DRIEST_WITH_ICE,
    HEAT_OF_FUSION,
    FreezingBody,
    ice_temperature,
    ice_water_activity,
    plank_time,
)
from baitwright.terms.quantity import declared
from baitwright.terms.units import CELSIUS, GRAMS, MINUTES, PERCENT

_FUSION = HEAT_OF_FUSION / MOLAR_MASS
"""Heat that water gives off as it freezes, J/kg."""
_LITTLE_ICE = 1.0e3
"""A bait that gives off less heat than this by freezing counts as not freezing, J/kg."""
_NEAR = 0.5
"""Nor does one whose freezing point is this near the air's temperature, K."""


@declared(
    "skin_activity",
    label="water activity of the skin, off the tray",
    equation="the skin's at the end of drying",
    source="crank-1975",
    note="in a closed bag the middle moistens the skin within a day or two",
)
def skin_activity(run: Any, time: Any, like: Any) -> Any:
    """How dry the skin is when the baits leave the tray."""
    return at_time(run, run.surface_activity, time, like=like)


@declared(
    "freezing_starts",
    label="ice forms below",
    unit=CELSIUS,
    equation="the temperature at which ice has the bait's water activity",
    source="murphy-koop-2005",
    note="a bait drier than 0.581 in water activity is shown at -60 C, where the formula ends",
)
def freezing_starts(activity: Any) -> Any:
    """Freezing point of a bait."""
    return ice_temperature(np.maximum(activity, DRIEST_WITH_ICE))


@declared(
    "ice_in_bait",
    label="ice in a bait in the freezer",
    unit=GRAMS,
    equation="ice = water - (solids + liquids) x isotherm(activity of ice)",
    source="murphy-koop-2005",
    note="solutions grow stronger as they freeze, as the isotherm has it",
)
def ice_in_bait(water: Any, dry_matter: Any, holds: Any, scale: Any, temperature: Any) -> Any:
    """Water that turns to ice; none where the bait is drier than ice."""
    bound = dry_matter * scale * float(holds.moisture(float(ice_water_activity(temperature))))
    return np.maximum(water - bound, 0.0)


@declared(
    "ice_share",
    label="of their water turns to ice",
    unit=PERCENT,
    equation="ice / water",
    source="definition",
)
def ice_share(ice: Any, water: Any) -> Any:
    """Share of the water that freezes."""
    return ice / water


@declared(
    "dry_matter",
    label="solids and liquids of a bait",
    unit=GRAMS,
    equation="solids + liquids",
    source="definition",
)
def dry_matter(solids: Any, liquids: Any) -> Any:
    """What stays when the water has gone."""
    return solids + liquids


@declared(
    "freezes_share",
    label="baits in which ice forms at all",
    unit=PERCENT,
    equation="share of the tray with more ice than a trace",
    source="definition",
    note="a bait drier than ice stays unfrozen and is kept by the cold alone",
)
def freezes_share(ice: Any, mass: Any) -> float:
    """Share of baits that freeze."""
    return float(np.mean(_FUSION * ice / mass >= _LITTLE_ICE))


@dataclass(frozen=True, slots=True)
class ToFreeze:
    """A bait for the freezer: its size [m], what it is made of, and whether it freezes."""

    diameter: Any
    body: FreezingBody
    freezes: Any


@declared(
    "to_freeze",
    label="the bait as a ball that freezes",
    equation="density = mass / volume; latent heat = heat of fusion x ice / mass",
    source="choi-okos-1986",
    note="conducts as the unfrozen paste does: ice conducts better, so this errs to the long side",
)
def to_freeze(mass: Any, diameter: Any, ice: Any, starts: Any, conductivity: Any) -> ToFreeze:
    """What Plank's equation needs of a bait; the core is counted as part of the ball."""
    latent = _FUSION * ice / mass
    freezes = latent >= _LITTLE_ICE
    return ToFreeze(
        diameter,
        FreezingBody(
            density=mass / (np.pi / 6.0 * diameter**3),
            latent_heat=np.maximum(latent, _LITTLE_ICE),
            conductivity=conductivity,
            freezing_point=np.maximum(starts, 233.15),
        ),
        freezes,
    )


@declared(
    "freezing_time",
    label="minutes until frozen",
    unit=MINUTES,
    equation="t = density L / (Tf - Ta) (D / (6 h) + D^2 / (24 k))",
    source="plank-1913",
    note="one bait free on a tray, already cold; a bag of baits takes several times as long",
)
def freezing_time(bait: ToFreeze, air: Any, film: Any) -> Any:
    """Time for a bait to freeze; never, where it does not."""
    cold = np.asarray(bait.body.freezing_point) - air > _NEAR
    kept = FreezingBody(
        bait.body.density,
        bait.body.latent_heat,
        bait.body.conductivity,
        np.where(cold, bait.body.freezing_point, np.minimum(air + 1.0, 273.15)),
    )
    time = plank_time(bait.diameter, kept, air_temperature=air, coefficient=film)
    return np.where(cold & bait.freezes, time, np.inf)
