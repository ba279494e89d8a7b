"""What a bench file holds."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.recipe.dosing import shelf_of
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.egg_table import EggTable
from baitwright.workshop.recipe_files.kitchen_tables import (
    BenchHookTable,
    BenchTubTable,
    FrozenTable,
    PotTable,
)
from baitwright.workshop.recipe_files.rig_table import RigTable
from baitwright.workshop.recipe_files.room_tables import RoomTable
from baitwright.workshop.recipe_files.store_table import StoreTable
from baitwright.workshop.typed.clock import Moment, moment
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text, yes_or_no


def _syringe() -> Reads:
    volume = measured(
        Kind.VOLUME, "0.1 ml", "100 ml", example="5 ml", about="A syringe by what it holds."
    )

    def on_the_shelf(value: object) -> float:
        nominal = float(volume.read(value))
        shelf_of([nominal])
        return nominal

    return Reads(on_the_shelf, volume.accepted, volume.about, volume.schema)


def _core() -> Reads:
    return measured(Kind.LENGTH, "3 mm", "38 mm", example="9 mm", about="A core by its size.")


def country_code(*, about: str) -> Reads:
    """Two letters of a country."""
    accepted = "two letters such as 'GB', 'DE' or 'US'"

    def two_letters(value: object) -> str:
        if isinstance(value, str) and len(value) == 2 and value.isascii() and value.isupper():
            if value == "UK":
                raise InputError("", value, accepted, hint="The United Kingdom is 'GB'.")
            return value
        raise InputError("", value, accepted)

    schema = {"type": "string", "pattern": "^[A-Z]{2}$", "examples": ["GB"]}
    return Reads(two_letters, accepted, about, schema)


class BenchFile(Table):
    """What stands on the table today: eggs, or the baits wanted, are enough."""

    leaving: Annotated[
        Moment | None,
        moment(about="When you leave; an hour alone is the next one; left out, no hurry."),
    ] = None
    now: Annotated[Moment | None, moment(about="What time it is; left out, the clock's.")] = None
    country: Annotated[
        str | None, country_code(about="Whose rules to mention; left out, those of every country.")
    ] = None
    water: Annotated[
        str | None,
        text(about="The water they are for; its rules are told.", example="Long Reedpool"),
    ] = None
    baits_wanted: Annotated[
        int | None, number(1, 20_000, example=60, about="Baits wanted, where eggs are not counted.")
    ] = None
    syringes: tuple[Annotated[float, _syringe()], ...] = Field(
        (), description='Syringes such as ["1 ml", "5 ml"]; left out, every usual one.'
    )
    cores: tuple[Annotated[float, _core()], ...] = Field(
        (), description='Sizes of the cores on the shelf, such as ["8 mm", "9 mm"].'
    )
    altitude: Annotated[
        float | None,
        measured(Kind.LENGTH, "-400 m", "5000 m", example="120 m", about="Of the kitchen."),
    ] = None
    pressure: Annotated[
        float | None,
        measured(
            Kind.PRESSURE,
            "480 hPa",
            "1085 hPa",
            example="1004 hPa",
            about="In the kitchen, in place of its altitude.",
        ),
    ] = None
    lake: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "0 C", "35 C", example="6 C", about="Water of the lake."),
    ] = None
    paste: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "0 C", "40 C", example="18 C", about="Paste before the boil."),
    ] = None
    eggs: tuple[EggTable, ...] = Field((), description="Binding liquids, one table to a kind.")
    room: RoomTable = Field(default_factory=RoomTable, description="The air the baits dry in.")
    pot: PotTable = Field(default_factory=PotTable, description="The pot.")
    hook: BenchHookTable = Field(default_factory=BenchHookTable, description="The hook.")
    frozen: tuple[FrozenTable, ...] = Field(
        (), description="Packs from the freezer, one table to each."
    )
    pace: Annotated[
        float | None,
        number(0.2, 500, whole=False, example=3, about="Baits rolled in a minute, both rollings."),
    ] = None
    roller: Annotated[bool, yes_or_no(about="Whether they are rolled on a roller table.")] = False
    rig: RigTable | None = Field(None, description="What the bait is fished on, and where.")
    tub: BenchTubTable = Field(
        default_factory=BenchTubTable, description="The tub of prepared mix."
    )
    store: StoreTable = Field(
        default_factory=StoreTable, description="Where the dried baits are put."
    )
