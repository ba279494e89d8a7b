"""What a dry mix is made of, part by part: a bar for each, the longest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.sheets import svg
from baitwright.sheets.svg import Picture, Table

_MARGIN = 8.0
_BAR = 16.0
_STEP = svg.LEADING + _BAR + 14.0
_GROUNDS = {"binder": svg.SET, "coarse": svg.CRUST, "soluble": svg.WET, "hardener": svg.HALF_BAND}
"""Fills of the classes a maker looks for first; the others are as paste."""


@dataclass(frozen=True, slots=True)
class Slice:
    """One part: its name, its class, its share of the mix, and that share as text."""

    name: str
    role: str
    share: float
    text: str


def picture_shares(parts: Sequence[Slice], *, name: str = "shares") -> Picture:
    """The parts of a mix as bars, each with its name, class and share in words."""
    ordered = sorted(parts, key=lambda one: -one.share)
    title = "What the dry mix is made of"
    said = "; ".join(f"{one.name}, {one.role}, {one.text}" for one in ordered)
    height = 2.0 * _MARGIN + _STEP * len(ordered)
    drawing = svg.canvas(name, height, title=title, said=f"{said}.")
    longest = max((one.share for one in ordered), default=1.0) or 1.0
    room = svg.WIDTH - 2.0 * _MARGIN
    for at, one in enumerate(ordered):
        top = _MARGIN + _STEP * at
        line = top + svg.TEXT
        beside = svg.width_of(one.text) + 2.0 * _MARGIN
        label = svg.folded(f"{one.name} ({one.role})", room - beside, lines=1)[0]
        svg.words(drawing, (_MARGIN, line), label)
        svg.words(drawing, (svg.WIDTH - _MARGIN, line), one.text, text_anchor="end")
        svg.shape(
            drawing,
            "rect",
            x=_MARGIN,
            y=top + svg.LEADING + 4.0,
            width=max(room * one.share / longest, 1.0),
            height=_BAR,
            fill=_GROUNDS.get(one.role, svg.PASTE),
            stroke=svg.GRID,
        )
    rows = tuple((one.name, one.role, one.text) for one in ordered)
    table = Table(title, ("part", "class", "share"), rows)
    return Picture(name, title, drawing, (table,))
