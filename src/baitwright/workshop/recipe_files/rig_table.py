"""The rig of a bench file, and the same keys as typed on the command line."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from baitwright.batch.counterweight import MOST_KINDS
from baitwright.materials.hooks import weight
from baitwright.quantities import Kind
from baitwright.recipe.rig import Hole, Link, Piece, Rig, every_size
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.rig_words import a_link, listed, read_part, read_shot
from baitwright.workshop.typed.fields import measured
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import shelved, yes_or_no


class RigTable(Table):
    """What the bait is fished on besides its hook, and where."""

    link: Annotated[Link | None, a_link()] = None
    parts: Annotated[
        tuple[str, ...] | None,
        listed(read_part, "bait stop", "bait screw", about="Hung on the bait."),
    ] = None
    hole: Annotated[
        float | None,
        measured(
            Kind.LENGTH, "0.1 mm", "5 mm", example="2 mm", about="Drilled through bait and core."
        ),
    ] = None
    sealed: Annotated[bool | None, yes_or_no(about="Whether the hole's ends are closed.")] = None
    depth: Annotated[
        float | None,
        measured(Kind.LENGTH, "0 m", "100 m", example="3.5 m", about="Of the swim."),
    ] = None
    salinity: Annotated[
        float | None,
        measured(Kind.SHARE, "0 %", "4.2 %", example="0.2 %", about="Salt in the water."),
    ] = None
    current: Annotated[
        float | None,
        measured(Kind.SPEED, "0 m/s", "3 m/s", example="0.1 m/s", about="Of the water."),
    ] = None
    margin: Annotated[
        float | None,
        measured(
            Kind.MASS,
            "0 g",
            "1 g",
            example="0.02 g",
            about="Pull past balance; 0.02 g where left out.",
        ),
    ] = None
    carry: Annotated[
        float | None,
        measured(Kind.MASS, "0 g", "50 g", example="0.5 g", about="Putty the bait is to hold up."),
    ] = None
    slowest: Annotated[
        float | None,
        measured(
            Kind.SPEED, "0.001 m/s", "1 m/s", example="0.05 m/s", about="Sinks no slower than this."
        ),
    ] = None
    fastest: Annotated[
        float | None,
        measured(
            Kind.SPEED, "0.001 m/s", "1 m/s", example="0.1 m/s", about="Sinks no faster than this."
        ),
    ] = None
    shot: Annotated[
        tuple[Piece, ...] | None,
        listed(
            read_shot,
            "BB",
            "2 x No 4",
            "0.05 g",
            about="The box of shot; every trade size where left out.",
        ),
    ] = None
    metal: Annotated[
        str | None,
        shelved(
            lambda name: weight(name, "").id,
            about="Of the shot; tin where left out.",
            example="tungsten",
        ),
    ] = None


_AS_TOLD = ("link", "parts", "depth", "salinity", "current", "margin", "slowest", "fastest")


def rig_from(told: RigTable, over: Rig | None = None) -> Rig:
    """The rig of a table; what it leaves out is as in another, or as usual.

    Raises
    ------
    InputError: a sealed hole that nobody drilled, wishes that exclude each other, or a box of too
        many kinds.
    """
    before = Rig() if over is None else over
    said = {name: value for name in _AS_TOLD if (value := getattr(told, name)) is not None}
    made = replace(
        before,
        **said,
        hole=_hole(told, before.hole),
        putty=before.putty if told.carry is None else told.carry,
        stock=_stock(told, before.stock),
    )
    if made.slowest is not None and made.fastest is not None and made.slowest > made.fastest:
        raise InputError("slowest", f"{made.slowest:g} m/s", f"no more than {made.fastest:g} m/s")
    return made


def _hole(told: RigTable, before: Hole | None) -> Hole | None:
    if told.hole is not None:
        return Hole(told.hole, bool(told.sealed))
    if told.sealed is None:
        return before
    if before is None:
        raise InputError("sealed", told.sealed, "a hole to seal: give its diameter as hole")
    return replace(before, sealed=told.sealed)


def _stock(told: RigTable, before: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The box: new shot of the metal told or of the old box, or the old box of another metal."""
    metal = told.metal or (before[0].metal if before else None)
    box = told.shot or before or every_size()
    if len(box) > MOST_KINDS:
        raise InputError("shot", len(box), f"at most {MOST_KINDS} kinds of shot")
    return box if metal is None else tuple(replace(piece, metal=metal) for piece in box)
