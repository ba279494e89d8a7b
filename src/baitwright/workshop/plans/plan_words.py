"""What the fields of a plan are called, and what is wrong with one of them."""

from __future__ import annotations

import re

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import Group
from baitwright.workshop.forms.asked_places import Wrong, place_of

LABELS = {
    "name": "Recipe",
    "bait.kind": "What bait",
    "bait.diameter": "Size, as rolled",
    "bait.core.diameter": "Core",
    "eggs[].count": "How many",
    "eggs[].shell": "Weight in the shell",
    "eggs[].contents": "Or measured in the bowl",
    "base.name": "Base mix",
    "tub.mass": "Tub on the table",
    "liquid[].name": "Liquid",
    "base.parts[].key": "Ingredient",
    "bait.fillers[].key": "Filler",
    "parts[].key": "Part",
}
"""What a field is called on this page, where its key alone says too little."""
_NUMBER = re.compile(r"\[\d+\]")


def wrong_at(page: Group, error: InputError) -> Wrong:
    """An error as the page tells it: at its field, and by what the page calls that."""
    place = place_of(page, error.field)
    name = called(place) if place else error.field
    got = f"{error.got!r} will not do" if error.got not in (None, "") else "it is missing"
    hint = f" {error.hint}" if error.hint else ""
    return Wrong(f"{name}: {got}; it takes {error.accepted}.{hint}", place)


def called(name: str) -> str:
    """A field as it is spoken of on its own: "liquid 2, level"."""
    rows = ", ".join(_NUMBER.findall(name)).replace("[", "").replace("]", "")
    label = LABELS.get(bare(name))
    if label is not None:
        return f"{label} {rows}".strip()
    return (
        _NUMBER.sub(lambda found: f" {found[0][1:-1]}", name).replace(".", ", ").replace("_", " ")
    )


def bare(name: str) -> str:
    """A field's name without the numbers of its rows."""
    return _NUMBER.sub("[]", name)
