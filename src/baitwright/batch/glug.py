"""A liquid on the dried baits: how much to draw, what goes in, and what that does."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.balance import BalanceStage, Tray, lift
from baitwright.batch.coat import lift_change
from baitwright.batch.dose import density_of
from baitwright.batch.dry import DryStage
from baitwright.batch.drying import dried_density
from baitwright.batch.keep import keep
from baitwright.batch.release import depth_of
from baitwright.batch.state import BaitState, Solute
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.liquids import Carrier, carrier
from baitwright.materials.tools import Draw
from baitwright.physics.buoyancy import sphere_diameter, sphere_volume
from baitwright.recipe.bench import Bench
from baitwright.recipe.dosing import measure_out, shelf_of
from baitwright.recipe.finish import Glug
from baitwright.recipe.model import Recipe
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, declared, given, tabled, unwrap
from baitwright.terms.units import (
    GRAMS,
    HOURS,
    MILLILITRES,
    MILLIMETRES,
    PERCENT,
)
from baitwright.uncertainty.bands import median_of

_WATER = "water"


@declared(
    "glug_per_bait",
    label="glug to a bait",
    unit=MILLILITRES,
    equation="volume / baits",
    source="definition",
)
def glug_per_bait(volume: Any, baits: Any) -> Any:
    """An even split of the glug over the baits."""
    return volume / baits


@declared(
    "glug_by_weight",
    label="glug to draw for all baits",
    unit=MILLILITRES,
    equation="volume = volume per weight x mean weight of a dried bait x baits",
    source="definition",
)
def glug_by_weight(per_weight: Any, mass: Any, baits: Any) -> Any:
    """Glug for the whole batch by what it weighs."""
    return per_weight * np.mean(np.atleast_1d(mass), axis=-1, keepdims=True) * baits


@declared(
    "glug_share",
    label="of the glug goes in",
    unit=PERCENT,
    equation="share = 1 - 2^(-time / half time)",
    source="judgement",
    note="weigh ten baits before and after, wiped, to know yours; the rest stays on the skin",
)
def glug_share(time: Any, half_time: Any) -> Any:
    """What goes in of the liquid offered."""
    return -np.expm1(-np.log(2.0) * time / half_time)


@declared(
    "glug_taken",
    label="glug that goes into a bait",
    unit=GRAMS,
    equation="taken = glug to a bait x share x density",
    source="definition",
)
def glug_taken(per_bait: Any, share: Any, density: Any) -> Any:
    """What one bait gains."""
    return per_bait * share * density


@declared(
    "glug_film",
    label="glug left on the skin of a bait",
    unit=MILLILITRES,
    equation="left = glug to a bait x (1 - share)",
    source="definition",
)
def glug_film(per_bait: Any, share: Any) -> Any:
    """What only wets the surface; the lake washes it off, so it counts for no lift."""
    return per_bait * (1.0 - share)


@declared(
    "glugged_diameter",
    label="diameter of the glugged bait",
    unit=MILLIMETRES,
    equation="pi D^3 / 6 = volume + taken / density",
    source="judgement",
    note="the bait swells by what it takes; where it fills air instead, lift falls further",
)
def glugged_diameter(diameter: Any, taken: Any, density: Any) -> Any:
    """A ball larger by the liquid in it."""
    return sphere_diameter(sphere_volume(diameter) + taken / density)


@declared(
    "glugged_water",
    label="water of the glugged bait",
    unit=GRAMS,
    equation="water + glug taken",
    source="definition",
)
def glugged_water(water: Any, taken: Any) -> Any:
    """Water of a bait with the water of its glug."""
    return water + taken


@declared(
    "glugged_activity",
    label="water activity after the glug, evened out",
    equation="aw = isotherm(water / (dry matter + what of the glug mixes with water) / scale)",
    source="judgement",
    note="a humectant glug counts as bait's dry matter, though it holds more: cautious",
)
def glugged_activity(water: Any, dry_matter: Any, holds: Any, scale: Any) -> Any:
    """Water activity of the whole bait, read no further than the curve's end."""
    content = np.minimum(water / dry_matter / scale, float(holds.moistures[-1]))
    return holds.water_activity(content)


@declared(
    "glug_dry_matter",
    label="what holds the water of the glugged bait",
    unit=GRAMS,
    equation="solids + liquids + what of the glug mixes with water",
    source="definition",
)
def glug_dry_matter(solids: Any, liquids: Any, humectant: Any) -> Any:
    """Dry matter with a humectant glug; oil holds no water, and water is none."""
    return solids + liquids + humectant


@declared(
    "glug_humectant",
    label="glug that holds water",
    unit=GRAMS,
    equation="taken where its carrier mixes with water and is not water, else none",
    source="definition",
)
def glug_humectant(taken: Any, holds_water: Any) -> Any:
    """The part of a glug that binds water."""
    return taken * holds_water


@dataclass(frozen=True, slots=True)
class GlugStage:
    """The glug: what to draw, what goes in, and the bare bait's answers to set beside the new.

    ``dried`` is the tray's end with the glug in the baits; ``wish_before`` and ``keeps_before``
    are those of the bare bait, ``keeps_before`` in the fridge. ``fill`` is one syringe's, where one
    holds it all.
    """

    name: str
    carrier: str
    for_all: Quantity
    fill: Draw | None
    per_bait: Quantity
    time: Quantity
    share: Quantity
    taken: Quantity
    film: Quantity
    depth: Quantity
    lift_change: Quantity
    wish_before: Quantity
    activity_before: Quantity
    keeps_before: Quantity
    dried: DryStage
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Splash:
    """What of a glug is meant for one bait and what of it goes in, with its density."""

    per_bait: Quantity
    share: Quantity
    density: Quantity

    @property
    def taken(self) -> Quantity:
        """What one bait gains."""
        return glug_taken(per_bait=self.per_bait, share=self.share, density=self.density)


def glug(
    tray: Tray,
    recipe: Recipe,
    wanted: Glug,
    *,
    before: BalanceStage,
    bench: Bench,
    unknowns: Unknowns,
) -> GlugStage:
    """Let the dried baits of a tray, whose balance stood as ``before``, soak in a liquid."""
    bare, row = tray.dried, carrier(wanted.carrier, "glug.carrier")
    for_all = _for_all(wanted, bare, tray.rolled.baits)
    time = given("glug_time", wanted.time, label="soaking time", unit=HOURS)
    splash = Splash(
        glug_per_bait(volume=for_all, baits=tray.rolled.baits),
        glug_share(time=time, half_time=unknowns.drawn_default("glug_half_time")),
        density_of(wanted),
    )
    depth = depth_of(
        bare.bait,
        wanted.carrier,
        temperature=unknowns.stated("room_temperature", bench.room.temperature),
        time=time,
        unknowns=unknowns,
    ).labelled("how deep the glug lies")
    bait = glugged(bare.bait, wanted, splash, depth=depth)
    after = _off_the_tray(bare, bait, splash.taken, row=row)
    kept = keep(bare, recipe, bench=bench, unknowns=unknowns).place("fridge")
    lifted = lift(diameter=after.diameter, mass=after.mass, water_density=before.water_density)
    return GlugStage(
        name=wanted.name,
        carrier=row.name,
        for_all=for_all.labelled("glug to draw for all baits"),
        fill=measure_out(median_of(for_all), shelf_of(bench.syringes)),
        per_bait=splash.per_bait,
        time=time,
        share=splash.share,
        taken=splash.taken,
        film=glug_film(per_bait=splash.per_bait, share=splash.share),
        depth=depth,
        lift_change=lift_change(after=lifted, before=before.dried).labelled(
            "change of lift by the glug"
        ),
        wish_before=before.wish.labelled("did what is wanted before the glug"),
        activity_before=bare.activity.labelled("water activity before the glug, evened out"),
        keeps_before=kept.life.labelled("kept in the fridge before the glug"),
        dried=after,
        notes=(*_notes(row, bare, after), *_on_much(for_all, bare, tray.rolled.baits)),
    )


def glugged(state: BaitState, wanted: Glug, splash: Splash, *, depth: Quantity) -> BaitState:
    """The bait with what it took, and the accounts of the glug and of the bait closed."""
    taken = splash.taken
    offered = unwrap(splash.per_bait.value) * unwrap(splash.density.value)
    gained, film = unwrap(taken.value), offered * (1.0 - unwrap(splash.share.value))
    ledger = state.ledger.with_entry("glug", wanted.name, before=offered, after=gained, gone=film)
    grown = glugged_diameter(diameter=state.diameter, taken=taken, density=splash.density)
    if wanted.carrier == _WATER:
        after = replace(state, diameter=grown, water=glugged_water(water=state.water, taken=taken))
    else:
        new = Solute(wanted.name, wanted.carrier, taken.labelled(wanted.name), depth)
        after = replace(state, diameter=grown, solutes=(*state.solutes, new))
    masses = {"before": unwrap(state.mass.value), "after": unwrap(after.mass.value)}
    return replace(after, ledger=ledger.with_entry("glug", "bait", **masses, gone=-gained))


def _for_all(wanted: Glug, bare: DryStage, baits: Quantity) -> Quantity:
    if wanted.per_mass is None:
        return given("glug", wanted.volume, label="glug for all baits", unit=MILLILITRES)
    ratio = wanted.volume / wanted.per_mass
    per = given("glug_per_weight", ratio, label="glug for a weight of baits")
    return glug_by_weight(per_weight=per, mass=bare.mass, baits=baits)


def _off_the_tray(bare: DryStage, bait: BaitState, taken: Quantity, *, row: Carrier) -> DryStage:
    """The tray's end with the glug in the baits."""
    binds = given(
        "binds_water",
        float(row.mixes_with_water and row.id != _WATER),
        label="the carrier binds water",
        backing=tabled(row),
    )
    holding = glug_dry_matter(
        solids=bait.solids,
        liquids=bare.bait.solute_mass,
        humectant=glug_humectant(taken=taken, holds_water=binds),
    )
    mass = bait.mass
    return replace(
        bare,
        bait=bait,
        mass=mass,
        diameter=bait.diameter,
        density=dried_density(mass=mass, diameter=bait.diameter),
        activity=glugged_activity(
            water=bait.water, dry_matter=holding, holds=bare.holds, scale=bare.holds_scale
        ),
    )


_MUCH = 0.5e-3
"""More glug than that drowns the baits, m3 per kg of them (judgement)."""


def _on_much(for_all: Quantity, bare: DryStage, baits: Quantity) -> tuple[Note, ...]:
    share = median_of(for_all) / (median_of(bare.mass) * median_of(baits))
    if share <= _MUCH:
        return ()
    text = (
        f"This is {1e5 * share:.0f} ml of glug to 100 g of baits: they would swim in it. "
        "Most of it stays in the tub, and what goes in is beyond what its figures can tell."
    )
    return (Note("glug", text, "judgement", Weight.DOUBT),)


def _notes(row: Carrier, bare: DryStage, after: DryStage) -> tuple[Note, ...]:
    rise = median_of(after.activity) - median_of(bare.activity)
    if row.id == _WATER or rise > 0.0:
        way = "Its water makes the baits moister: they keep shorter. Freeze what is not fished."
        keeps = Note("glug", way, "judgement", Weight.DOUBT)
    elif row.mixes_with_water:
        way = f"{row.name.capitalize()} binds water, so the baits are a little drier to mould."
        keeps = Note("glug", f"{way} A wet skin still keeps shorter.", "judgement")
    else:
        way = f"{row.name.capitalize()} binds no water: keeping stays as it was."
        keeps = Note("glug", way, "judgement")
    outside = "The glug sits outside and is the first flavour to leave in the lake."
    weigh = "Weigh ten baits before and after, wiped, and try their lift anew."
    return (keeps, Note("glug", outside, "judgement"), Note("glug", weigh, "judgement"))
