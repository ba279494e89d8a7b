"""What of this batch calls for care: triggers from recipe and bench, cautions from the table."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.batch.counterweight import LEAD_TRIGGER, holds_lead
from baitwright.batch.mix import MixStage
from baitwright.materials.cautions import ANYWHERE, Caution, raised
from baitwright.materials.fillers import filler
from baitwright.materials.liquids import carrier
from baitwright.materials.powders import Allergen, Ingredient, allergens_in, ingredient
from baitwright.recipe.bench import Bench
from baitwright.recipe.eggs import EggKind
from baitwright.recipe.liquid import Purpose
from baitwright.recipe.model import Recipe

BINDER = "whole-egg-liquid"
"""Every binding liquid here is egg or holds egg albumen, so egg is among the allergens."""


@dataclass(frozen=True, slots=True)
class CautionStage:
    """The cautions of a batch and its allergens; ``known`` is false where the mix is not."""

    cautions: tuple[Caution, ...]
    contains: tuple[Allergen, ...]
    may_contain: tuple[Allergen, ...]
    known: bool


def take_care(recipe: Recipe, bench: Bench, mix: MixStage) -> CautionStage:
    """Every caution this batch raises, and its allergens."""
    powders = list(mix.base.ingredients)
    if recipe.hardener is not None:
        powders.append(ingredient(recipe.hardener.ingredient))
    if recipe.coat is not None:
        powders.append(ingredient(recipe.coat.ingredient))
    powders.append(ingredient(BINDER))
    contains, may_contain = allergens_in(powders)
    triggers = _triggers(recipe, bench, powders, has_allergens=bool(contains))
    return CautionStage(
        cautions=raised(triggers, bench.country or ANYWHERE),
        contains=contains,
        may_contain=may_contain,
        known=bool(mix.base.ingredients),
    )


_RAW = (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)


def _triggers(
    recipe: Recipe, bench: Bench, powders: list[Ingredient], *, has_allergens: bool
) -> set[str]:
    raised_by = {
        "raw-egg": any(eggs.kind in _RAW for eggs in bench.eggs),
        "allergens": has_allergens or not powders,
        "sensitiser": any(row.dust_sensitiser for row in powders),
        "pets": any(row.pet_hazard for row in powders),
        "nuts": any(group in row.contains for row in powders for group in ("nuts", "peanuts")),
        "glass-dust": any(filler(one.material).airborne_glass for one in recipe.bait.fillers),
        "coat": recipe.coat is not None,
        "glug": recipe.glug is not None,
        LEAD_TRIGGER: bench.rig is not None and holds_lead(bench.rig.stock),
    }
    found = {"dust", "hot-water", "small-parts", "moist-bait", "leftovers"}
    found |= {trigger for trigger, holds in raised_by.items() if holds}
    found |= {one.purpose.value for one in recipe.liquids if one.purpose is not Purpose.FLAVOUR}
    glugs = () if recipe.glug is None else (recipe.glug,)
    for liquid in (*recipe.liquids, *glugs):
        row = carrier(liquid.carrier)
        if row.flammable:
            found.add("flash-point-below-60C")
        if row.id == "essential-oil":
            found.add("neat-essential-oil")
        if "acid" in liquid.strength:
            found.add("acid")
    return found
