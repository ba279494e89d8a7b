"""What a file of wishes holds: ingredients, rows, rules, and what is to be best about the mix."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.blending.bases import Basis
from baitwright.blending.candidate import FIGURES
from baitwright.quantities import Kind
from baitwright.recipe.eggs import EggKind
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.wishes.wishes_row_table import Name, WishedTable, WishRow, share

LIKE = "cheapest like the present mix"
GOALS = ("least cost", "nearest to the present mix", "most", LIKE)


class PasteTable(Table):
    """How the mix becomes bait; every basis but the dry mix hangs on it."""

    dry_mix_per_egg: Annotated[
        float,
        fields.measured(Kind.MASS, "20 g", "300 g", example="80 g", about="Dry mix to one egg."),
    ]
    egg: Annotated[
        float, fields.measured(Kind.MASS, "20 g", "150 g", example="50 g", about="Liquid of one.")
    ]
    kind: Annotated[EggKind, words.word(EggKind, about="What binds the mix.")] = EggKind.WHOLE
    water: Annotated[
        float | None,
        share("Of the finished bait: how far it is dried.", "5 %", "60 %", example="25 %"),
    ] = None


class MostTable(Table):
    """What is to be the most, for that goal."""

    figure: Annotated[str, words.one_of(tuple(FIGURES), about="What is to be the most.")] = (
        "protein"
    )
    basis: Annotated[Basis, words.word(Basis, about="What it is counted on.")] = Basis.DRY_MIX


class LikeTable(Table):
    """How far the new mix may be from the present one, either way."""

    water: Annotated[float, share("Water.", example="1 %")] = 0.02
    protein: Annotated[float, share("Protein.", example="1 %")] = 0.01
    fat: Annotated[float, share("Fat.", example="1 %")] = 0.01
    carbohydrate: Annotated[float, share("Carbohydrate.", example="2 %")] = 0.03
    ash: Annotated[float, share("Ash.", example="1 %")] = 0.01
    density: Annotated[float, fields.density(0.0, 1.0, about="Without air.")] = 10.0
    binder: Annotated[float, share("The binder's share.", example="3 %")] = 0.03
    coarse: Annotated[float, share("The coarse share.", example="2 %")] = 0.02


class WaterTable(Table):
    """What the rules of a water keep out of a bait."""

    name: Annotated[str, words.text(example="Long Reedpool", about="The water.")]
    bans: tuple[Name, ...] = Field(description="Ingredients, classes, groups or allergens.")


class TogetherTable(Table):
    """Where one ingredient is used, another is too."""

    used: Name
    needs: Name


class WishesFile(Table):
    """A mix wanted: one to a file."""

    name: Annotated[str, words.text(example="Copper at a price", about="The mix wanted.")]
    invented: Annotated[bool, words.yes_or_no(about="Marks a demonstration.")] = False
    goal: Annotated[str, words.one_of(GOALS, about="What is to be best.")] = GOALS[0]
    budget: Annotated[
        float | None,
        fields.number(0, 100_000, whole=False, example=3.0, about="A kilogram costs no more."),
    ] = None
    batch: Annotated[
        float | None,
        fields.measured(Kind.MASS, "100 g", "10000 kg", example="10 kg", about="To be mixed."),
    ] = None
    most_ingredients: Annotated[
        int | None, fields.number(1, 200, example=7, about="No more of them.")
    ] = None
    least_if_used: Annotated[
        float | None, share("Of every ingredient, or none of it.", example="2.5 %")
    ] = None
    step: Annotated[
        float | None, share("Every share in whole steps of this.", "0.001 %", "50 %")
    ] = None
    round_to: Annotated[
        float, share("Shares are rounded to this for the scale.", "0.001 %", "5 %")
    ] = 0.001
    no_allergens: tuple[Name, ...] = Field((), description="Groups that must not be in it.")
    no_traces: Annotated[bool, words.yes_or_no(about="Nor what may hold those groups.")] = False
    rules_of_thumb: Annotated[
        bool, words.yes_or_no(about="Usual shares of the trade as soft rows.")
    ] = False
    cold: Annotated[bool, words.yes_or_no(about="The rules of thumb for cold water too.")] = False
    ingredients: dict[str, WishedTable] = Field(
        description="What the mix may be made of.",
        examples=[{"semolina": {"price": 1.20}, "fishmeal-65": {"price": 2.60}}],
    )
    present: dict[str, Annotated[float, share("Share of the mix.", "0.01 %")]] = Field(
        default_factory=dict,
        description="Your present mix; 100 % together.",
        examples=[{"semolina": "60 %", "fishmeal-65": "40 %"}],
    )
    classes: dict[str, tuple[Name, ...]] = Field(
        default_factory=dict,
        description="Classes of your own, as lists of ingredients.",
        examples=[{"milk": ["acid-casein", "whey-protein-80"]}],
    )
    row: tuple[WishRow, ...] = Field((), description="What the mix is to hold.")
    together: tuple[TogetherTable, ...] = Field((), description="What goes with what.")
    most: MostTable | None = Field(None, description='For the goal "most".')
    like: LikeTable | None = Field(None, description=f'For the goal "{LIKE}".')
    paste: PasteTable | None = Field(None, description="Egg and drying.")
    water: WaterTable | None = Field(None, description="Where it is to be fished.")
