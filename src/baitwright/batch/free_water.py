"""How dry the skin of a dried bait is, and whether, when and how fast the bait freezes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.drying import at_time
from baitwright.physics.constants import MOLAR_MASS
from baitwright.physics.freezing import (
    DRIEST_WITH_ICE,
    HEAT_OF_FUSION,
    ice_temperature,
    ice_water_activity,
)
from baitwright.terms.quantity import declared
from baitwright.terms.units import CELSIUS, GRAMS, MINUTES, PERCENT

_FUSION = HEAT_OF_FUSION / MOLAR_MASS
"""Heat that water gives off as it freezes, J/kg."""
_LITTLE_ICE = 1.0e3
"""A bait that gives off less heat than this by freezing counts as not freezing, J/kg."""
_FROM = 293.15
"""Baits go into the freezer at room temperature, K."""
_MELTS = 273.15
_NEAREST = 2.0
"""A bait this near the freezer's temperature counts as frozen, K."""
_WETTEST = 0.999
"""The isotherm is read below this water activity: at 1 it has no end."""


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
class IceLine:
    """How much of a bait's water is ice at a temperature: what its dry matter cannot hold then."""

    water: Any
    dry_matter: Any
    holds: Any
    scale: Any

    def ice(self, temperature: float) -> Any:
        """Ice in the bait [kg] at a temperature [K]."""
        return self.along(np.array([temperature]))[0]

    def along(self, temperatures: Any) -> list[Any]:
        """Ice in the bait [kg] at each temperature [K]; the isotherm is asked once for all."""
        activities = ice_water_activity(np.minimum(temperatures, _MELTS))
        shares = self.holds.moisture(np.minimum(activities, _WETTEST)).tolist()
        dry = self.dry_matter * self.scale
        return [np.maximum(self.water - dry * share, 0.0) for share in shares]


@declared(
    "ice_line",
    label="ice in a bait by temperature",
    equation="ice = water - (solids + liquids) x isotherm(activity of ice)",
    source="murphy-koop-2005",
)
def ice_line(water: Any, dry_matter: Any, holds: Any, scale: Any) -> IceLine:
    """The ice of a bait as it grows colder."""
    return IceLine(water, dry_matter, holds, scale)


@dataclass(frozen=True, slots=True)
class ToFreeze:
    """A bait for the freezer: sizes, ice line, and how it conducts and holds heat."""

    mass: Any
    diameter: Any
    line: IceLine
    conductivity: Any
    heat_capacity: Any


@declared(
    "to_freeze",
    label="the bait as a ball that freezes",
    equation="weight, size, ice by temperature, conductivity and heat capacity of the paste",
    source="choi-okos-1986",
    note="conducts as the unfrozen paste does: ice conducts better, so this errs to the long side",
)
def to_freeze(
    mass: Any, diameter: Any, line: IceLine, conductivity: Any, heat_capacity: Any
) -> ToFreeze:
    """What the freezing of a bait needs; the core is counted as part of the ball."""
    return ToFreeze(mass, diameter, line, conductivity, heat_capacity)


@declared(
    "freezing_time",
    label="minutes until frozen",
    unit=MINUTES,
    equation="t = sum of dH / (U A (T - Ta)), U = 1 / (1/h + D/(4 k)), to 2 K above the freezer",
    source="plank-1913",
    note="one bait free on a tray, from room temperature; a bag of baits takes several times as "
    "long. Plank's resistances, heat given off along the ice line instead of at one temperature",
)
def freezing_time(bait: ToFreeze, air: Any, film: Any) -> Any:
    """Time for a bait to freeze; never, where hardly any ice forms in it."""
    through = 1.0 / (1.0 / film + bait.diameter / (4.0 * bait.conductivity))
    power = through * np.pi * bait.diameter**2
    time = sum(heat / (power * fall) for heat, fall in cooling_legs(bait, air))
    freezes = _FUSION * bait.line.ice(float(air)) / bait.mass >= _LITTLE_ICE
    return np.where(freezes, time, np.inf)


def cooling_legs(bait: ToFreeze, air: Any) -> Iterator[tuple[Any, float]]:
    """What a bait gives off [J] on each leg of its way into the cold, and its mean lead on the air.

    Parameters
    ----------
    bait: the bait.
    air: temperature of the freezer [K].
    """
    steps = np.concatenate(
        (np.linspace(_FROM, _MELTS, 8), _MELTS - np.geomspace(0.2, _MELTS - air - _NEAREST, 40))
    )
    frozen = zip(steps, bait.line.along(steps), strict=True)
    heat = [bait.mass * bait.heat_capacity * warmth - _FUSION * ice for warmth, ice in frozen]
    for warm, cold, before, after in zip(heat, heat[1:], steps, steps[1:], strict=False):
        yield warm - cold, 0.5 * (before + after) - air
