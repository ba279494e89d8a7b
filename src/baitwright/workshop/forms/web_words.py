"""Errors as a page tells them: at which field, and without words that only a terminal takes."""

from __future__ import annotations

import re

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import Group
from baitwright.workshop.forms.asked_places import place_of

CALLED = "called"
"""The field of a page that a record's name is typed in."""
_COMMAND = re.compile(r"`?baitwright ([a-z]+(?: [a-z]+)?)[^`,.:;]*`?")
_OPTION = re.compile(r"(?<![\w-])--([a-z]+(?:-[a-z]+)*)")
_HERE = {
    "ask": "Questions",
    "backup": "Care, Copy it now",
    "batch": "Batches",
    "batch bag": "Bag it, on the batch's page",
    "batch made": "Made, on the batch's page",
    "batch cancel": "Cancel it, on the batch's page",
    "batch undo": "Take the last step back, on the batch's page",
    "export": "Care, Export",
    "import": "Care, Import",
    "keep": "Recipes, Keep one",
    "price": "Prices, Ask a price",
    "purge": "Care, Purge",
    "record": "Notebook",
    "record person": "Notebook, a new person,",
    "restore": "Care",
    "sell": "Orders",
    "sell order": "Orders, Write one down",
    "sell undo": "Open it again, on the order's page",
    "shelf": "Shelf",
    "shelf import": "Shelf, Bring in a table",
    "shelf in": "Shelf, Put on the shelf",
    "shelf undo": "Shelf, Take the last entry back",
}
"""Where a page has what a command does."""


def said_here(error: InputError) -> str:
    """An error's message without a file of ours, and with doors in place of commands."""
    return in_pages(str(InputError(error.field, error.got, error.accepted, hint=error.hint)))


def in_pages(text: str) -> str:
    """Words of the command line as words of these pages."""
    return _OPTION.sub(lambda one: one[1].replace("-", " "), _COMMAND.sub(_door, text))


def _door(found: re.Match[str]) -> str:
    named, first = found[1], found[1].partition(" ")[0]
    return _HERE.get(named) or _HERE.get(first) or "the page for it"


def place_in(group: Group, refused: str) -> str:
    """The field of a page that an error is about, however the use case calls it."""
    names = [one.name for one in group.walk()]
    plain = re.sub(r"[ -]", "_", refused)
    first = refused.partition(" ")[0]
    if refused.endswith("'s name") and CALLED in names:
        return CALLED
    for told in (refused, plain, plain.lower(), first, f"{first}s", first.removesuffix("s")):
        if told and told in names:
            return told
    found = place_of(group, refused)
    return found or next((one for one in names if one.rpartition(".")[2] == first), "")
