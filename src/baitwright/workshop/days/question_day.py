"""What questions about a day and an outing ask, as tables."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.workshop.days.several_file import FreeAmount, Kitchen, Place
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text

_BATCH = text(about="Whose plan it is asked of.", example="2026-11-27/B1")


class TripQuestion(Table):
    """A question about what an outing takes."""

    batch: Annotated[str, _BATCH]
    rods: Annotated[int, number(1, 12, example=3, about="With this bait.")] = 2
    nights: Annotated[int, number(1, 30, example=2, about="How many.")] = 1
    hours: Annotated[str, text(about="Fished in each night.", example="12")] = "12"
    spares: Annotated[str, text(about="On top of what is cast.", example="30 %")] = ""
    free: Annotated[str, text(about="Free bait thrown in each night.", example="500 g")] = ""


class DayBatch(Place):
    """A batch of the day."""

    name: Annotated[str, text(about="One that is planned.", example="2026-11-27/B1")]


class DayFree(FreeAmount):
    """Free baits made on the same day."""

    name: Annotated[
        str, text(about="The planned batch that they go with.", example="2026-11-27/B1")
    ]


class DayQuestion(Kitchen):
    """A question about several batches in one day."""

    batch: tuple[DayBatch, ...] = Field((), description="All that are planned unless told.")
    free_bait: tuple[DayFree, ...] = Field((), description="Free baits beside them.")
