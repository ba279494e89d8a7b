"""An answer as a page shows it: parts with large numbers, tables, pictures and plain lines."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baitwright.sheets.svg import Picture
from baitwright.sheets.wording import Figure, figure
from baitwright.sources import key_said
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity

_SAID = {Weight.REMARK: "", Weight.DOUBT: "Doubt: ", Weight.CAUTION: "Caution: "}


@dataclass(frozen=True, slots=True)
class Large:
    """A number that is acted on: what it is, how it reads, and what else is to be said of it."""

    label: str
    figure: Figure
    how: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table; the first cell of a row names it, and the row that is ``own`` is the plan's."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Figure, ...], ...]
    own: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of an answer, in the order it is read; a folded one waits closed."""

    title: str = ""
    large: tuple[Large, ...] = ()
    lines: tuple[str, ...] = ()
    grids: tuple[Grid, ...] = ()
    pictures: tuple[Picture, ...] = ()
    points: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    is_folded: bool = False


def said(text: str, band: str = "") -> Figure:
    """A cell of words, with what stands smaller below it."""
    return Figure(text, "", band)


def row_of(label: str, quantity: Quantity) -> tuple[Figure, Figure]:
    """A row with one number."""
    return said(label), figure(quantity)


def notes_of(notes: Iterable[Note]) -> tuple[str, ...]:
    """Notes with how much they matter, and what they rest on."""
    return tuple(f"{_SAID[note.weight]}{note.text} [{key_said(note.source)}]" for note in notes)
