"""What deeds of making ask: a batch made, bagged or cancelled, and a tub of mix."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from baitwright.workshop.batches.bags import Kept
from baitwright.workshop.forms.form_fields import on_day, weight
from baitwright.workshop.shelf.deed_tables import WHY_SHORT, count
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text


class MadeTable(BatchTable):
    """What was used and counted of a batch, and what is told of its baits besides."""

    best_before: Annotated[date | None, on_day(about="Of its baits.")] = None
    why: Annotated[str, WHY_SHORT] = ""

    def of_batch(self) -> BatchTable:
        """What a batch file says of it."""
        return BatchTable.model_construct(
            **{name: getattr(self, name) for name in BatchTable.model_fields}
        )


class OffTable(Table):
    """Why a batch is cancelled."""

    reason: Annotated[str, text(about="For later.", example="no eggs in the house")] = ""


class BagTable(Table):
    """Bags of a batch."""

    baits: Annotated[int, count("Baits in each bag.", example=30)]
    bags: Annotated[int, number(1, 100, example=4, about="How many such bags.")] = 1
    kept: Annotated[str, one_of(tuple(Kept), about="Where they are kept.")] = Kept.FRIDGE.value
    best_before: Annotated[date | None, on_day(about="Of the batch unless told.")] = None


class MixTable(Table):
    """A tub of prepared mix."""

    recipe: Annotated[str, text(about="A recipe of the notebook.", example="Copper wafter")]
    finished: Annotated[float, weight("2.4 kg", "100 kg", "The mix on the scale, without the tub.")]
    raw: Annotated[
        float | None, weight("2.6 kg", "100 kg", "The base before the sieve, if weighed.")
    ] = None
    best_before: Annotated[date | None, on_day(about="Of the tub.")] = None
    why: Annotated[str, WHY_SHORT] = ""
