"""What lifts a bait, in a recipe file: its core, a few small ones, light grains in the paste."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import model_validator

from baitwright.batch.cores import sizes
from baitwright.materials import cores
from baitwright.materials.fillers import filler
from baitwright.materials.tables import find
from baitwright.physics.packing import MOST_BALLS
from baitwright.quantities import Kind, show
from baitwright.recipe.model import MOST_FILLED, Core, Filler, largest_core
from baitwright.terms.errors import InputError
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table

_SEVERAL = re.compile(r"\s*(\d+)\s*[x\u00d7*]\s*(.+)")


class BaitCoreTable(Table):
    """The core by material and size, or a few small ones; a size alone is a cork ball."""

    material: Annotated[
        str,
        words.shelved(
            lambda name: find(cores.cores(), name, "").id,
            example="cork ball",
            about="What it is made of.",
        ),
    ] = "cork-ball"
    diameter: Annotated[
        float,
        fields.measured(Kind.LENGTH, "3 mm", "38 mm", example="9 mm", about="Across one core."),
    ]
    count: Annotated[
        int, fields.number(1, MOST_BALLS, example=3, about="How many sit in one bait.")
    ] = 1

    @model_validator(mode="before")
    @classmethod
    def _size_alone(cls, written: Any) -> Any:
        return cls.spelled_out(written)

    @classmethod
    def spelled_out(cls, written: Any) -> Any:
        """A size alone, or how many of a size, key by key."""
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


def as_core(core: BaitCoreTable, diameter: float) -> Core:
    """The cores of a bait of some diameter [m].

    Raises
    ------
    InputError: cores that leave no room for paste.
    """
    made = Core(core.material, core.diameter, core.count)
    largest = largest_core(diameter)
    if made.across > largest + 1e-9:
        accepted = f"{show(largest, 'mm')} at most for a bait of {show(diameter, 'mm')}"
        hint = "A core as large as the bait leaves no room for paste."
        together = "" if made.count == 1 else f", together {show(made.across, 'mm')}"
        raise InputError("bait.core", f"{sizes(made)}{together}", accepted, hint=hint)
    return made


def as_fillers(shares: Mapping[str, float]) -> tuple[Filler, ...]:
    """Fillers by name with their shares of the paste's room.

    Raises
    ------
    InputError: a filler not on the shelf or twice, or more than paste holds.
    """
    fillers: dict[str, Filler] = {}
    for name, share in shares.items():
        row = filler(name, f"bait.fillers.{name}")
        if row.id in fillers:
            accepted = f"each filler once; {row.id} is there already"
            raise InputError(f"bait.fillers.{name}", show(share, "%"), accepted)
        fillers[row.id] = Filler(row.id, share)
    total = math.fsum(shares.values())
    if total > MOST_FILLED + 1e-9:
        accepted = f"{show(MOST_FILLED, '%')} together at most"
        hint = "With more the paste no longer holds."
        raise InputError("bait.fillers", show(total, "%"), accepted, hint=hint)
    return tuple(fillers.values())
