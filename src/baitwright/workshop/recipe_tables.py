"""The tables of a recipe file, field by field."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from baitwright.materials import cores, powders, sieves
from baitwright.materials.tables import find
from baitwright.quantities import Kind
from baitwright.recipe.model import BaitKind, HardenerBasis, Hardness
from baitwright.workshop import fields, words
from baitwright.workshop.liquid_table import LiquidTable
from baitwright.workshop.reading import Table

SMALLEST, LARGEST = "6 mm", "40 mm"
"""Baits that hands or a rolling table make (judgement)."""


def _length(low: str, high: str, *, example: str, about: str) -> fields.Reads:
    return fields.measured(Kind.LENGTH, low, high, example=example, about=about)


def _share(low: str, high: str, *, example: str, about: str) -> fields.Reads:
    return fields.measured(Kind.SHARE, low, high, example=example, about=about)


def _declared(about: str) -> Any:
    return _share("0 %", "100 %", example="25 %", about=f"{about}, as the bag declares it.")


class CoreTable(Table):
    """The core by material and size; a size alone is a cork ball."""

    material: Annotated[
        str,
        words.shelved(
            lambda name: find(cores.cores(), name, "").id,
            example="cork ball",
            about="What it is made of.",
        ),
    ] = "cork-ball"
    diameter: Annotated[float, _length("3 mm", "38 mm", example="9 mm", about="Across the core.")]

    @model_validator(mode="before")
    @classmethod
    def _size_alone(cls, written: Any) -> Any:
        return written if isinstance(written, dict) else {"diameter": written}


class BaitTable(Table):
    """The hookbait wanted."""

    kind: Annotated[BaitKind, words.word(BaitKind, about="What it is wanted to do.")]
    diameter: Annotated[
        float, _length(SMALLEST, LARGEST, example="15 mm", about="Across the bait as rolled.")
    ]
    core: CoreTable | None = Field(None, description="Leave it out for a bait without a core.")
    hardness: Annotated[Hardness, words.word(Hardness, about="How hard it is wanted.")] = (
        Hardness.NORMAL
    )


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


class FreeBaitTable(Table):
    """The free bait to match from the same base, unsieved and without hardener."""

    diameter: Annotated[
        float, _length(SMALLEST, LARGEST, example="18 mm", about="Across the bait as rolled.")
    ]
    level: Annotated[
        float, _share("1 %", "200 %", example="50 %", about="Its level beside the hookbait's.")
    ]
    dry_mix: Annotated[
        float,
        fields.measured(
            Kind.MASS, "50 g", "500 kg", example="2 kg", about="How much mix to make up."
        ),
    ]


class RecipeFile(Table):
    """What a bait is: one recipe to a file."""

    name: Annotated[
        str, words.text(example="Copper wafter", about="The recipe, as sheets print it.")
    ]
    invented: Annotated[bool, words.yes_or_no(about="Marks a demonstration.")] = False
    bait: BaitTable = Field(description="The hookbait wanted.")
    base: BaseTable = Field(description="The base mix.")
    hardener: HardenerTable | None = Field(None, description="Leave it out for none.")
    liquid: tuple[LiquidTable, ...] = Field((), description="Flavours, extracts, powders.")
    free_bait: FreeBaitTable | None = Field(None, description="Leave it out for none.")
