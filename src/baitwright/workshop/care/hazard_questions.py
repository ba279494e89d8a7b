"""What questions about cautions, blends, packs and waters ask, as tables."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field

from baitwright.workshop.forms.form_fields import on_day, weight
from baitwright.workshop.recipe_files.bench_tables import country_code
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text, yes_or_no


class CautionsQuestion(Table):
    """What calls for care."""

    country: Annotated[
        str | None,
        country_code(about="Whose rules; left out, those of your last plan, or all."),
    ] = None
    recipe: Annotated[
        str,
        text(about="One of the notebook; left out, all on the shelf.", example="Copper wafter"),
    ] = ""
    selling: Annotated[bool, yes_or_no(about="Whether it is sold.")] = False


class BlendPart(Table):
    """One part as it is typed."""

    part: Annotated[
        str, text(about="Share, name, estimates.", example="26 % Clove: oral 2737 mg/kg")
    ]


class BlendQuestion(Table):
    """A blend to screen."""

    blend: Annotated[
        str, text(about="A blend of the notebook; left out, the parts below.", example="Winter mix")
    ] = ""
    part: tuple[BlendPart, ...] = Field((), description="In its place: what is in it.")


class PackQuestion(Table):
    """A pack to check."""

    stated: Annotated[str, text(about="What is stated on it.", example="150 g")]
    weighed: Annotated[
        str, text(about="Packs weighed without their bags.", example="151 g, 149 g, 150.5 g")
    ] = ""


class WaterQuestion(Table):
    """A water, and what is taken there."""

    water: Annotated[str, text(about="Which water.", example="Long Reedpool")]
    bag: Annotated[str, text(about="Bags or a batch to take there.", example="2026-11-27/B1/1")] = (
        ""
    )
    free_bait: Annotated[
        float | None, weight("2.5 kg", "200 kg", "What goes in during the outing.")
    ] = None
    rods: Annotated[int | None, number(0, 20, example=2, about="How many.")] = None
    night: Annotated[bool | None, yes_or_no(about="Whether by night.")] = None
    lead: Annotated[bool | None, yes_or_no(about="Whether lead is in the box.")] = None
    day: Annotated[date | None, on_day(about="When; today unless told.")] = None
