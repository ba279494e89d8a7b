"""What questions about a trial ask, as tables."""

from __future__ import annotations

from typing import Annotated

from baitwright.workshop.forms.form_fields import notes
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text


class NightsQuestion(Table):
    """A question about how many nights a trial needs."""

    bites: Annotated[
        float | None,
        number(0.001, 100, whole=False, example=0.4, about="Your own nights' unless told."),
    ] = None
    water: Annotated[str, text(about="Nights at this water only.", example="Long Reedpool")] = ""


class SwapQuestion(Table):
    """A question about two baits on two rods that change sides."""

    first: Annotated[str, text(about="One bait.", example="Copper wafter baits")]
    second: Annotated[str, text(about="The other.", example="Chalk sinker baits")]
    nights: Annotated[int, number(1, 366, example=10, about="10 unless told.")] = 10
    seed: Annotated[int, number(0, 1_000_000, example=1, about="Another draws another order.")] = 1


class SquareQuestion(Table):
    """A question about baits that each fish once on every rod and every night."""

    baits: Annotated[
        str, notes(about="One in each line, as many as rods.", example="Copper wafter baits")
    ]
    seed: Annotated[int, number(0, 1_000_000, example=1, about="Another draws another order.")] = 1

    @property
    def named(self) -> tuple[str, ...]:
        """Every bait, in the order told."""
        return tuple(line.strip() for line in self.baits.splitlines() if line.strip())


class LookQuestion(Table):
    """A question about where a trial with a stopping rule stands."""

    first: Annotated[
        str, text(about="Thought to be the better one.", example="Copper wafter baits")
    ]
    second: Annotated[str, text(about="The other.", example="Chalk sinker baits")]
    ratio: Annotated[
        float, number(1.01, 20, whole=False, example=1.5, about="Looked for; 1.5 unless told.")
    ] = 1.5
    since: Annotated[
        str, text(about="Its first day; all nights unless told.", example="2026-10-01")
    ] = ""
