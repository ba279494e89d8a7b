"""What a copy to send is asked, as a table."""

from __future__ import annotations

from typing import Annotated

from baitwright.workshop.forms.form_fields import several
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text


class CopyQuestion(Table):
    """A question for a copy to send."""

    recipes: Annotated[
        tuple[str, ...], several(about="Of the notebook.", example="Copper wafter")
    ] = ()
    answers: Annotated[
        tuple[str, ...], several(about="To questions, by name.", example="2026-11-27/1")
    ] = ()
    hide: Annotated[
        tuple[str, ...],
        several(about="Parts and liquids that nobody else is to read.", example="liver powder"),
    ] = ()
    title: Annotated[str, text(about="Above all of it.", example="For the spring order")] = ""
