"""What stands in a maker's house, as a record: what baits are made of, tubs and bottles."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.workshop.forms.bottle_tables import TogetherTable
from baitwright.workshop.forms.form_fields import money, notes, on_day, several
from baitwright.workshop.forms.label_fields import (
    acute_toxicity,
    allergen_groups,
    flashes_at,
    hazard_codes,
)
from baitwright.workshop.typed.fields import density as density_within
from baitwright.workshop.typed.fields import measured, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text

_LARGEST = "100 kg"


class FormTable(Table):
    """What every record may say besides its own fields."""

    files: Annotated[
        tuple[str, ...], several(about="Photos and papers that lie elsewhere.", example="tray.jpg")
    ] = ()
    remark: Annotated[str, notes(about="Anything worth keeping.", example="smells of malt")] = ""


class BoughtTable(FormTable):
    """Something that is bought, with what its label and its safety data sheet say."""

    supplier: Annotated[str, text(about="Who it comes from.", example="Reedmill")] = ""
    pack: Annotated[str, text(about="How it is sold.", example="25 kg sack")] = ""
    price: Annotated[Decimal | None, money(about="Of one pack.")] = None
    storage: Annotated[str, text(about="How it is to be kept.", example="dry, below 20 C")] = ""
    allergens: Annotated[
        tuple[str, ...], allergen_groups(about="Groups that its label names.")
    ] = ()
    hazards: Annotated[tuple[str, ...], hazard_codes(about="Codes on its safety data sheet.")] = ()
    data_sheet: Annotated[date | None, on_day(about="Day of that safety data sheet.")] = None


class IngredientTable(BoughtTable):
    """A powder."""

    bulk_density: Annotated[
        float | None, density_within(0.05, 2.0, about="Of the powder as it lies.")
    ] = None


class LiquidTable(BoughtTable):
    """A flavour, an extract or an oil."""

    carrier: Annotated[str, text(about="What it is dissolved in.", example="propylene glycol")] = ""
    density: Annotated[float | None, density_within(0.6, 2.0, about="Weighed in a syringe.")] = None
    flash_point: Annotated[float | None, flashes_at(about="As its safety data sheet has it.")] = (
        None
    )
    toxicity: Annotated[
        tuple[str, ...], acute_toxicity(about="Acute toxicity as its sheet has it, by route.")
    ] = ()
    lot: Annotated[str, text(about="The supplier's lot.", example="F-210")] = ""
    times_as_strong: Annotated[
        float | None,
        number(
            0.05,
            20,
            whole=False,
            example=1.3,
            about="As the bottle your levels are made for, by your nose: dilutions of both smelled "
            "side by side.",
        ),
    ] = None


class CoreTable(BoughtTable):
    """A core, with its sizes as measured."""

    lot: Annotated[str, text(about="The supplier's lot.", example="C-12")] = ""
    diameter: Annotated[
        float | None,
        measured(Kind.LENGTH, "2 mm", "40 mm", example="9.1 mm", about="Over ten in a row."),
    ] = None
    weighed: TogetherTable | None = Field(None, description="Several on the scale together.")


class HookTable(BoughtTable):
    """A hook, with its weight as measured."""

    size: Annotated[str, text(about="As its packet has it.", example="6")] = ""
    gape: Annotated[
        float | None,
        measured(Kind.LENGTH, "1 mm", "40 mm", example="11 mm", about="From point to shank."),
    ] = None
    weighed: TogetherTable | None = Field(None, description="Several on the scale together.")
