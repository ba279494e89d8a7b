"""What is asked where a mix is to be mended, as a table."""

from __future__ import annotations

from typing import Annotated

from baitwright.quantities import Kind
from baitwright.workshop.forms.form_fields import notes, several
from baitwright.workshop.typed.fields import measured
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text


class MendQuestion(Table):
    """A question about the mix that stands in when a part is gone or another."""

    mix: Annotated[
        str,
        notes(about="The text of a mix, a recipe or a file of wishes.", example='name = "Copper"'),
    ]
    without: Annotated[
        tuple[str, ...],
        several(about="What is no longer to be had.", example="liver-powder; fishmeal-65"),
    ] = ()
    changed: Annotated[
        str,
        notes(
            about="What new bags say, as in a mix file.",
            example='[ingredients.semolina]\nprotein = "11 %"',
        ),
    ] = ""
    instead: Annotated[
        tuple[str, ...],
        several(about="What may come in; any of its class if left out.", example="blood-meal"),
    ] = ()
    name: Annotated[str, text(about="Of the new base.", example="Copper 2")] = ""
    old_left: Annotated[
        float | None,
        measured(Kind.MASS, "0 g", "1000 kg", example="500 g", about="Of the old finished mix."),
    ] = None
