"""What a recipe file holds, with its base mix and hardener."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from baitwright.materials import powders, sieves
from baitwright.quantities import Kind
from baitwright.recipe.model import HardenerBasis
from baitwright.workshop.recipe_files.bait_tables import BaitTable, FreeBaitTable
from baitwright.workshop.recipe_files.finish_tables import CoatTable, GlugTable
from baitwright.workshop.recipe_files.liquid_table import RecipeLiquidTable
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table


def _share(low: str, high: str, *, example: str, about: str) -> fields.Reads:
    return fields.measured(Kind.SHARE, low, high, example=example, about=about)


def _declared(about: str) -> Any:
    return _share("0 %", "100 %", example="25 %", about=f"{about}, as the bag declares it.")


class AnalysisTable(Table):
    """A bought mix as its bag declares it; any of the five may be left out."""

    water: Annotated[float | None, _declared("Water")] = None
    protein: Annotated[float | None, _declared("Protein")] = None
    fat: Annotated[float | None, _declared("Fat or oil")] = None
    fibre: Annotated[float | None, _declared("Fibre")] = None
    ash: Annotated[float | None, _declared("Ash")] = None


PartShare = Annotated[
    float, _share("0.01 %", "100 %", example="45 %", about="Share of the base by weight.")
]


class BaseTable(Table):
    """The base mix: by its parts, by a declared analysis, or by its name alone."""

    name: Annotated[str, words.text(example="Copper", about="The mix, as records will know it.")]
    sieve: Annotated[
        str | None,
        words.shelved(
            lambda name: sieves.sieve(name).id,
            example="kitchen",
            about="Leave it out for a mix not sieved.",
        ),
    ] = None
    milk_protein: Annotated[bool, words.yes_or_no(about="Whether it is rich in milk proteins.")] = (
        False
    )
    parts: dict[str, PartShare] = Field(
        default_factory=dict,
        description='Ingredients with their shares, such as semolina = "45 %"; 100 % together.',
        examples=[{"semolina": "60 %", "soya-flour-roasted": "40 %"}],
    )
    analysis: AnalysisTable | None = Field(None, description="Instead of parts.")


class HardenerTable(Table):
    """The stiffener, and what its share is counted on."""

    share: Annotated[
        float, _share("0.1 %", "40 %", example="10 %", about="How much hardener there is.")
    ]
    basis: Annotated[
        HardenerBasis,
        words.word(HardenerBasis, about="What the share is counted on: never guessed."),
    ]
    ingredient: Annotated[
        str,
        words.shelved(
            lambda name: powders.ingredient(name).id,
            example="egg albumen powder",
            about="What hardens the mix.",
        ),
    ] = "egg-albumen"


class RecipeFile(Table):
    """What a bait is: one recipe to a file."""

    name: Annotated[
        str, words.text(example="Copper wafter", about="The recipe, as sheets print it.")
    ]
    invented: Annotated[bool, words.yes_or_no(about="Marks a demonstration.")] = False
    bait: BaitTable = Field(description="The hookbait wanted.")
    base: BaseTable = Field(description="The base mix.")
    hardener: HardenerTable | None = Field(None, description="Leave it out for none.")
    liquid: tuple[RecipeLiquidTable, ...] = Field((), description="Flavours, extracts, powders.")
    free_bait: FreeBaitTable | None = Field(None, description="Leave it out for none.")
    coat: CoatTable | None = Field(None, description="Powder after boiling; none if left out.")
    glug: GlugTable | None = Field(None, description="Liquid after drying; none if left out.")
