"""The baits of a recipe file: hookbait, core and free bait."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.recipe.model import BaitKind, FreeBait, Hardness, WantedBait
from baitwright.workshop.recipe_files.light_tables import (
    BaitCoreTable,
    FillerShare,
    as_core,
    as_fillers,
)
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table

SMALLEST, LARGEST = "6 mm", "40 mm"
"""Baits that hands or a rolling table make (judgement)."""


def _length(low: str, high: str, *, example: str, about: str) -> fields.Reads:
    return fields.measured(Kind.LENGTH, low, high, example=example, about=about)


class BaitTable(Table):
    """The hookbait wanted."""

    kind: Annotated[BaitKind, words.word(BaitKind, about="What it is wanted to do.")]
    diameter: Annotated[
        float, _length(SMALLEST, LARGEST, example="15 mm", about="Across the bait as rolled.")
    ]
    core: BaitCoreTable | None = Field(None, description="Leave it out for a bait without a core.")
    hardness: Annotated[Hardness, words.word(Hardness, about="How hard it is wanted.")] = (
        Hardness.NORMAL
    )
    fillers: dict[str, FillerShare] = Field(
        default_factory=dict,
        description="Light grains worked into the paste, by the room they take in it, such as "
        'cork-granules = "10 %".',
        examples=[{"cork-granules": "10 %"}],
    )


class FreeBaitTable(Table):
    """The free bait to match from the same base, unsieved and without hardener."""

    diameter: Annotated[
        float, _length(SMALLEST, LARGEST, example="18 mm", about="Across the bait as rolled.")
    ]
    level: Annotated[
        float,
        fields.measured(
            Kind.SHARE, "1 %", "200 %", example="50 %", about="Its level beside the hookbait's."
        ),
    ]
    dry_mix: Annotated[
        float,
        fields.measured(
            Kind.MASS, "50 g", "500 kg", example="2 kg", about="How much mix to make up."
        ),
    ]


def as_free_bait(free: FreeBaitTable) -> FreeBait:
    """The free bait of a recipe."""
    return FreeBait(free.diameter, free.level, free.dry_mix)


def as_bait(bait: BaitTable) -> WantedBait:
    """The bait of a recipe, its core and fillers held against its size.

    Raises
    ------
    InputError: cores that leave no room for paste, a filler not on the shelf or twice, or so much
        filler that no paste would hold.
    """
    core = None if bait.core is None else as_core(bait.core, bait.diameter)
    return WantedBait(bait.kind, bait.diameter, core, bait.hardness, as_fillers(bait.fillers))
