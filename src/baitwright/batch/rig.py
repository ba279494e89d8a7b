"""What hangs on the bait, what a hole and the depth take from it, and what balances the rest."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.balance import Tray, hook_pull, lift, rig_lift, weigh_hook
from baitwright.batch.lake_water import lake_water
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.hooks import Weight, line, weight
from baitwright.materials.rig_parts import rig_part
from baitwright.physics import buoyancy
from baitwright.physics.constants import STANDARD_GRAVITY
from baitwright.recipe.bench import Bench
from baitwright.recipe.rig import Hole, Link, Rig
from baitwright.terms.errors import RangeError
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, MILLIMETRES, Unit
from baitwright.uncertainty.spreads import LogNormal

METRES = Unit("m", "m")
MEGAPASCALS = Unit("Pa", "MPa")
CORK_MODULUS = (5.7e6, 14e6)
"""Bulk modulus of agglomerated cork, Pa: E / (3 (1 - 2 nu)), E 17 MPa, nu 0 to 0.3 (boria-2018)."""


@declared(
    "hole_lift",
    label="what a hole through bait and core does to the lift",
    unit=GRAMS,
    equation="lift = core lost + paste lost - water density x hole, which is no term when sealed",
    source="archimedes",
    note="of what is drilled away and not pushed aside; an open hole lets water at the core",
)
def hole_lift(
    diameter: Any,
    core_diameter: Any,
    *,
    hole: Any,
    paste_density: Any,
    core_density: Any,
    fill_density: Any,
) -> Any:
    """Lift gained, or lost, by a round hole through the middle."""
    core = _drilled(core_diameter, hole)
    paste = _drilled(diameter, hole) - core
    return (paste_density - fill_density) * paste + (core_density - fill_density) * core


def _drilled(diameter: Any, hole: Any) -> Any:
    """Volume a drill takes out of a sphere along its diameter; the whole of a smaller one."""
    across = np.minimum(hole, diameter)
    return np.pi / 6.0 * (diameter**3 - (diameter**2 - across**2) ** 1.5)


@declared(
    "depth_loss",
    label="lift that the depth takes",
    unit=GRAMS,
    equation="loss = water density (air (1 - p0 / (p0 + p)) + cork p / K)",
    source="boria-2018",
    note="air in soft paste gives way by Boyle's law; what stiff paste holds open is kept",
)
def depth_loss(air: Any, cork: Any, *, depth: Any, water_density: Any, modulus: Any) -> Any:
    """Lift lost where air and cork are pressed together."""
    pressed = air * (1.0 - buoyancy.void_ratio(depth, water_density=water_density))
    pressure = water_density * STANDARD_GRAVITY * depth
    return water_density * (pressed + cork * pressure / modulus)


@declared(
    "cork_in_bait",
    label="cork in a bait",
    unit=MILLILITRES,
    equation="V = pi d^3 / 6 + corks and granules in the paste",
    source="definition",
)
def cork_in_bait(core_diameter: Any, **inclusions: Any) -> Any:
    """Room of all cork of a bait."""
    return buoyancy.sphere_volume(core_diameter) + sum(inclusions.values(), 0.0)


@declared(
    "lift_there",
    label="lift of the bait with its hole, at depth",
    unit=GRAMS,
    equation="lift + hole - depth's loss",
    source="definition",
)
def lift_there(lift: Any, hole: Any, depth: Any) -> Any:
    """What is left of the bait's lift where it is fished."""
    return lift + hole - depth


@declared(
    "link_pull",
    label="the hook-link under water",
    unit=GRAMS,
    equation="pull = pi d^2 / 4 x length (density - water density)",
    source="archimedes",
    note="only the part between bait and counterweight; less than nothing for a line that floats",
)
def link_pull(diameter: Any, length: Any, density: Any, water_density: Any) -> Any:
    """What a length of line weighs under water."""
    return np.pi / 4.0 * diameter**2 * length * (density - water_density)


@declared(
    "part_pull",
    label="a part of the rig under water",
    unit=GRAMS,
    equation="pull = mass (1 - water density / density)",
    source="archimedes",
)
def part_pull(mass: Any, density: Any, water_density: Any) -> Any:
    """What a stop, swivel, screw or band weighs under water."""
    return buoyancy.submerged_mass(mass, density, water_density=water_density)


@declared(
    "hung",
    label="everything that hangs on the bait",
    unit=GRAMS,
    equation="the sum of the pulls under water",
    source="definition",
)
def hung(**pulls: Any) -> Any:
    """Hook, line and parts together."""
    return sum(pulls.values(), 0.0)


@declared(
    "burden",
    label="lift that rig, hole and depth take together",
    unit=GRAMS,
    equation="pulls of the rig - hole + depth's loss",
    source="definition",
    note="hole and depth as they are for the bait planned",
)
def burden(hung: Any, hole: Any, depth: Any) -> Any:
    """Everything between the lift of the bait alone and what is left on the rig."""
    return hung - hole + depth


@declared(
    "flooded_lift",
    label="net lift once water has filled every void",
    unit=GRAMS,
    equation="net lift - water density x air in the paste",
    source="archimedes",
    note="the far end of a night: how fast it comes is not known before a bait has been soaked",
)
def flooded_lift(net: Any, air: Any, water_density: Any) -> Any:
    """Lift that is left when no air is."""
    return net - water_density * air


@declared(
    "putty",
    label="counterweight in putty, to just take it down",
    unit=GRAMS,
    equation="putty = (net lift + margin) / (1 - water density / putty density), nothing below 0",
    source="archimedes",
)
def putty(net: Any, margin: Any, density: Any, water_density: Any) -> Any:
    """Putty, as weighed in air, that takes the rig just past balance."""
    return np.maximum(net + margin, 0.0) / (1.0 - water_density / density)


@dataclass(frozen=True, slots=True)
class RigStage:
    """The bait on its rig: lift where it is fished, each pull on it, and what balances the rest."""

    water_density: Quantity
    diameter: Quantity
    alone: Quantity
    hole: Quantity
    depth: Quantity
    bait: Quantity
    pulls: tuple[Quantity, ...]
    hung: Quantity
    burden: Quantity
    net: Quantity
    flooded: Quantity
    balance_point: Quantity
    margin: Quantity
    putty: Quantity


def hang(tray: Tray, rig: Rig, *, bench: Bench, unknowns: Unknowns) -> RigStage:
    """Hang a rig on the dried bait and see what is left to balance.

    Raises
    ------
    RangeError: a hole as wide as the bait, or depth, temperature or salinity out of range.
    InputError: a material or part that is on no shelf.
    """
    density = lake_water(
        unknowns.stated("lake_temperature", bench.lake_temperature), salinity=rig.salinity
    )
    dried = tray.dried
    alone = lift(diameter=dried.diameter, mass=dried.mass, water_density=density)
    opened = _hole(tray, rig.hole, density)
    pressed = depth_loss(
        air=dried.bait.air,
        cork=_cork(dried.bait),
        depth=given("depth", rig.depth, label="depth", unit=METRES),
        water_density=density,
        modulus=_modulus(unknowns),
    )
    bait = lift_there(lift=alone, hole=opened, depth=pressed)
    pulls = _pulls(rig, density, bench=bench, unknowns=unknowns)
    weight_on_it = hung(**{f"pull_{i}": pull for i, pull in enumerate(pulls)})
    net = rig_lift(lift=bait, hook=weight_on_it).labelled("lift left for a counterweight")
    margin = given("margin", rig.margin, label="margin past balance", unit=GRAMS)
    material = unknowns_of_weight(weight("putty"), unknowns)
    held = {"net": net, "density": material, "water_density": density}
    point = putty(**held, margin=given("margin", 0.0, label="no margin", unit=GRAMS))
    return RigStage(
        water_density=density,
        diameter=dried.diameter,
        alone=alone.labelled("lift of the dried bait alone"),
        hole=opened,
        depth=pressed,
        bait=bait,
        pulls=pulls,
        hung=weight_on_it,
        burden=burden(hung=weight_on_it, hole=opened, depth=pressed),
        net=net,
        flooded=flooded_lift(net=net, air=dried.bait.air, water_density=density),
        balance_point=point.labelled("critically balanced with putty of"),
        margin=margin,
        putty=putty(**held, margin=margin),
    )


def unknowns_of_weight(material: Weight, unknowns: Unknowns) -> Quantity:
    """A material's density, drawn from the range that its row gives as a 95 % band."""
    spread = LogNormal.between(material.low, material.high, median=material.density)
    return given(
        f"{material.id}_density",
        unknowns.draws.per_batch(f"{material.id}_density", spread),
        label=f"density of {material.name}",
        unit=GRAMS_PER_MILLILITRE,
        backing=tabled(material),
    )


def _cork(bait: BaitState) -> Quantity:
    """All that gives way to the depth as cork does; glass does not."""
    grains = [one for one in bait.inclusions if not getattr(one.material, "airborne_glass", False)]
    inside = {f"inclusion_{at}": one.volume for at, one in enumerate(grains)}
    return cork_in_bait(core_diameter=bait.core_diameter, **inside)


def _modulus(unknowns: Unknowns) -> Quantity:
    low, high = CORK_MODULUS
    spread = LogNormal.between(low, high, median=math.sqrt(low * high))
    return given(
        "cork_modulus",
        unknowns.draws.per_batch("cork_modulus", spread),
        label="stiffness of cork, pressed from all sides",
        unit=MEGAPASCALS,
        backing=Backing(Origin.TABLE, "boria-2018", Evidence.READ),
    )


def _hole(tray: Tray, hole: Hole | None, density: Quantity) -> Quantity:
    wide = 0.0 if hole is None else hole.diameter
    narrowest = float(np.min(_bare(tray.dried.diameter)))
    if not 0.0 <= wide < narrowest:
        raise RangeError("rig.hole", 1e3 * wide, low=0.0, high=round(1e3 * narrowest, 1), unit="mm")
    closed = given("air_in_hole", 0.0, label="air in the hole", unit=GRAMS_PER_MILLILITRE)
    core = tray.rolled.core_density
    return hole_lift(
        diameter=tray.dried.diameter,
        core_diameter=tray.dried.bait.core_diameter,
        hole=given("hole", wide, label="hole", unit=MILLIMETRES),
        paste_density=_paste_density(tray),
        core_density=core,
        fill_density=closed if hole is not None and hole.sealed else density,
    )


@declared(
    "dried_paste_density",
    label="density of the dried paste",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = (mass - core) / (pi (D^3 - d^3) / 6)",
    source="definition",
)
def dried_paste_density(mass: Any, core_mass: Any, diameter: Any, core_diameter: Any) -> Any:
    """Density of the paste about the core, air and all."""
    return (mass - core_mass) / buoyancy.shell_volume(diameter, core_diameter)


def _paste_density(tray: Tray) -> Quantity:
    bait = tray.dried.bait
    return dried_paste_density(
        mass=tray.dried.mass,
        core_mass=bait.core_mass,
        diameter=tray.dried.diameter,
        core_diameter=bait.core_diameter,
    )


def _bare(quantity: Quantity) -> Any:
    return getattr(quantity.value, "values", quantity.value)


def _pulls(
    rig: Rig, density: Quantity, *, bench: Bench, unknowns: Unknowns
) -> tuple[Quantity, ...]:
    """Hook, hook-link and parts, each by what it weighs under water."""
    pulls = [hook_pull(mass=weigh_hook(bench.hook, unknowns), water_density=density)]
    if rig.link is not None:
        pulls.append(_link(rig.link, density))
    for name in rig.parts:
        row = rig_part(name, "rig.parts")
        spread = LogNormal.between(row.low, row.high, median=row.mass)
        mass = given(
            f"part_{row.id}",
            unknowns.draws.per_batch(f"part/{row.id}", spread),
            label=row.name,
            unit=GRAMS,
            backing=tabled(row),
        )
        solid = given(
            "part_density",
            row.density,
            label=f"density of the {row.name}",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(row),
        )
        pull = part_pull(mass=mass, density=solid, water_density=density)
        pulls.append(pull.labelled(f"{row.name} under water"))
    return tuple(pulls)


def _link(link: Link, density: Quantity) -> Quantity:
    row = line(link.material, "rig.link")
    made = link_pull(
        diameter=given("link_diameter", link.diameter, label="hook-link", unit=MILLIMETRES),
        length=given("link_length", link.length, label="hook-link", unit=METRES),
        density=given(
            "link_density",
            row.density,
            label=f"density of {row.name}",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(row),
        ),
        water_density=density,
    )
    return made.labelled(f"{row.name} under water")
