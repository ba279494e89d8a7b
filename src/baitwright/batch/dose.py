"""Flavours and extracts for the eggs in the bowl: dose, tool, error, carriers, and what to note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.eggs import EggsStage
from baitwright.batch.mix import MixStage
from baitwright.batch.paste import liquid_share, paste_mass
from baitwright.materials.liquids import carrier
from baitwright.materials.tools import Draw, Syringe
from baitwright.physics.food import Composition
from baitwright.recipe.bench import Bench
from baitwright.recipe.doses import dose, dose_mass, dose_of_drops, dose_volume
from baitwright.recipe.dosing import (
    PreBlend,
    Spoonfuls,
    measure_out,
    pre_blend,
    shelf_of,
    spoon_out,
)
from baitwright.recipe.finish import Glug
from baitwright.recipe.levels import Bridge, Measure, Reference
from baitwright.recipe.liquid import Liquid
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, declared, given, tabled
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, PERCENT, PLAIN
from baitwright.uncertainty.bands import median_of


@declared(
    "liquids_mass",
    label="all liquids",
    unit=GRAMS,
    equation="the sum of the doses by weight",
    source="definition",
)
def liquids_mass(**doses: Any) -> Any:
    """All doses together by weight."""
    return sum(doses.values(), 0.0)


@declared(
    "liquids_volume",
    label="all liquids",
    unit=MILLILITRES,
    equation="the sum of the doses by volume",
    source="definition",
)
def liquids_volume(**doses: Any) -> Any:
    """All doses together by volume."""
    return sum(doses.values(), 0.0)


@declared(
    "paste_with_shares",
    label="paste",
    unit=GRAMS,
    equation="paste = (egg + dry mix + other liquids) / (1 - shares of the paste)",
    source="definition",
)
def paste_with_shares(paste: Any, shares: Any) -> Any:
    """All paste, where some liquids are set as a share of it."""
    return paste / (1.0 - shares)


@declared(
    "strength_error",
    label="strength right within, in 19 batches of 20",
    unit=PERCENT,
    equation="U = 2 sqrt((u fill / fill)^2 + (u egg / egg)^2)",
    source="gum-2008",
    note="the fill's error stands for a new syringe with water; a used one with glycol is worse",
)
def strength_error(fill: Any, fill_u: Any, egg: Any, egg_u: Any) -> Any:
    """Expanded relative uncertainty (coverage factor 2) of flavour per ml of egg."""
    return float(2.0 * ((fill_u / fill) ** 2 + (egg_u / egg) ** 2) ** 0.5)


def weighed_out(liquid: Liquid) -> bool:
    """Whether a liquid is dosed on the scale: powders, and what a syringe will not draw."""
    return liquid.powder or liquid.thick


@dataclass(frozen=True, slots=True)
class LiquidDose:
    """One liquid: its dose by volume and weight, how it is measured out, and its error.

    ``fill`` is a syringe's, ``spoons`` stand beside the weight of a thick extract, and ``blend`` is
    offered where the dose is too small to measure well.
    """

    liquid: Liquid
    volume: Quantity
    mass: Quantity
    share: Quantity
    fill: Draw | None
    error: Quantity | None
    blend: PreBlend | None
    spoons: Spoonfuls | None

    @property
    def by_weight(self) -> bool:
        """Whether it goes on the scale and not into a syringe."""
        return weighed_out(self.liquid)

    @property
    def as_food(self) -> Composition:
        """The liquid as a constituent of the paste, for how it takes up heat."""
        row = carrier(self.liquid.carrier)
        if row.id == "water":
            return Composition(1.0, 0.0, 0.0, 0.0)
        if row.mixes_with_water:
            return Composition(0.0, 0.0, 0.0, 1.0)
        return Composition(0.0, 0.0, 1.0, 0.0)


@dataclass(frozen=True, slots=True)
class CarrierShare:
    """All liquids of one carrier as a share of the paste, and what the carrier does."""

    carrier: str
    share: Quantity
    in_paste: str
    in_lake: str


@dataclass(frozen=True, slots=True)
class DoseStage:
    """All doses, their sums, the carriers, and the bridge between their bases."""

    doses: tuple[LiquidDose, ...]
    mass: Quantity
    volume: Quantity
    carriers: tuple[CarrierShare, ...]
    share: Quantity
    bridge: Bridge


@dataclass(frozen=True, slots=True)
class _Amount:
    liquid: Liquid
    volume: Quantity
    mass: Quantity


def dose_liquids(
    liquids: Sequence[Liquid], eggs: EggsStage, mix: MixStage, *, bench: Bench
) -> DoseStage:
    """Every liquid's dose for the ml of egg in the bowl.

    Raises
    ------
    InputError: drops of a bottle that is not calibrated, or a syringe that is not in the table.
    """
    amounts = _amounts(liquids, eggs, mix)
    mass = liquids_mass(**{f"liquid_{i}": amount.mass for i, amount in enumerate(amounts)})
    volume = liquids_volume(**{f"liquid_{i}": amount.volume for i, amount in enumerate(amounts)})
    paste = paste_mass(egg=eggs.mass, dry_mix=mix.dry_mix, liquids=mass)
    shelf = shelf_of(bench.syringes)
    country = bench.country or ""
    doses = tuple(_dose(amount, eggs, paste, shelf=shelf, country=country) for amount in amounts)
    bridge = Bridge(
        egg_volume=median_of(eggs.per_egg),
        egg_mass=median_of(eggs.mass) / median_of(eggs.count),
        dry_mix=median_of(mix.per_egg),
        other_liquids=median_of(mass) / median_of(eggs.count),
    )
    share = liquid_share(liquid=mass, paste=paste).labelled("all liquids, of the paste")
    return DoseStage(
        doses=doses,
        mass=mass,
        volume=volume,
        carriers=_carriers(doses, paste),
        share=share,
        bridge=bridge,
    )


def _amounts(liquids: Sequence[Liquid], eggs: EggsStage, mix: MixStage) -> list[_Amount]:
    """Doses in the recipe's order; those set against the paste are worked out last."""
    bowl = {
        Reference.EGG_VOLUME: eggs.volume,
        Reference.EGG_MASS: eggs.mass,
        Reference.DRY_MIX: mix.dry_mix,
    }
    on_paste = [liquid for liquid in liquids if liquid.level.reference is Reference.PASTE]
    amounts = {
        id(liquid): _amount(liquid, bowl[liquid.level.reference])
        for liquid in liquids
        if liquid.level.reference is not Reference.PASTE
    }
    if on_paste:
        others = {f"liquid_{i}": amount.mass for i, amount in enumerate(amounts.values())}
        without = paste_mass(egg=eggs.mass, dry_mix=mix.dry_mix, liquids=liquids_mass(**others))
        shares = sum(_share_of_paste(liquid) for liquid in on_paste)
        if shares >= 0.5:
            raise InputError("liquid.level", f"{100 * shares:g} %", "less than half of the paste")
        paste = paste_with_shares(
            paste=without, shares=given("shares", shares, label="liquids set against the paste")
        )
        amounts |= {id(liquid): _amount(liquid, paste) for liquid in on_paste}
    return [amounts[id(liquid)] for liquid in liquids]


def density_of(liquid: Liquid | Glug) -> Quantity:
    """A liquid's density as weighed, or its carrier's."""
    row = carrier(liquid.carrier)
    if liquid.density is not None:
        label = f"density of {liquid.name}"
        return given("liquid_density", liquid.density, label=label, unit=GRAMS_PER_MILLILITRE)
    return given(
        "liquid_density",
        row.density,
        label=f"density of {row.name}",
        unit=GRAMS_PER_MILLILITRE,
        backing=tabled(row),
    )


def _share_of_paste(liquid: Liquid) -> float:
    level = liquid.level
    if level.measure is Measure.DROPS:
        return level.amount / _drops(liquid) * float(density_of(liquid).value) / level.per
    amount = level.amount
    if level.measure is Measure.VOLUME:
        amount *= float(density_of(liquid).value)
    return amount / level.per


def _drops(liquid: Liquid) -> float:
    if liquid.drops_per_volume is None:
        raise InputError(
            "liquid.level",
            liquid.level.text,
            "ml or g, or drops with 'drops_per_ml' counted from this bottle",
            hint="A drop is not a unit until its bottle is calibrated: count drops into 1 ml.",
        )
    return liquid.drops_per_volume


_AMOUNT = {Measure.VOLUME: MILLILITRES, Measure.MASS: GRAMS, Measure.DROPS: PLAIN}
_PER = {
    Reference.EGG_VOLUME: MILLILITRES,
    Reference.EGG_MASS: GRAMS,
    Reference.DRY_MIX: GRAMS,
    Reference.PASTE: GRAMS,
}


def _amount(liquid: Liquid, in_bowl: Quantity) -> _Amount:
    level = liquid.level
    wanted = dose(
        amount=given(
            "level", level.amount, label=f"level: {level.text}", unit=_AMOUNT[level.measure]
        ),
        in_bowl=in_bowl,
        meant_for=given("meant_for", level.per, label="meant for", unit=_PER[level.reference]),
    )
    wanted = replace(wanted, unit=_AMOUNT[level.measure].si, shown=_AMOUNT[level.measure].shown)
    density = density_of(liquid)
    if level.measure is Measure.MASS:
        mass = wanted
        volume = dose_volume(dose=mass, density=density)
        mass = dose_mass(dose=volume, density=density)
    else:
        volume = wanted
        if level.measure is Measure.DROPS:
            drops = given("drops_per_volume", _drops(liquid), label="drops of this bottle per m3")
            volume = dose_of_drops(dose=wanted, drops_per_volume=drops)
        mass = dose_mass(dose=volume, density=density)
        volume = dose_volume(dose=mass, density=density)
    return _Amount(liquid, volume.labelled(liquid.name), mass.labelled(liquid.name))


def _dose(
    amount: _Amount,
    eggs: EggsStage,
    paste: Quantity,
    *,
    shelf: list[Syringe] | None,
    country: str,
) -> LiquidDose:
    liquid = amount.liquid
    wanted = median_of(amount.volume)
    by_weight = weighed_out(liquid)
    fill = None if by_weight else measure_out(wanted, shelf)
    return LiquidDose(
        liquid=liquid,
        volume=amount.volume,
        mass=amount.mass,
        share=liquid_share(liquid=amount.mass, paste=paste).labelled(
            f"{liquid.name}, of the paste"
        ),
        fill=fill,
        error=None if fill is None else _error(fill, eggs.volume),
        blend=None if by_weight else pre_blend(wanted, fill, shelf),
        spoons=spoon_out(wanted, country) if liquid.thick else None,
    )


def _error(fill: Draw, egg: Quantity) -> Quantity:
    return strength_error(
        fill=given(
            "fill",
            fill.volume,
            label=f"fill of the {fill.tool.name}",
            unit=MILLILITRES,
            backing=tabled(fill.tool),
        ),
        fill_u=given(
            "fill_u", fill.u, label="its error", unit=MILLILITRES, backing=tabled(fill.tool)
        ),
        egg=egg_middle(volume=egg),
        egg_u=egg_doubt(volume=egg),
    )


@declared(
    "egg_middle",
    label="egg in the bowl, middle",
    unit=MILLILITRES,
    equation="median of the draws",
    source="definition",
)
def egg_middle(volume: Any) -> float:
    """The middle of the egg's volume."""
    return float(np.median(volume))


@declared(
    "egg_doubt",
    label="doubt in the ml of egg",
    unit=MILLILITRES,
    equation="half the width of the middle 68 % of the draws",
    source="gum-2008",
)
def egg_doubt(volume: Any) -> float:
    """Standard uncertainty of the egg's volume, robust against heavy tails."""
    low, high = np.quantile(volume, (0.16, 0.84))
    return float(0.5 * (high - low))


def _carriers(doses: Sequence[LiquidDose], paste: Quantity) -> tuple[CarrierShare, ...]:
    shares = []
    for name in dict.fromkeys(one.liquid.carrier for one in doses):
        of_this = [one.mass for one in doses if one.liquid.carrier == name]
        total = liquids_mass(**{f"liquid_{i}": mass for i, mass in enumerate(of_this)})
        row = carrier(name)
        share = liquid_share(liquid=total, paste=paste).labelled(f"{row.name}, of the paste")
        shares.append(CarrierShare(row.name, share, row.in_paste, row.in_lake))
    return tuple(shares)
