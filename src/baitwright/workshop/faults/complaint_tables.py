"""What deeds of a complaint ask, as tables."""

from __future__ import annotations

from typing import Annotated

from baitwright.workshop.forms.form_fields import notes
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import text


class AnswerTable(Table):
    """An answer."""

    answer: Annotated[str, notes(about="What they are told.", example="a new bag goes out")]


class LookedTable(Table):
    """What a bag kept back showed."""

    sample: Annotated[str, notes(about="What it showed.", example="no mould, smells right")]


class CloseTable(Table):
    """A complaint that is settled."""

    done: Annotated[str, notes(about="What was done.", example="bag replaced")] = ""


class SampleTable(Table):
    """A bag that is kept back."""

    bag: Annotated[str, text(about="Its name, as it is written on it.", example="2026-11-27/B1/2")]
    where: Annotated[str, text(about="Where it is to be found.", example="freezer, door")]


class FreeTable(Table):
    """A bag that is kept back no longer."""

    bag: Annotated[str, text(about="Its name, as it is written on it.", example="2026-11-27/B1/2")]
