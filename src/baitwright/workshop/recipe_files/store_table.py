"""Where the dried baits are put, of a bench file."""

from __future__ import annotations

from typing import Annotated

from baitwright.quantities import Kind
from baitwright.recipe.bench import Storage
from baitwright.workshop.typed.fields import measured
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import yes_or_no


class StoreTable(Table):
    """Fridge, bait box and freezer, whether in closed bags, and how long they are wanted."""

    fridge: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "-2 C", "15 C", example="5 C", about="In the fridge."),
    ] = None
    ambient: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "0 C", "35 C", example="18 C", about="Out of the cold."),
    ] = None
    freezer: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "-40 C", "-6 C", example="-18 C", about="In the freezer."),
    ] = None
    packed: Annotated[bool | None, yes_or_no(about="Whether they lie in closed bags.")] = None
    keep_for: Annotated[
        float | None,
        measured(Kind.DURATION, "1 d", "730 d", example="7 d", about="How long they are wanted."),
    ] = None

    @property
    def storage(self) -> Storage:
        """The table as the bench has it."""
        return Storage(self.fridge, self.ambient, self.freezer, self.packed, self.keep_for)
