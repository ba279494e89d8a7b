"""Water entering baits hour after hour in the lake, and what a bait is after so much of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.drying import BaitAsMoist, at_time, each
from baitwright.batch.reached import depth_where, skin_and_shells
from baitwright.batch.release import first_below
from baitwright.physics.diffusion import at_temperature
from baitwright.physics.radial import MoistBall, MoistureRun, WaterLeg, absorb
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import DIFFUSIVITY, GRAMS, HOURS, MILLILITRES, MILLIMETRES, PERCENT

_ROOM = 293.15
_LEVELS = 64
_STEPS = 64
"""Time steps of a soak: water at one pace asks for fewer than a drying skin. From the first hour on
within 0.0005 of the water taken up, in the minutes of a long soak before it within 0.003 (computed,
3,072 balls soaked 14 and 48 h, against 352 steps)."""

CURVE_HOURS = (0.0, 1.0, 2.0, 4.0, 8.0, 14.0, 24.0, 36.0, 48.0)
"""Hours told of a soak; 14 is a winter night."""


@dataclass(frozen=True, slots=True)
class FlavourLeft:
    """One liquid and the share of its flavour that is left."""

    name: str
    left: Quantity


@dataclass(frozen=True, slots=True)
class SoakPoint:
    """The bait after some hours in the lake; ``wish`` is the share that does what is wanted."""

    time: float
    taken: Quantity
    flavours: tuple[FlavourLeft, ...]
    firmness: Quantity
    mass: Quantity
    diameter: Quantity
    lift: Quantity
    rig: Quantity
    wish: Quantity


@declared(
    "soaking_diffusivity",
    label="how fast water moves in the soaking bait",
    unit=DIFFUSIVITY,
    equation="D = 1e-10 m2/s x factor x (T / viscosity) / (T / viscosity at 20 C)",
    source="reid-1987",
    note="one figure for a wet gel, known within a factor of 3 until baits are weighed in water",
)
def soaking_diffusivity(table: Any, factor: Any, temperature: Any) -> Any:
    """Diffusivity of water in the soaking paste."""
    return at_temperature(table * factor, temperature, known_at=_ROOM)


@declared(
    "soak_run",
    label="water entering the bait",
    equation="diffusion in swelling shells whose skin is held at a water content",
    source="crank-1975",
    note="from water that has evened out in the bag",
)
def soak_run(
    ball: MoistBall, surface: Any, diffusivity: Any, temperature: Any, end: Any
) -> MoistureRun:
    """The whole soak, told at its hours and at many times between."""
    count = np.asarray(ball.outer_radius).size
    pace = each(diffusivity, count)
    hours = 3600.0 * np.array([hour for hour in CURVE_HOURS if 3600.0 * hour <= end])
    times = np.union1d(hours, end * np.linspace(0.0, 1.0, _LEVELS + 1) ** 3)
    leg = WaterLeg(float(end), float(temperature), each(surface, count))
    return absorb(
        ball,
        [leg],
        diffusivity=lambda kelvin, content: pace,
        steps=_STEPS,
        output_times=times,
    )


@declared(
    "water_depth",
    label="how deep the lake has come",
    unit=MILLIMETRES,
    equation="(R - r) / (R - core) x paste as soaked, r: where half of the skin's gain is reached",
    source="definition",
    note="water comes gradually and not as an edge; all of the paste where its inside has half too",
)
def water_depth(run: MoistureRun, diameter: Any, core_diameter: Any) -> Any:
    """Depth down to which paste has gained at least half of the water that its skin gained."""
    start, skin = run.mean_content[0], run.surface_content[-1]
    over = skin_and_shells(run) - start - 0.5 * (skin - start)
    return depth_where(run, over, diameter, core_diameter=core_diameter)


@declared(
    "water_taken",
    label="water taken up",
    unit=GRAMS,
    equation="entered by then",
    source="crank-1975",
)
def water_taken(run: MoistureRun, time: Any, like: Any) -> Any:
    """Water that one bait has swollen by after a time."""
    return -at_time(run, run.evaporated, time, like=like)


@declared(
    "air_flooded",
    label="air replaced by water",
    unit=MILLILITRES,
    equation="share x air (1 - exp(-t / tau))",
    source="judgement",
    note="no published pace; baits weighed under water narrow it",
)
def air_flooded(air: Any, share: Any, pace: Any, time: Any) -> Any:
    """Room of the bait's air that water has taken."""
    return np.minimum(share, 1.0) * air * -np.expm1(-time / pace)


@declared(
    "solids_dissolved",
    label="dry matter dissolved",
    unit=GRAMS,
    equation="solids x soluble share x (1 - left)",
    source="definition",
)
def solids_dissolved(solids: Any, soluble: Any, left: Any) -> Any:
    """Dry matter that one bait has lost to the lake."""
    return solids * np.minimum(soluble, 1.0) * (1.0 - left)


@declared(
    "liquid_gone",
    label="liquid lost to the lake",
    unit=GRAMS,
    equation="mass x (1 - left) x whether its carrier leaves",
    source="definition",
)
def liquid_gone(mass: Any, left: Any, leaves: Any) -> Any:
    """What one bait has lost of a liquid."""
    return mass * (1.0 - left) * leaves


@declared(
    "room_of_liquids",
    label="room the lost liquids took",
    unit=MILLILITRES,
    equation="the sum of their lost weights over their densities",
    source="definition",
)
def room_of_liquids(**parts: Any) -> Any:
    """Volume of the liquids that left; each comes as its weight lost and its density."""
    lost = [name for name in parts if name.startswith("gone_")]
    return sum((parts[name] / parts[name.replace("gone_", "density_")] for name in lost), 0.0)


@declared(
    "soaked_diameter",
    label="diameter soaked",
    unit=MILLIMETRES,
    equation="D^3 = D0^3 + 6/pi (taken up / water - dissolved / its density - room of liquids)",
    source="mayor-sereno-2004",
    note="ideal swelling: the bait grows by the water's own volume",
)
def soaked_diameter(
    diameter: Any, taken: Any, water_density: Any, dissolved: Any, solids_density: Any, liquids: Any
) -> Any:
    """Diameter after a soak."""
    grown = taken / water_density - dissolved / solids_density - liquids
    return np.cbrt(diameter**3 + 6.0 / np.pi * grown)


@declared(
    "soaked_water",
    label="water in the bait, soaked",
    unit=GRAMS,
    equation="water + taken up + flooded x water density",
    source="definition",
)
def soaked_water(water: Any, taken: Any, flooded: Any, water_density: Any) -> Any:
    """All water in one bait, in its paste and where its air was."""
    return water + taken + flooded * water_density


@declared(
    "what_is_left",
    label="what is left",
    unit=GRAMS,
    equation="before - gone",
    source="definition",
)
def what_is_left(before: Any, gone: Any) -> Any:
    """What a bait keeps of something."""
    return before - gone


@declared(
    "air_kept",
    label="air in the bait, soaked",
    unit=MILLILITRES,
    equation="air - flooded",
    source="definition",
)
def air_kept(air: Any, flooded: Any) -> Any:
    """Air still in the bait."""
    return air - flooded


@declared(
    "firmness",
    label="firmness beside the dry bait's",
    unit=PERCENT,
    equation="exp(-softening x water taken up / (solids + liquids))",
    source="judgement",
    note="a judged index, 100 % out of the bag; no measurement behind it",
)
def firmness(taken: Any, start: BaitAsMoist, softening: Any) -> Any:
    """How firm a bait still is."""
    return np.exp(-softening * taken / start.solids)


@declared(
    "softens",
    label="the bait softens",
    unit=HOURS,
    equation="first hour at which its firmness is below the wanted share",
    source="judgement",
    note="never, where that is after the soak's end",
)
def softens(run: MoistureRun, softening: Any, wanted: Any, like: Any) -> Any:
    """When each bait is softer than wanted."""
    gained = run.mean_content - run.mean_content[0]
    over = np.exp(-each(softening, gained.shape[1]) * gained) - wanted
    return first_below(run.times, over).reshape(np.shape(like))


@declared(
    "recast_after",
    label="recast after",
    unit=HOURS,
    equation="the earlier of: a first flavour fades, the bait softens",
    source="judgement",
    note="never, where neither comes before the soak's end",
)
def recast_after(softens: Any, **fades: Any) -> Any:
    """When each bait has done its work."""
    first = softens
    for one in fades.values():
        first = np.minimum(first, one)
    return first
