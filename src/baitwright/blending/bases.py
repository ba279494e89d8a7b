"""One mix on four bases: dry mix, paste, finished bait, and the bait's dry matter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np

from baitwright.blending.blend import GROSS, gross_energy_of, in_units
from baitwright.materials.defaults import default
from baitwright.materials.eggs import egg_form
from baitwright.materials.tables import CONSTITUENTS
from baitwright.quantities import show
from baitwright.recipe.eggs import EggKind
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled, unwrap
from baitwright.terms.units import (
    GRAMS,
    GRAMS_PER_MILLILITRE,
    KILOJOULES_PER_100_GRAMS,
    PERCENT,
    Unit,
)
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import LogNormal

WATER_DENSITY = 998.2  # kg/m3 at 20 C; of water alone, which the component model runs 0.25 % under


class Basis(StrEnum):
    """What a share of a mix is counted on. A figure without its basis says nothing."""

    DRY_MIX = "dry mix"
    PASTE = "paste"
    BAIT = "finished bait"
    DRY_MATTER = "dry matter of the bait"


@declared(
    "egg_of_bowl",
    label="one egg out of the shell",
    unit=GRAMS,
    equation="egg in the bowl / eggs",
    source="definition",
)
def egg_of_bowl(mass: Any, eggs: Any) -> Any:
    """One egg of several by weight."""
    return mass / eggs


@declared(
    "paste_holds",
    label="share of the paste",
    equation="(share of the mix x mix + share of the egg x egg) / (mix + egg)",
    source="definition",
    note="liquids of the recipe are left out; they are a few percent",
)
def paste_holds(in_mix: Any, mix: Any, in_egg: Any, egg: Any) -> Any:
    """What a paste of dry mix and egg holds."""
    return (in_mix * mix + in_egg * egg) / (mix + egg)


@declared(
    "left_at_water",
    label="weight left of the paste",
    unit=PERCENT,
    equation="left = (1 - water of the paste) / (1 - water of the bait)",
    source="definition",
)
def left_at_water(water_of_paste: Any, water_of_bait: Any) -> Any:
    """What is left of a paste that is dried to a share of water."""
    return (1.0 - water_of_paste) / (1.0 - water_of_bait)


@declared(
    "left_after_loss",
    label="weight left of the paste",
    unit=PERCENT,
    equation="left = 1 - weight lost",
    source="definition",
    note="the boil is taken to neither add nor leach; a plan works it out",
)
def left_after_loss(loss: Any) -> Any:
    """What is left of a paste after the tray."""
    return 1.0 - loss


@declared(
    "finished_holds",
    label="share of the finished bait",
    equation="share of the paste / weight left",
    source="definition",
)
def finished_holds(in_paste: Any, left: Any) -> Any:
    """What a bait holds of anything but water."""
    return in_paste / left


@declared(
    "water_of_finished",
    label="water of the finished bait",
    unit=PERCENT,
    equation="water = (water of the paste - weight lost) / weight left",
    source="definition",
)
def water_of_finished(water_of_paste: Any, left: Any) -> Any:
    """What water a bait still holds."""
    return (water_of_paste - (1.0 - left)) / left


@declared(
    "of_dry_matter",
    label="share of the dry matter",
    equation="share / (1 - water)",
    source="definition",
)
def of_dry_matter(share: Any, water: Any) -> Any:
    """A share counted on what is no water."""
    return share / (1.0 - water)


@declared(
    "wetted_density",
    label="paste without its air",
    unit=GRAMS_PER_MILLILITRE,
    equation="(mix + egg) / (mix / mix density + egg / egg density)",
    source="definition",
    note="real paste is lighter by its air: weigh a ball and push it under",
)
def wetted_density(mix: Any, mix_density: Any, egg: Any, egg_density: Any) -> Any:
    """Density of a paste that holds no air."""
    return (mix + egg) / (mix / mix_density + egg / egg_density)


@declared(
    "density_at_water",
    label="finished bait without air",
    unit=GRAMS_PER_MILLILITRE,
    equation="left / (1 / paste density - (1 - left) / water density)",
    source="definition",
    note="shrunk by all the water that left; air that stays in its place makes a bait lighter",
)
def density_at_water(paste_density: Any, left: Any) -> Any:
    """Density of a paste that shrank by the water it lost."""
    return left / (1.0 / paste_density - (1.0 - left) / WATER_DENSITY)


@dataclass(frozen=True, slots=True)
class Bowl:
    """One egg of the bowl and the dry mix it takes up [kg], and how far the baits are dried.

    ``water`` is what the finished bait is to hold, told or planned; a usual loss on the tray where
    None.
    """

    egg: Quantity
    dry_mix: Quantity
    water: float | Quantity | None = None


@dataclass(frozen=True, slots=True)
class OnBases:
    """Figures by basis and name, the weight left of the paste, and densities by basis."""

    figures: Mapping[Basis, Mapping[str, Quantity]]
    left: Quantity
    densities: Mapping[Basis, Quantity]


def on_bases(
    dry: Mapping[str, Quantity], bowl: Bowl, *, density: Quantity | None, draws: Draws | None
) -> OnBases:
    """What a dry mix holds and weighs, carried through egg and tray.

    Parameters
    ----------
    dry: figures of the dry mix; what is unknown there is unknown on every basis.
    bowl: egg, dry mix and how far the baits are dried.
    density: of the dry mix without its air, or None where it is unknown.
    draws: which spread the weight lost on the tray.

    Raises
    ------
    InputError: the bait is to hold more water than the paste.
    """
    row = egg_form(EggKind.WHOLE)
    parts = [name for name in CONSTITUENTS if name in dry]
    paste = {
        name: _labelled(
            paste_holds(
                in_mix=dry[name],
                mix=bowl.dry_mix,
                in_egg=_of_egg(name, row.composition[name]),
                egg=bowl.egg,
            ),
            name,
            Basis.PASTE,
        )
        for name in parts
    }
    left = _left(paste.get("water"), bowl, draws)
    bait = {
        name: _labelled(finished_holds(in_paste=paste[name], left=left), name, Basis.BAIT)
        for name in parts
        if name != "water"
    }
    if "water" in paste:
        bait = {"water": water_of_finished(water_of_paste=paste["water"], left=left), **bait}
    figures: dict[Basis, Mapping[str, Quantity]] = {
        Basis.DRY_MIX: dry,
        Basis.PASTE: _with_energy(paste, Basis.PASTE),
        Basis.BAIT: _with_energy(bait, Basis.BAIT),
        Basis.DRY_MATTER: _dry_matter(bait),
    }
    return OnBases(figures, left, _densities(density, bowl, left))


def _dry_matter(bait: Mapping[str, Quantity]) -> Mapping[str, Quantity]:
    if "water" not in bait:
        return {}
    made = {
        name: _labelled(of_dry_matter(share=share, water=bait["water"]), name, Basis.DRY_MATTER)
        for name, share in bait.items()
        if name != "water"
    }
    return _with_energy(made, Basis.DRY_MATTER)


def _labelled(quantity: Quantity, name: str, basis: Basis, *, unit: Unit = PERCENT) -> Quantity:
    return in_units(quantity, unit).labelled(f"{name} of the {basis}")


def _with_energy(figures: dict[str, Quantity], basis: Basis) -> Mapping[str, Quantity]:
    burns = ("protein", "fat", "carbohydrate", "fibre")
    if any(name not in figures for name in burns):
        return figures
    energy = gross_energy_of(**{name: figures[name] for name in burns})
    return {**figures, GROSS: _labelled(energy, GROSS, basis, unit=KILOJOULES_PER_100_GRAMS)}


def _of_egg(name: str, share: float) -> Quantity:
    row = egg_form(EggKind.WHOLE)
    return given(
        f"{name}_of_egg", share, label=f"{name} of whole egg", unit=PERCENT, backing=tabled(row)
    )


def _left(water: Quantity | None, bowl: Bowl, draws: Draws | None) -> Quantity:
    if bowl.water is None:
        row = default("ready_loss")
        spread = LogNormal.between(row.low, row.high, median=row.value)
        lost = row.value if draws is None else draws.per_batch("mix/ready_loss", spread)
        backing = Backing(Origin.DEFAULT, row.source, row.evidence, row.note)
        return left_after_loss(
            loss=given(row.id, lost, label=row.label, unit=PERCENT, backing=backing)
        )
    wanted = _wanted_water(bowl.water)
    typed = show(float(np.median(unwrap(wanted.value))), "%")
    if water is None:
        raise InputError("water", typed, "a loss on the tray, as the water of a part is unknown")
    left = left_at_water(water_of_paste=water, water_of_bait=wanted)
    middle = float(np.median(unwrap(left.value)))
    if not 0.0 < middle <= 1.0:
        holds = show(float(np.median(unwrap(water.value))), "%")
        raise InputError("water", typed, f"no more than the paste holds, {holds}")
    return left


def _wanted_water(water: float | Quantity) -> Quantity:
    if isinstance(water, Quantity):
        return water
    return given("water_of_bait", water, label="water the bait is dried to", unit=PERCENT)


def _densities(density: Quantity | None, bowl: Bowl, left: Quantity) -> Mapping[Basis, Quantity]:
    if density is None:
        return {}
    row = egg_form(EggKind.WHOLE)
    egg = given(
        "whole_egg_density",
        row.density,
        label="whole egg",
        unit=GRAMS_PER_MILLILITRE,
        backing=tabled(row),
    )
    paste = wetted_density(mix=bowl.dry_mix, mix_density=density, egg=bowl.egg, egg_density=egg)
    bait = density_at_water(paste_density=paste, left=left)
    return {Basis.DRY_MIX: density, Basis.PASTE: paste, Basis.BAIT: bait}
