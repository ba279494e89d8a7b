"""How much water the bait's dry matter holds, from what it is made of."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from baitwright.batch.dose import DoseStage
from baitwright.batch.eggs import EggsStage
from baitwright.batch.mix import MixStage
from baitwright.materials.isotherms import (
    BOUGHT,
    Isotherm,
    isotherm_of,
    isotherm_of_carrier,
    isotherms,
)
from baitwright.materials.powders import ingredient
from baitwright.materials.sieves import retained_share
from baitwright.physics.food import Composition
from baitwright.physics.sorption import (
    GLYCEROL,
    PROPYLENE_GLYCOL,
    SALT,
    SOLUTION_FROM,
    SUCROSE,
    Gab,
    chung_pfost,
    gab,
    henderson,
)
from baitwright.physics.sorption_blend import POWDERS_TO, Blend, Powder, blend
from baitwright.recipe.base_mix import hardener_on_top
from baitwright.recipe.model import Recipe
from baitwright.terms.quantity import Quantity, declared, given, tabled
from baitwright.terms.units import PERCENT
from baitwright.uncertainty.bands import median_of

_ROOM = 293.15
"""Isotherms stand for 20 C, K; those of foods move little between a cold room and a warm one."""
_SOLUTES = {
    "sucrose": SUCROSE,
    "salt": SALT,
    "glycerol": GLYCEROL,
    "propylene-glycol": PROPYLENE_GLYCOL,
}
_EGG = "egg"


@declared(
    "bait_isotherm",
    label="water the bait holds, by water activity",
    equation="X = sum of (lean share x isotherm) to aw 0.8, b + c aw / (1 - aw) above; + solutions",
    source="foster-2005",
    note="at 20 C; above 0.8 the powders' water counts as a solution, joined without a kink",
)
def bait_isotherm(**shares: Any) -> Blend:
    """The isotherm of the bait's dry matter from each class's share of it."""
    rows = {name: isotherms()[name] for name in shares}
    powders = [
        Powder(shares[name], _law(row), row.low)
        for name, row in rows.items()
        if row.model not in {"solute", "none"}
    ]
    solutes = [
        (shares[name], _SOLUTES[name]) for name, row in rows.items() if row.model == "solute"
    ]
    # The judged isotherm was made for a moist bait: it needs the solution only near its end.
    return blend(powders, solutes, joint=SOLUTION_FROM if BOUGHT in rows else POWDERS_TO)


def sorption(recipe: Recipe, eggs: EggsStage, mix: MixStage, *, doses: DoseStage) -> Quantity:
    """The isotherm of a bait of this bowl, counted on all that stays when its water has gone."""
    egg = _Dry(median_of(eggs.mass), eggs.make_up)
    powder = _Dry(median_of(mix.dry_mix), mix.prepared.make_up)
    held: dict[str, float] = defaultdict(float)
    for dose in doses.doses:
        held[isotherm_of_carrier(dose.liquid.carrier).id] += median_of(dose.mass)
    if not recipe.base.parts:
        held[BOUGHT] += powder.counted(isotherms()[BOUGHT]) + egg.counted(isotherms()[BOUGHT])
    else:
        held[_EGG] += egg.counted(isotherms()[_EGG])
        for row, share in _powders(recipe):
            kind = isotherm_of(row)
            part = _Dry(share * powder.mass, Composition(**row.composition).normalised())
            held[kind.id] += part.counted(kind)
    everything = powder.matter + egg.matter + median_of(doses.mass)
    return bait_isotherm(
        **{
            row.id: given(
                f"held_by_{row.id}",
                held[row.id] / everything,
                label=f"of the dry matter: {row.label}",
                unit=PERCENT,
                backing=tabled(row),
            )
            for row in isotherms().values()
            if held[row.id] > 0.0
        }
    )


@dataclass(frozen=True, slots=True)
class _Dry:
    """A part of the bowl [kg] and what it is made of."""

    mass: float
    make_up: Composition

    @property
    def matter(self) -> float:
        """Its dry matter [kg]."""
        return self.mass * (1.0 - float(self.make_up.water))

    def counted(self, row: Isotherm) -> float:
        """Its dry matter as the class's isotherm counts it, mostly without its fat [kg]."""
        fat = 0.0 if row.fat is None else float(self.make_up.fat)
        return self.matter - self.mass * fat


def _powders(recipe: Recipe) -> list[tuple[Any, float]]:
    """Ingredients of the prepared mix with their shares of it, sieved and with hardener."""
    rows = [(ingredient(part.ingredient), part.share) for part in recipe.base.parts]
    kept = [(row, share * (1.0 - retained_share(row, recipe.sieve))) for row, share in rows]
    fine = math.fsum(share for _, share in kept)
    on_top = hardener_on_top(recipe.hardener)
    mixed = [(row, share / fine / (1.0 + on_top)) for row, share in kept]
    if recipe.hardener is not None:
        mixed.append((ingredient(recipe.hardener.ingredient), on_top / (1.0 + on_top)))
    return mixed


def _law(row: Isotherm) -> Any:
    """The class's isotherm as a function of activity, over its dry matter without fat, kg/kg."""
    first, second, third = row.first, row.second, row.third
    lean = 1.0 - (row.fat or 0.0)
    if row.model == "gab":
        constants = Gab(first, second, third)
        return lambda activity: gab(activity, constants) / lean
    if row.model == "chung-pfost":
        return lambda activity: chung_pfost(activity, _ROOM, a=first, b=second, c=third) / lean
    return lambda activity: henderson(activity, _ROOM, k=first, n=second, c=third) / lean


def moisture_at(holds: Blend, scale: Any, activity: float) -> Any:
    """Water over dry matter at a water activity, kg/kg, bait by bait."""
    return scale * float(holds.moisture(activity))
