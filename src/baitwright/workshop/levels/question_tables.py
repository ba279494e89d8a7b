"""What questions of the workshop ask, as tables."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.workshop.forms.form_fields import notes
from baitwright.workshop.recipe_files.rig_table import RigTable
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text

_BATCH = text(about="Whose plan it is asked of.", example="2026-11-27/B1")


class LevelTable(Table):
    """One level."""

    level: Annotated[
        str, text(about="With what it is counted on.", example="0.8 ml per egg of 50 ml")
    ]
    name: Annotated[str, text(about="Of the liquid.", example="Malt")] = ""
    carrier: Annotated[
        str, text(about="What it is dissolved in, if known.", example="propylene glycol")
    ] = ""
    strength: Annotated[str, text(about="By its carrier unless told.", example="quality")] = ""


class LevelsTable(Table):
    """A question about levels."""

    eggs: Annotated[
        str, text(about="How many of what, or what they weigh.", example="171 g in the bowl")
    ]
    level: tuple[LevelTable, ...] = Field((), description="What is to go in.")
    dry_mix: Annotated[
        str, text(about="What one egg takes up; weighed, it is yours.", example="86 g per egg")
    ] = ""
    use: Annotated[str, one_of(("hookbait", "free bait"), about="What it is judged as.")] = (
        "hookbait"
    )
    syringes: Annotated[str, text(about="What is on the shelf.", example="1 ml, 5 ml")] = ""
    drops_per_ml: Annotated[
        float | None,
        number(5, 200, whole=False, example=34, about="Counted from this very bottle."),
    ] = None


class BoilQuestion(Table):
    """A question about seconds in the pot."""

    batch: Annotated[str, _BATCH]
    sizes: Annotated[
        str, text(about="About the bait's own unless told.", example="14 mm, 15 mm")
    ] = ""
    cores: Annotated[str, text(about="About its own unless told.", example="none, 9 mm")] = ""


class SoakQuestion(Table):
    """A question about hours in the lake."""

    batch: Annotated[str, _BATCH]
    hours: Annotated[str, text(about="How long they lie.", example="48")] = "48"
    at: Annotated[
        str, text(about="The bench's own lake, winter and summer unless told.", example="5 C, 18 C")
    ] = ""


class BalanceQuestion(RigTable):
    """A question about the bait on its rig."""

    batch: Annotated[str, _BATCH]

    def rig(self) -> RigTable:
        """What it says of the rig."""
        told = {name: getattr(self, name) for name in RigTable.model_fields}
        return RigTable.model_construct(**told)


class KeepQuestion(Table):
    """A question about how long baits keep."""

    batch: Annotated[str, _BATCH]


class ScoreQuestion(Table):
    """A question about how well a batch was predicted."""

    batch: Annotated[str, text(about="A batch that was made.", example="2026-11-27/B1")]


class BottleQuestion(Table):
    """A question about what a bottle test proves."""

    test: Annotated[str, text(about="A bottle test of the notebook.", example="2026-11-27/1")]


class ComparedBait(Table):
    """A bait to be compared."""

    name: Annotated[str, text(about="As it was fished.", example="Copper wafter baits")]


class CompareQuestion(Table):
    """A question about how baits did."""

    bait: tuple[ComparedBait, ...] = Field((), description="All that were fished unless told.")
    water: Annotated[str, text(about="Nights at this water only.", example="Long Reedpool")] = ""


class SteadyQuestion(Table):
    """A question about how steady the batches of a recipe are."""

    recipe: Annotated[str, text(about="Of which batches were made.", example="Copper wafter")]
    wanted: Annotated[str, text(about="Diameter of a dried bait.", example="15 mm")] = ""
    within: Annotated[
        str, text(about="How far off it a bait may be; told with it.", example="0.5 mm")
    ] = ""


class DesignQuestion(Table):
    """A question about the mix that does best what is wished."""

    wishes: Annotated[str, notes(about="The text of a file of wishes.", example='goal = "most"')]
    prices: Annotated[
        str, text(about="An ingredient whose price is to be moved.", example="soya flour")
    ] = ""
    low: Annotated[
        float | None, number(0, 100_000, whole=False, example=1.5, about="Half of now unless told.")
    ] = None
    high: Annotated[
        float | None, number(0, 100_000, whole=False, example=4, about="Twice of now unless told.")
    ] = None
