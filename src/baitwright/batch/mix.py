"""The dry mix: preparing a tub, what the eggs take from it, and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.eggs import EggsStage
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.powders import ingredient
from baitwright.recipe.base_mix import (
    UPTAKE_LOG_SD,
    BaseAnalysis,
    Known,
    Powder,
    analyse,
    hardener_on_top,
    known_by,
    with_hardener,
)
from baitwright.recipe.bench import Tub
from baitwright.recipe.model import BaseMix, Recipe
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, PERCENT
from baitwright.uncertainty.spreads import LogNormal

_TUB_STEP = 0.05
"""Tubs are prepared in steps of 50 g."""


@declared(
    "dry_mix",
    label="dry mix the eggs take up",
    unit=GRAMS,
    equation="mass = uptake x egg volume x (water here / water in whole egg) x doubt x factor",
    source="judgement",
    note="the last part goes in by feel; the tub weighed before and after is the measurement",
)
def dry_mix(uptake: Any, egg_volume: Any, water_ratio: Any, doubt: Any, factor: Any) -> Any:
    """Dry mix a rollable paste holds, from the water the binding liquid brings."""
    return uptake * egg_volume * water_ratio * doubt * factor


@declared(
    "dry_mix_per_egg",
    label="dry mix per egg",
    unit=GRAMS,
    equation="dry mix / eggs",
    source="definition",
)
def dry_mix_per_egg(dry_mix: Any, eggs: Any) -> Any:
    """The bridge between levels per egg and levels per kilogram."""
    return dry_mix / eggs


@declared(
    "hardener_of_finished",
    label="hardener, of the finished mix",
    unit=PERCENT,
    equation="share = on top / (1 + on top)",
    source="definition",
)
def hardener_of_finished(on_top: Any) -> Any:
    """The share of the finished mix that is hardener."""
    return on_top / (1.0 + on_top)


@declared(
    "sieved_base",
    label="base through the sieve",
    unit=GRAMS,
    equation="sieved = tub / (1 + hardener on top)",
    source="definition",
)
def sieved_base(tub: Any, on_top: Any) -> Any:
    """Sieved base for a tub of a wanted weight; hardener goes on top of this weight."""
    return tub / (1.0 + on_top)


@declared(
    "coarse_fraction",
    label="coarse fraction of the base",
    unit=PERCENT,
    equation="odds of the coarse share x factor, as a share",
    source="judgement",
    note="weigh the base before and after the sieve to know yours",
)
def coarse_fraction(by_class: Any, factor: Any) -> Any:
    """What the sieve keeps back; the factor acts on the odds, so the share stays below 1."""
    odds = by_class / (1.0 - by_class) * factor
    return odds / (1.0 + odds)


@declared(
    "mix_density",
    label="dry mix without its air",
    unit=GRAMS_PER_MILLILITRE,
    equation="density by composition x doubt",
    source="choi-okos-1986",
)
def mix_density(by_composition: Any, doubt: Any) -> Any:
    """True density of the prepared mix."""
    return by_composition * doubt


@declared(
    "raw_base",
    label="raw base to sieve",
    unit=GRAMS,
    equation="raw = sieved / (1 - coarse fraction)",
    source="definition",
)
def raw_base(sieved: Any, coarse_fraction: Any) -> Any:
    """Raw base that leaves a wanted weight after the sieve."""
    return sieved / (1.0 - coarse_fraction)


@declared(
    "coarse_part",
    label="coarse part left on the sieve",
    unit=GRAMS,
    equation="coarse = raw - sieved",
    source="definition",
    note="keep it for the free bait",
)
def coarse_part(raw: Any, sieved: Any) -> Any:
    """What stays on the sieve."""
    return raw - sieved


@declared(
    "hardener_mass",
    label="hardener to add",
    unit=GRAMS,
    equation="hardener = sieved base x share on top",
    source="definition",
)
def hardener_mass(sieved: Any, on_top: Any) -> Any:
    """Hardener for a weighed amount of sieved base."""
    return sieved * on_top


@declared(
    "tub_used",
    label="tub before less tub after",
    unit=GRAMS,
    equation="used = dry mix in the bowl + dusting mix",
    source="definition",
)
def tub_used(dry_mix: Any, dusting: Any) -> Any:
    """What the tub will have lost."""
    return dry_mix + dusting


@declared(
    "tub_left",
    label="left in the tub",
    unit=GRAMS,
    equation="left = tub - used",
    source="definition",
)
def tub_left(tub: Any, used: Any) -> Any:
    """What the tub still holds afterwards; below nothing when it runs out."""
    return tub - used


@declared(
    "tub_serves",
    label="eggs the tub serves",
    equation="eggs = tub / dry mix per egg",
    source="definition",
)
def tub_serves(tub: Any, per_egg: Any) -> Any:
    """How many such eggs the tub will serve."""
    return tub / per_egg


@declared(
    "planned_tub",
    label="tub of prepared mix",
    unit=GRAMS,
    equation="tub = the dry mix wanted in 9 cases of 10, and a tenth for dusting, in whole 50 g",
    source="judgement",
)
def planned_tub(dry_mix: Any) -> float:
    """A tub that will hold the batch."""
    enough = 1.1 * float(np.quantile(dry_mix, 0.9))
    return float(_TUB_STEP * np.ceil(enough / _TUB_STEP))


@dataclass(frozen=True, slots=True)
class TubPreparation:
    """Making a tub: raw base, sieve, coarse part, hardener."""

    tub: Quantity
    sieved: Quantity
    raw: Quantity
    coarse: Quantity
    hardener: Quantity
    on_top: Quantity
    of_finished: Quantity
    coarse_share: Quantity


@dataclass(frozen=True, slots=True)
class MixStage:
    """What the eggs take, what one egg takes, and the tub it comes from."""

    name: str
    dry_mix: Quantity
    per_egg: Quantity
    base: BaseAnalysis
    prepared: Powder
    density: Quantity
    preparation: TubPreparation
    tub: Quantity
    tub_is_planned: bool
    serves: Quantity


def plan_mix(recipe: Recipe, eggs: EggsStage, *, tub: Tub, unknowns: Unknowns) -> MixStage:
    """Dry mix for the eggs in the bowl, and the tub that holds it.

    Without a tub on the table one is planned that will hold the batch.
    """
    base = analyse(recipe.base, sieve=recipe.sieve)
    taken = taken_up(recipe.base, eggs, unknowns=unknowns)
    per_egg = dry_mix_per_egg(dry_mix=taken, eggs=eggs.count)
    tub_mass, is_planned = _tub_mass(tub, taken)
    prepared = _prepared(base, recipe)
    return MixStage(
        name=recipe.base.name,
        dry_mix=taken,
        per_egg=per_egg,
        base=base,
        prepared=prepared,
        density=_mix_density(prepared, base, unknowns),
        preparation=prepare_tub(recipe, base, tub=tub_mass, unknowns=unknowns),
        tub=tub_mass,
        tub_is_planned=is_planned,
        serves=tub_serves(tub=tub_mass, per_egg=per_egg),
    )


def taken_up(base: BaseMix, eggs: EggsStage, *, unknowns: Unknowns) -> Quantity:
    """Dry mix that the eggs in the bowl take up of a base."""
    known = known_by(base)
    return dry_mix(
        uptake=unknowns.base("dry_mix_per_egg"),
        egg_volume=eggs.volume,
        water_ratio=eggs.water_ratio,
        doubt=_doubt("uptake", known, UPTAKE_LOG_SD[known], unknowns=unknowns),
        factor=unknowns.factor("dry_mix_per_egg", base.name),
    )


def prepare_tub(
    recipe: Recipe, base: BaseAnalysis, *, tub: Quantity, unknowns: Unknowns
) -> TubPreparation:
    """What to weigh, sieve and stir for a tub of a wanted weight."""
    share = hardener_on_top(recipe.hardener)
    on_top = given("hardener_on_top", share, label="hardener, on top of the base", unit=PERCENT)
    sieved = sieved_base(tub=tub, on_top=on_top)
    back = coarse_fraction(
        by_class=assumed_share(base.coarse_share),
        factor=unknowns.factor("coarse_fraction", recipe.base.name),
    )
    raw = raw_base(sieved=sieved, coarse_fraction=back)
    return TubPreparation(
        tub=tub,
        sieved=sieved,
        raw=raw,
        coarse=coarse_part(raw=raw, sieved=sieved),
        hardener=hardener_mass(sieved=sieved, on_top=on_top),
        on_top=on_top,
        of_finished=hardener_of_finished(on_top=on_top),
        coarse_share=back,
    )


def assumed_share(share: float) -> Quantity:
    """What a sieve keeps back by the classes of the ingredients."""
    return given(
        "retained_by_class",
        share,
        label="coarse share by the kinds of ingredient",
        unit=PERCENT,
        backing=Backing(Origin.TABLE, "judgement", Evidence.JUDGEMENT),
    )


def _prepared(base: BaseAnalysis, recipe: Recipe) -> Powder:
    if recipe.hardener is None:
        return base.fine
    row = ingredient(recipe.hardener.ingredient)
    return with_hardener(base.fine, hardener_on_top(recipe.hardener), row)


def _mix_density(prepared: Powder, base: BaseAnalysis, unknowns: Unknowns) -> Quantity:
    solid = given(
        "mix_density_by_composition",
        prepared.density,
        label="the mix without air, by composition",
        unit=GRAMS_PER_MILLILITRE,
        backing=Backing(Origin.TABLE, "choi-okos-1986", Evidence.COMPUTED),
    )
    doubt = _doubt("density", base.known, base.density_log_sd, unknowns=unknowns)
    return mix_density(by_composition=solid, doubt=doubt)


def _doubt(of: str, known: Known, log_sd: float, *, unknowns: Unknowns) -> Quantity:
    """How far a mix may be from its kind, by how much of it is known."""
    return given(
        f"mix_{of}_doubt",
        unknowns.draws.per_batch(f"mix_{of}", LogNormal(1.0, log_sd)),
        label=f"{of}: the mix is known by {known}",
        backing=Backing(Origin.DEFAULT, "judgement", Evidence.JUDGEMENT),
    )


def _tub_mass(tub: Tub, taken: Quantity) -> tuple[Quantity, bool]:
    """The tub on the table, the one wanted, or one that will hold this batch."""
    stated = tub.mass if tub.mass is not None else tub.wanted
    if stated is None:
        return planned_tub(dry_mix=taken), True
    quantity = given("tub", stated, label="tub of prepared mix", unit=GRAMS)
    return quantity, tub.mass is None
