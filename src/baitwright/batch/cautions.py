"""What of this batch calls for care: triggers from recipe and bench, cautions from the table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.batch.counterweight import LEAD_TRIGGER, holds_lead
from baitwright.batch.mix import MixStage
from baitwright.materials.care import Sheet, triggers_of_liquid, triggers_of_powder
from baitwright.materials.cautions import Caution, raised
from baitwright.materials.countries import country_words
from baitwright.materials.fillers import filler
from baitwright.materials.liquids import carrier
from baitwright.materials.powders import Allergen, Ingredient, allergens_in, ingredient
from baitwright.recipe.bench import Bench
from baitwright.recipe.dosing import Judged, above_limit
from baitwright.recipe.eggs import EggKind
from baitwright.recipe.levels import Bridge
from baitwright.recipe.liquid import Purpose
from baitwright.recipe.model import Recipe

BINDER = "whole-egg-liquid"
"""Every binding liquid here is egg or holds egg albumen, so egg is among the allergens."""


@dataclass(frozen=True, slots=True)
class CautionStage:
    """The cautions of a batch and its allergens; ``known`` is false where the mix is not.

    ``country`` says in words that the rules of every country are among them, where they are;
    ``bottles`` are the liquids with the triggers that each raised.
    """

    cautions: tuple[Caution, ...]
    contains: tuple[Allergen, ...]
    may_contain: tuple[Allergen, ...]
    known: bool
    country: str
    bottles: tuple[tuple[str, frozenset[str]], ...] = ()

    def raised_by(self, caution: Caution) -> tuple[str, ...]:
        """The liquids that raised a caution; none where something else did."""
        return tuple(name for name, found in self.bottles if caution.trigger in found)


def take_care(
    recipe: Recipe, bench: Bench, mix: MixStage, *, bridge: Bridge | None = None
) -> CautionStage:
    """Every caution this batch raises, and its allergens.

    Levels are held against their limits through ``bridge``.
    """
    powders = list(mix.base.ingredients)
    if recipe.hardener is not None:
        powders.append(ingredient(recipe.hardener.ingredient))
    if recipe.coat is not None:
        powders.append(ingredient(recipe.coat.ingredient))
    powders.append(ingredient(BINDER))
    contains, may_contain = allergens_in(powders)
    triggers = _triggers(recipe, bench, powders, has_allergens=bool(contains))
    triggers |= _over_limit(recipe, bridge)
    bottles = tuple(_bottles(recipe))
    triggers = triggers.union(*(found for _, found in bottles))
    return CautionStage(
        cautions=raised(triggers, bench.country or ""),
        contains=contains,
        may_contain=may_contain,
        known=bool(mix.base.ingredients),
        country=country_words(bench.country),
        bottles=bottles,
    )


MAKING = ("dust", "hot-water", "small-parts", "moist-bait", "leftovers")
"""What making baits brings with it, whatever is in them."""
_ESSENTIAL_OIL = "essential oil"
_RAW = (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)


def _triggers(
    recipe: Recipe, bench: Bench, powders: list[Ingredient], *, has_allergens: bool
) -> set[str]:
    raised_by = {
        "raw-egg": any(eggs.kind in _RAW for eggs in bench.eggs),
        "allergens": has_allergens or not powders,
        "glass-dust": any(filler(one.material).airborne_glass for one in recipe.bait.fillers),
        "frozen": bool(bench.frozen),
        "coat": recipe.coat is not None,
        "glug": recipe.glug is not None,
        LEAD_TRIGGER: bench.rig is not None and holds_lead(bench.rig.stock),
    }
    found = set(MAKING)
    found |= {trigger for trigger, holds in raised_by.items() if holds}
    found = found.union(*map(triggers_of_powder, powders))
    found |= {one.purpose.value for one in recipe.liquids if one.purpose is not Purpose.FLAVOUR}
    return found


def _bottles(recipe: Recipe) -> Iterator[tuple[str, frozenset[str]]]:
    """Each liquid and glug by name, with what its sheet, carrier and name raise."""
    glugs = () if recipe.glug is None else (recipe.glug,)
    for one in (*recipe.liquids, *glugs):
        sheet, row = Sheet(one.hazards, one.flash_point), carrier(one.carrier)
        found = triggers_of_liquid(one.name, row, sheet, strength=one.strength)
        yield one.name, frozenset(found)


def _over_limit(recipe: Recipe, bridge: Bridge | None) -> set[str]:
    oils = (one for one in recipe.liquids if one.strength == _ESSENTIAL_OIL)
    judged = (Judged(one.name, one.level, one.strength, one.drops_per_volume) for one in oils)
    if bridge is None or not any(above_limit(one, use="hookbait", bridge=bridge) for one in judged):
        return set()
    return {"essential-oil-over-limit"}
