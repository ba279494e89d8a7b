"""A rig as it is typed: shot from the box, hook-link, hole, parts."""

from __future__ import annotations

import re

from baitwright.batch.counterweight import Piece
from baitwright.batch.rig import Hole, Link
from baitwright.materials.hooks import Weight, line, shots, weight
from baitwright.materials.rig_parts import rig_part
from baitwright.materials.tables import find
from baitwright.quantities import Kind, read
from baitwright.terms.errors import InputError

DEFAULT_METAL = "tin"
"""Shot is taken as not toxic unless somebody says otherwise."""
_BETWEEN = re.compile(r";|,\s+|(?<=[A-Za-z]),|,(?!\d)")
"""Between two names; the comma inside 0,05 g is none."""
_COUNTED = re.compile(r"^(\d+)\s*[x×]\s*(.+)$")
_WEIGHED = re.compile(r"^[\d.,/ ]+\s*(?:g|mg)$")
_LINK = re.compile(
    r"^(?P<material>[A-Za-z][A-Za-z -]*?)\s+(?P<length>[\d.,]+\s*(?:mm|cm|m|in))"
    r"(?:\s+(?P<diameter>[\d.,]+\s*mm))?$"
)


def read_metal(name: str) -> Weight:
    """The metal of the shot.

    Raises
    ------
    InputError: there is none of that name.
    """
    return weight(name.strip() or DEFAULT_METAL, "metal")


def read_shot(text: str, metal: Weight) -> tuple[Piece, ...]:
    """The box of shot: names or weights between commas, ``2 x BB`` where there are only two.

    Raises
    ------
    InputError: a name that is on no list, or a weight that is nothing.
    """
    names = [part.strip() for part in _BETWEEN.split(text) if part.strip()]
    if not names:
        return tuple(Piece(row.name, row.mass, metal) for row in shots().values())
    return tuple(_piece(name, metal) for name in names)


def _piece(text: str, metal: Weight) -> Piece:
    counted = _COUNTED.match(text)
    count, name = (int(counted[1]), counted[2].strip()) if counted else (None, text)
    if count == 0:
        raise InputError("shot", text, "at least one of each")
    if _WEIGHED.match(name):
        mass = read(name, Kind.MASS, "shot")
        if not 0.0 < mass <= 0.1:
            raise InputError("shot", text, "a weight above nothing and up to 100 g")
        return Piece(name, mass, metal, count)
    row = find(shots(), name, "shot")
    return Piece(row.name, row.mass, metal, count)


def read_link(text: str) -> Link | None:
    """A hook-link such as ``fluorocarbon 15 cm`` or ``braid 20 cm 0.4 mm``.

    Raises
    ------
    InputError: not a material and a length.
    """
    if not text.strip():
        return None
    found = _LINK.match(text.strip())
    accepted = 'material, length and perhaps thickness, such as "fluorocarbon 15 cm 0.45 mm"'
    if found is None:
        raise InputError("link", text, accepted)
    row = line(found["material"], "link")
    length = read(found["length"], Kind.LENGTH, "link")
    thick = None if found["diameter"] is None else read(found["diameter"], Kind.LENGTH, "link")
    if not 0.0 < length <= 3.0 or (thick is not None and not 0.0 < thick <= 2e-3):
        raise InputError("link", text, f"{accepted}; up to 3 m of up to 2 mm")
    return Link(row.id, length) if thick is None else Link(row.id, length, thick)


def read_hole(text: str, *, sealed: bool) -> Hole | None:
    """A hole by its diameter, or none.

    Raises
    ------
    InputError: not a length, or a sealed hole that nobody drilled.
    """
    if not text.strip():
        if sealed:
            raise InputError("sealed", True, "a hole to seal: give its diameter with --hole")
        return None
    return Hole(read(text, Kind.LENGTH, "hole"), sealed)


def read_parts(text: str) -> tuple[str, ...]:
    """Parts between commas, by the table.

    Raises
    ------
    InputError: a part that is on no list.
    """
    return tuple(rig_part(one.strip()).id for one in text.split(",") if one.strip())
