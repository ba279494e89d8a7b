"""The baits of a recipe file: hookbait, core and free bait."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import Field, model_validator

from baitwright.materials import cores
from baitwright.materials.tables import find
from baitwright.physics.packing import MOST_BALLS
from baitwright.quantities import Kind
from baitwright.recipe.model import BaitKind, Hardness
from baitwright.workshop import fields, words
from baitwright.workshop.reading import Table

SMALLEST, LARGEST = "6 mm", "40 mm"
"""Baits that hands or a rolling table make (judgement)."""


def _length(low: str, high: str, *, example: str, about: str) -> fields.Reads:
    return fields.measured(Kind.LENGTH, low, high, example=example, about=about)


_SEVERAL = re.compile(r"\s*(\d+)\s*[x\u00d7*]\s*(.+)")


class CoreTable(Table):
    """The core by material and size, or a few small ones; a size alone is a cork ball."""

    material: Annotated[
        str,
        words.shelved(
            lambda name: find(cores.cores(), name, "").id,
            example="cork ball",
            about="What it is made of.",
        ),
    ] = "cork-ball"
    diameter: Annotated[float, _length("3 mm", "38 mm", example="9 mm", about="Across one core.")]
    count: Annotated[
        int, fields.number(1, MOST_BALLS, example=3, about="How many sit in one bait.")
    ] = 1

    @model_validator(mode="before")
    @classmethod
    def _size_alone(cls, written: Any) -> Any:
        if isinstance(written, dict):
            return written
        several = _SEVERAL.fullmatch(written) if isinstance(written, str) else None
        if several is None:
            return {"diameter": written}
        return {"count": int(several[1]), "diameter": several[2]}

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: Any) -> Any:
        """Either a size, how many of a size, or material, size and count."""
        return {"anyOf": [fields.typed("9 mm", "3 x 5 mm"), handler(schema)]}


FillerShare = Annotated[
    float,
    fields.measured(
        Kind.SHARE, "0.5 %", "30 %", example="10 %", about="Share of the filled paste's room."
    ),
]


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
