"""What was made beforehand, as a record: tubs of prepared mix, blended bottles."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.workshop.forms.form_fields import on_day, several, volume, weight
from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.forms.label_fields import hazard_codes
from baitwright.workshop.typed.fields import measured, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text

_LARGEST = "100 kg"


class TubTable(FormTable):
    """A tub of prepared mix; each weighing is a version."""

    base: Annotated[str, text(about="The base mix.", example="Copper")]
    base_lot: Annotated[
        str, text(about="Its lot; one of the shelf is drawn from.", example="2026-11-20/1")
    ] = ""
    day: Annotated[date | None, on_day(about="When it was mixed; today unless told.")] = None
    sieve: Annotated[str, text(about="What it went through.", example="kitchen")] = ""
    hardener: Annotated[
        float | None,
        measured(Kind.SHARE, "0 %", "60 %", example="10 %", about="How much hardener."),
    ] = None
    hardener_basis: Annotated[
        str, one_of(("on top of the base", "of the finished mix"), about="Of what that is.")
    ] = ""
    hardener_lot: Annotated[
        str, text(about="Its lot on the shelf, to draw it from.", example="2026-11-20/2")
    ] = ""
    left: Annotated[
        float | None, weight("550 g", _LARGEST, "On the scale, without the tub.", least="0 g")
    ] = None
    weighed: Annotated[str, one_of(("before", "after"), about="Before or after a batch.")] = ""
    batch: Annotated[str, text(about="That batch.", example="2026-11-27/1")] = ""


class PartTable(Table):
    """One liquid of a blend."""

    liquid: Annotated[str, text(about="Its name.", example="Malt")]
    parts: Annotated[
        float, number(0.001, 10_000, whole=False, example=3, about="Its parts by volume.")
    ]
    lot: Annotated[
        str, text(about="Its lot on the shelf, to draw it from.", example="2026-11-20/3")
    ] = ""


class BlendTable(FormTable):
    """A bottle that was blended beforehand."""

    part: tuple[PartTable, ...] = Field((), description="What is in it, part by part.")
    lot: Annotated[str, text(about="Its own lot.", example="B-4")] = ""
    day: Annotated[date | None, on_day(about="When it was blended; today unless told.")] = None
    left: Annotated[float | None, volume("80 ml", "What is left in the bottle.")] = None
    not_with: Annotated[
        tuple[str, ...], several(about="What must not be mixed with it.", example="acids; milk")
    ] = ()
    hazards: Annotated[
        tuple[str, ...], hazard_codes(about="Codes on the data sheets of its parts.")
    ] = ()
