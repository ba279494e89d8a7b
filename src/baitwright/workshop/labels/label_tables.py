"""What a page asks of labels."""

from __future__ import annotations

from typing import Annotated

from baitwright.ledger.movements import Amount
from baitwright.workshop.forms.form_fields import person_code
from baitwright.workshop.labels.labels import MOST, Telling
from baitwright.workshop.shelf.deed_tables import amount
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text


class LabelsTable(Table):
    """Labels of what was made as a name."""

    name: Annotated[
        str,
        text(
            about="A batch, a bag, a tub, a blend, a lot of packs or of kits.",
            example="2026-11-27/B1",
        ),
    ]
    paper: Annotated[
        str, one_of(("bag", "tub", "a5", "a4", "a4-tub"), about="A page of 15 unless told.")
    ] = "a4"
    skip: Annotated[
        int, number(0, 100, example=3, about="Places of the first page to leave free.")
    ] = 0
    copies: Annotated[int | None, number(1, MOST, example=2, about="Of each.")] = None
    kept: Annotated[str, one_of(("room", "fridge", "freezer"), about="Where to keep it.")] = ""
    net: Annotated[
        Amount | None, amount("In each tub or bottle; all of it unless told.", example="500 g")
    ] = None
    maker: Annotated[str, person_code(about="Nobody unless told.")] = ""

    def telling(self) -> Telling:
        """What the notebook does not know of them."""
        return Telling(self.kept, self.maker, self.net, self.copies)
