"""A rig as it is typed: shot from the box, hook-link, parts."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from baitwright.materials.hooks import line, shots
from baitwright.materials.rig_parts import rig_part
from baitwright.materials.tables import find
from baitwright.quantities import Kind, read
from baitwright.recipe.rig import LINK_DIAMETER, USUAL_METAL, Link, Piece
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads

_BETWEEN = re.compile(r";|,\s+|(?<=[A-Za-z]),|,(?!\d)")
"""Between two names; the comma inside 0,05 g is none."""
_COUNTED = re.compile(r"^(\d+)\s*[x×]\s*(.+)$")
_WEIGHED = re.compile(r"^[\d.,/ ]+\s*(?:g|mg)$")
_LINK = re.compile(
    r"^(?P<material>[A-Za-z][A-Za-z -]*?)\s+(?P<length>[\d.,]+\s*(?:mm|cm|m|in))"
    r"(?:\s+(?P<diameter>[\d.,]+\s*mm))?$"
)


_ACCEPTED_LINK = (
    'material, length and perhaps thickness, such as "fluorocarbon 15 cm 0.45 mm"; up to 3 m of up '
    "to 2 mm"
)


def _between_commas(text: str) -> list[str]:
    """What stands between commas."""
    return [part.strip() for part in _BETWEEN.split(text) if part.strip()]


def read_shot(text: str) -> Piece:
    """Shot by name or weight, ``2 x BB`` where there are only two; of the usual metal.

    Raises
    ------
    InputError: a name that is on no list, or a weight that is nothing.
    """
    counted = _COUNTED.match(text.strip())
    count, name = (int(counted[1]), counted[2].strip()) if counted else (None, text.strip())
    if count == 0:
        raise InputError("shot", text, "at least one of each")
    if _WEIGHED.match(name):
        mass = read(name, Kind.MASS, "shot")
        if not 0.0 < mass <= 0.1:
            raise InputError("shot", text, "a weight above nothing and up to 100 g")
        return Piece(name, mass, USUAL_METAL, count)
    row = find(shots(), name, "shot")
    return Piece(row.name, row.mass, USUAL_METAL, count)


def read_link(text: str) -> Link:
    """A hook-link such as ``fluorocarbon 15 cm`` or ``braid 20 cm 0.4 mm``.

    Raises
    ------
    InputError: not a material and a length.
    """
    found = _LINK.match(text.strip())
    if found is None:
        raise InputError("link", text, _ACCEPTED_LINK)
    row = line(found["material"], "link")
    length = read(found["length"], Kind.LENGTH, "link")
    diameter = found["diameter"]
    thick = LINK_DIAMETER if diameter is None else read(diameter, Kind.LENGTH, "link")
    if not 0.0 < length <= 3.0 or not 0.0 < thick <= 2e-3:
        raise InputError("link", text, _ACCEPTED_LINK)
    return Link(row.id, length, thick)


def read_part(name: str) -> str:
    """A part by the table, as its id.

    Raises
    ------
    InputError: a part that is on no list.
    """
    return rig_part(name).id


def a_link() -> Reads:
    """A hook-link in one text."""

    def typed(value: object) -> Link:
        if not isinstance(value, str):
            raise InputError("", value, _ACCEPTED_LINK)
        return read_link(value)

    about = "Between bait and counterweight."
    schema = {"type": "string", "examples": ["fluorocarbon 15 cm 0.4 mm", "braid 20 cm"]}
    return Reads(typed, _ACCEPTED_LINK, about, schema)


def listed(read: Callable[[str], Any], *examples: str, about: str) -> Reads:
    """A list of texts, or one text with commas between them."""
    accepted = f"a list such as {list(examples)}".replace("'", '"')

    def each(value: object) -> tuple[Any, ...]:
        many = _between_commas(value) if isinstance(value, str) else value
        if not isinstance(many, list) or not all(isinstance(one, str) for one in many):
            raise InputError("", value, accepted)
        return tuple(read(one) for one in many)

    one = {"type": "string"}
    many = {"type": "array", "items": one, "examples": [list(examples)]}
    return Reads(each, accepted, about, {"anyOf": [many, one]})
