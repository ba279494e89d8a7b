"""What is asked of a recipe's mix, as tables: its free bait, and its version for cold water."""

from __future__ import annotations

from typing import Annotated

from baitwright.recipe.model import Hardness
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text

_RECIPE = text(about="Of the notebook.", example="Copper wafter")
_EGGS = text(about="One of 50 ml unless told.", example="3 x EU L")
_NIGHT = text(about="In the lake; a winter night unless told.", example="14")
_LAKES = text(about="Winter and summer unless told.", example="5 C, 18 C")


class MatchQuestion(Table):
    """A question about the free bait that goes with a hookbait."""

    recipe: Annotated[str, _RECIPE]
    kilos: Annotated[
        str, text(about="Dry mix to make; as in the recipe unless told.", example="5 kg")
    ] = ""
    level: Annotated[
        str, text(about="Of the hookbait's; as in the recipe, or half.", example="50 %")
    ] = ""
    diameter: Annotated[
        str, text(about="As in the recipe, or the hookbait's.", example="18 mm")
    ] = ""
    boil: Annotated[str, one_of(tuple(Hardness), about="How hard it is wanted.")] = "normal"
    coarse: Annotated[
        str, text(about="What your sieve left; by the grains unless told.", example="150 g")
    ] = ""
    eggs: Annotated[str, _EGGS] = ""
    mixer: Annotated[str, text(about="Paste that it kneads at once.", example="1.5 kg")] = ""
    hours: Annotated[str, _NIGHT] = "14"
    at: Annotated[str, _LAKES] = ""


class WinterQuestion(Table):
    """A question about the version of a recipe for cold water."""

    recipe: Annotated[str, _RECIPE]
    keep: Annotated[
        str, text(about="Of oil, soluble, carrier, level and size.", example="size, level")
    ] = ""
    soluble: Annotated[
        str, text(about="Its own, or skimmed milk powder unless told.", example="whey-powder")
    ] = ""
    eggs: Annotated[str, _EGGS] = ""
    hours: Annotated[str, _NIGHT] = "14"
    at: Annotated[
        str, text(about="Cold and warm water, to hold them against.", example="5 C, 18 C")
    ] = ""
