"""What a sweep's file holds: a recipe, a bench, and what is varied of them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.workshop.recipe_files.bait_tables import LARGEST, SMALLEST
from baitwright.workshop.sweeps.axis import axis
from baitwright.workshop.sweeps.outcomes import GROUPS, USUAL
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text

USUAL_BATCHES = 64
"""Batches imagined behind each band of a sweep (judgement): a quarter of a plan's, for a time not
much above that of the least; `docs/scale.md` says what it costs in digits."""


class WaterTable(Table):
    """Waters of a name: each of its temperatures with each of its salinities."""

    name: Annotated[str, text(about="The water.", example="Long Reedpool, late November")]
    lake: Annotated[
        tuple[float, ...],
        axis(Kind.TEMPERATURE, "0 C", "35 C", example="4 C to 20 C by 4 C", about="Of the lake."),
    ]
    salinity: Annotated[
        tuple[float, ...],
        axis(Kind.SHARE, "0 %", "4.2 %", example="0 % to 1 % by 0.5 %", about="Salt in it."),
    ] = (0.0,)


class SweepFile(Table):
    """A sweep: every value of each axis with every value of all others; axes may be left out."""

    recipe: Annotated[str, text(about="The recipe's file.", example="copper-wafter.toml")]
    bench: Annotated[str, text(about="The bench's file.", example="bench-three-large-eggs.toml")]
    sizes: Annotated[
        tuple[float, ...],
        axis(Kind.LENGTH, SMALLEST, LARGEST, example="12 mm to 20 mm by 1 mm", about="Of baits."),
    ] = ()
    cores: Annotated[
        tuple[float, ...],
        axis(
            Kind.LENGTH,
            "3 mm",
            "38 mm",
            example="6 mm to 10 mm by 2 mm",
            about="Of the recipe's core, or of cork.",
            with_none=True,
        ),
    ] = ()
    mixes: tuple[
        Annotated[str, text(about="A recipe or a mix file.", example="copper-mix.toml")], ...
    ] = Field((), description='Files whose base mix is tried, such as ["copper-mix.toml"].')
    levels: Annotated[
        tuple[float, ...],
        axis(
            Kind.SHARE,
            "1 %",
            "1000 %",
            example="50 % to 150 % by 25 %",
            about="Of the level of each liquid of the recipe.",
        ),
    ] = (1.0,)
    water: tuple[WaterTable, ...] = Field((), description="Waters; that of the bench if left out.")
    tell: tuple[Annotated[str, one_of(GROUPS, about="What is told of each design.")], ...] = Field(
        USUAL, description=f"What is told of each design: {', '.join(GROUPS)}."
    )
    batches: Annotated[
        int, number(8, 4096, example=USUAL_BATCHES, about="Imagined behind each band.")
    ] = USUAL_BATCHES
