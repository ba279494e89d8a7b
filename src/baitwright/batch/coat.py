"""A powder coat on the boiled bait: how much to put out, what sticks, and what that does."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.balance import BalanceStage, lift, rig_lift, wish_share
from baitwright.batch.lake_water import lake_density
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.physics.buoyancy import sphere_diameter, sphere_volume
from baitwright.recipe.finish import Coat
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, declared, given, tabled, unwrap
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLIMETRES, PERCENT


@declared(
    "coat_by_share",
    label="powder offered to a bait",
    unit=GRAMS,
    equation="offered = share x weight of the boiled bait",
    source="definition",
)
def coat_by_share(share: Any, mass: Any) -> Any:
    """Powder for one bait by its weight."""
    return share * mass


@declared(
    "coat_by_layer",
    label="powder offered to a bait",
    unit=GRAMS,
    equation="offered = pi / 6 ((D + 2 layer)^3 - D^3) x bulk density",
    source="definition",
)
def coat_by_layer(layer: Any, diameter: Any, bulk_density: Any) -> Any:
    """Powder for one bait by the loose layer all round it."""
    return (sphere_volume(diameter + 2.0 * layer) - sphere_volume(diameter)) * bulk_density


@declared(
    "coat_stuck",
    label="powder that stays on a bait",
    unit=GRAMS,
    equation="stays = offered x share that sticks, no more than all",
    source="judgement",
    note="weigh ten baits before and after rolling them in it to know yours",
)
def coat_stuck(offered: Any, sticks: Any) -> Any:
    """What one bait keeps of its powder."""
    return offered * np.minimum(sticks, 1.0)


@declared(
    "coat_for_all",
    label="powder to put out for all baits",
    unit=GRAMS,
    equation="all = offered to a bait x baits",
    source="definition",
)
def coat_for_all(offered: Any, baits: Any) -> Any:
    """Powder for the whole batch."""
    return offered * baits


@declared(
    "coated_solids",
    label="solids of the coated bait",
    unit=GRAMS,
    equation="solids + coat",
    source="definition",
)
def coated_solids(solids: Any, coat: Any) -> Any:
    """Dry matter and powder together."""
    return solids + coat


@declared(
    "coated_diameter",
    label="diameter of the coated bait, as water feels it",
    unit=MILLIMETRES,
    equation="pi D^3 / 6 = volume + coat / density of the powder without air",
    source="definition",
    note="the gaps between the grains fill with water at once and lift nothing",
)
def coated_diameter(diameter: Any, coat: Any, density: Any) -> Any:
    """A ball with the room that the grains themselves take up."""
    return sphere_diameter(sphere_volume(diameter) + coat / density)


@declared(
    "lift_change",
    label="change of lift",
    unit=GRAMS,
    equation="lift after - lift before",
    source="archimedes",
)
def lift_change(after: Any, before: Any) -> Any:
    """How much more a bait pulls upward; below nothing, how much less."""
    return after - before


@declared(
    "lift_without",
    label="lift of the bait without its coat",
    unit=GRAMS,
    equation="lift - change of lift by the coat",
    source="definition",
)
def lift_without(lift: Any, change: Any) -> Any:
    """What the dried bait would pull, had it not been coated."""
    return lift - change


@dataclass(frozen=True, slots=True)
class CoatStage:
    """The coat: powder for all and for one, its lift, the share that does what is wanted bare."""

    ingredient: str
    for_all: Quantity
    stuck: Quantity
    lift_change: Quantity
    wish_without: Quantity | None
    bait: BaitState
    notes: tuple[Note, ...]


def coat(
    state: BaitState,
    wanted: Coat,
    *,
    baits: Quantity,
    lake_temperature: float | None,
    unknowns: Unknowns,
) -> CoatStage:
    """Roll the boiled, wet baits in a powder."""
    row = ingredient(wanted.ingredient, "coat.ingredient")
    offered = _offered(state, wanted, row, unknowns=unknowns)
    stuck = coat_stuck(offered=offered, sticks=unknowns.drawn_default("coat_sticks"))
    after = coated(state, stuck, row, offered=offered)
    water = lake_density(temperature=unknowns.stated("lake_temperature", lake_temperature))
    change = lift_change(
        after=lift(diameter=after.diameter, mass=after.mass, water_density=water),
        before=lift(diameter=state.diameter, mass=state.mass, water_density=water),
    )
    return CoatStage(
        ingredient=row.name,
        for_all=coat_for_all(offered=offered, baits=baits),
        stuck=stuck,
        lift_change=change.labelled("change of lift by the coat"),
        wish_without=None,
        bait=after,
        notes=(
            Note(
                "coat",
                "Roll them while they are wet from the pot. The coat sits outside: its dust and "
                "flavour are the first to leave in the lake. Weigh ten baits before and after.",
                "judgement",
            ),
        ),
    )


def coated(state: BaitState, stuck: Quantity, row: Ingredient, *, offered: Quantity) -> BaitState:
    """The bait with its coat, and the accounts of the powder and of the bait's solids closed."""
    density = given(
        "coat_density",
        row.density,
        label=f"{row.name} without air",
        unit=GRAMS_PER_MILLILITRE,
        backing=tabled(row),
    )
    solids = coated_solids(solids=state.solids, coat=stuck)
    there, stays = unwrap(offered.value), unwrap(stuck.value)
    before, after = unwrap(state.solids.value), unwrap(solids.value)
    ledger = state.ledger.with_entry(
        "coat", row.name, before=there, after=stays, gone=there - stays
    ).with_entry("coat", "solids", before=before, after=after, gone=-stays)
    diameter = coated_diameter(diameter=state.diameter, coat=stuck, density=density)
    return replace(state, solids=solids, diameter=diameter, ledger=ledger)


def beside_bare(stage: CoatStage, water: BalanceStage, kind: str) -> CoatStage:
    """The coat with the share of baits that would do what is wanted without it."""
    bare = lift_without(lift=water.dried, change=stage.lift_change)
    wanted = given("wanted_kind", kind, label="wanted")
    share = wish_share(lift=bare, rig_lift=rig_lift(lift=bare, hook=water.taken), kind=wanted)
    return replace(stage, wish_without=share.labelled("would do what is wanted without the coat"))


def _offered(state: BaitState, wanted: Coat, row: Ingredient, *, unknowns: Unknowns) -> Quantity:
    if wanted.share is not None:
        share = given("coat_share", wanted.share, label="coat, of the bait", unit=PERCENT)
        return coat_by_share(share=share, mass=state.mass)
    bulk = unknowns.drawn_default("coat_bulk_density")
    if row.bulk_density is not None:
        bulk = given(
            "bulk_density",
            row.bulk_density,
            label=f"{row.name}, loose",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(row),
        )
    layer = given("coat_layer", wanted.layer, label="loose layer offered", unit=MILLIMETRES)
    return coat_by_layer(layer=layer, diameter=state.diameter, bulk_density=bulk)
