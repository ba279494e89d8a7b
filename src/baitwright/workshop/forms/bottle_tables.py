"""The tables of a bottle test file, as the maker writes them."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.workshop.forms.readings_file import REMARK, dated
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of

_MOST = 1_000_000


def _count(about: str) -> Reads:
    return number(0, _MOST, example=7, about=about)


def _weight(example: str, most: str, about: str) -> Reads:
    return measured(Kind.MASS, "0.01 g", most, example=example, about=about)


class LookTable(Table):
    """What the baits did, so long after they went in; alone, or on the finished rig."""

    on: Annotated[str, one_of(("alone", "rig"), about="Bait alone, or the finished rig.")] = "alone"
    after: Annotated[
        float, measured(Kind.DURATION, "0 h", "100 h", example="10 min", about="Time in the water.")
    ] = 0.0
    floated: Annotated[int, _count("Baits at the surface, or holding their hook up.")] = 0
    hung: Annotated[int, _count("Baits that hung in the water, neither up nor down.")] = 0
    sank: Annotated[int, _count("Baits on the bottom, or taken down by their hook.")] = 0
    still_firm: Annotated[int | None, _count("Of these, baits still firm to the fingers.")] = None
    off_core: Annotated[int | None, _count("Of these, baits that came off the core.")] = None


class PushedTable(Table):
    """One bait on a scale: weighed, then pushed under in a tared cup of the same water."""

    weight: Annotated[float, _weight("1.46 g", "1 kg", "The bait before it is pushed under.")]
    rise: Annotated[float, _weight("1.52 g", "1 kg", "Rise of the scale with it under.")]


class TogetherTable(Table):
    """Several on the scale at once."""

    count: Annotated[int, number(1, _MOST, example=20, about="How many.")]
    weight: Annotated[float, _weight("17.6 g", "100 kg", "All of them together.")]


class SoakedTable(Table):
    """Baits weighed together dry, and wiped and weighed after so long in the test's water."""

    after: Annotated[
        float, measured(Kind.DURATION, "1 h", "48 h", example="12 h", about="Time in the water.")
    ]
    count: Annotated[int, number(1, _MOST, example=6, about="How many together.")]
    weight_before: Annotated[float, _weight("8.72 g", "100 kg", "All of them, dry.")]
    weight: Annotated[float, _weight("12.3 g", "100 kg", "All of them, wiped.")]


class BottleFile(Table):
    """A bottle test file: looks at the baits, weighings, or both."""

    made: Annotated[datetime | None, dated("When the batch was made.")] = None
    water: Annotated[
        float,
        measured(Kind.TEMPERATURE, "0 C", "40 C", example="18 C", about="Water of the test."),
    ]
    tray: Annotated[
        int | None, number(1, _MOST, example=50, about="Baits the sample was taken from, with it.")
    ] = None
    lake_depth: Annotated[
        float | None,
        measured(Kind.LENGTH, "0 m", "100 m", example="3.5 m", about="Where they are to fish."),
    ] = None
    look: tuple[LookTable, ...] = Field((), description="What the baits did.")
    pushed_under: tuple[PushedTable, ...] = Field((), description="Baits pushed under, one by one.")
    baits_weighed: TogetherTable | None = Field(None, description="Dried baits, dry, together.")
    cores_weighed: TogetherTable | None = Field(None, description="Cores of this lot, together.")
    soaked: tuple[SoakedTable, ...] = Field((), description="Baits weighed dry and soaked.")
    remark: Annotated[str, REMARK] = ""
