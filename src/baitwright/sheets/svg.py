"""Pictures as SVG text: shapes, words that are always escaped, and colours that can be told apart.

Places and lengths of a drawing are in its own units, of which it is ``WIDTH`` wide: words of
``TEXT`` come out at 12 CSS pixels on the narrowest phone, 320 pixels wide. Colours are attributes
and never styles, so that a page's own sheet may set others for them (`dark`).
"""

from __future__ import annotations

import re
import textwrap
import unicodedata
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import TypeAlias
from xml.etree.ElementTree import Element, SubElement, tostring

Point: TypeAlias = tuple[float, float]

WIDTH = 480.0
TEXT = 18.0
"""Size of the words."""
LEADING = 22.0
"""From one line of words to the next."""
_EM = 0.56
"""Mean width of a letter beside its height, in the wider of the usual typefaces."""

PAPER, INK, GRID = "#ffffff", "#1b1b1b", "#767676"
MIDDLE, EDGE = "#0b4f8a", "#2f6fa8"
WIDEST_BAND, WIDE_BAND, HALF_BAND = "#f0f6fb", "#dbe9f5", "#b9d5ec"
HOOK = "#8a2d0b"
PASTE, SET, WET, CORE, CRUST = "#f6ead2", "#e3c793", "#e4f0f9", "#f1e6dc", "#d9b77c"
LIQUIDS = ("#0b4f8a", "#8a2d0b", "#1f6b2e", "#6a2c91", "#6e5200", "#a0104f")
DASHES = ("", "10 5", "2 4", "14 4 2 4", "6 3 2 3 2 3", "20 6")
"""One of each for six lines; a seventh takes the first dash in the second colour."""

# What XML cannot hold, however it is written.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_BLANKS = re.compile("[\t\n\r ]+")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:g|mm|h|s|%)(?:\W|$))")


@dataclass(frozen=True, slots=True)
class Table:
    """What a picture shows, as rows of text; the first cell of each row names it."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, and the tables that say the same without it."""

    name: str
    title: str
    drawing: Element
    tables: tuple[Table, ...]

    @property
    def svg(self) -> str:
        """The drawing as the text of a file."""
        return tostring(self.drawing, encoding="unicode") + "\n"

    @property
    def description(self) -> str:
        """What it shows, in plain sentences, as the drawing itself carries them."""
        return self.drawing.findtext("desc") or ""

    def for_page(self, prefix: str) -> Picture:
        """The same drawing with a prefix before every id, for a page that holds several plans'."""
        drawing = deepcopy(self.drawing)
        for part in drawing.iter():
            if "id" in part.attrib:
                part.set("id", prefix + part.attrib["id"])
            for key, value in part.attrib.items():
                part.set(key, value.replace("url(#", f"url(#{prefix}"))
        named = drawing.attrib["aria-labelledby"].split()
        drawing.set("aria-labelledby", " ".join(prefix + one for one in named))
        return replace(self, drawing=drawing)


def canvas(name: str, height: float, *, title: str, said: str) -> Element:
    """A sheet of paper of a height, with its title and what it shows in plain sentences."""
    drawing = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {WIDTH:g} {height:g}",
            "role": "img",
            "lang": "en",
            "xml:lang": "en",
            "aria-labelledby": f"{name}-title {name}-desc",
            "font-family": "system-ui, 'Segoe UI', Roboto, 'DejaVu Sans', sans-serif",
            "font-size": f"{TEXT:g}",
            "fill": INK,
        },
    )
    for part, words in (("title", title), ("desc", said)):
        SubElement(drawing, part, {"id": f"{name}-{part}"}).text = printable(words)
    shape(drawing, "rect", width="100%", height="100%", fill=PAPER)
    return drawing


def printable(words: str) -> str:
    """Words on one line, without what no XML file can hold."""
    return _BLANKS.sub(" ", _FORBIDDEN.sub("", words)).strip()


def shape(parent: Element, kind: str, **style: float | str) -> Element:
    """A shape; ``stroke_width`` is written as ``stroke-width``, ``class_`` as ``class``."""
    told = {
        key.rstrip("_").replace("_", "-"): f"{value:.2f}" if isinstance(value, float) else value
        for key, value in style.items()
    }
    return SubElement(parent, kind, {key: str(value) for key, value in told.items() if value != ""})


def line(parent: Element, start: Point, end: Point, **style: float | str) -> Element:
    """A straight line."""
    ends = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
    return shape(parent, "line", **ends, **{"stroke": INK, "stroke_width": "1", **style})


def path(parent: Element, points: list[Point], **style: str) -> Element:
    """A line through points."""
    return shape(parent, "path", d=_through(points), **{"fill": "none", **style})


def face(parent: Element, points: list[Point], **style: str) -> Element:
    """The face that a line through points and back to the first encloses."""
    return shape(parent, "path", d=f"{_through(points)} Z", **style)


def _through(points: list[Point]) -> str:
    return "M" + " L".join(f"{x:.2f} {y:.2f}" for x, y in points)


def disc(parent: Element, centre: Point, radius: float, **style: str) -> Element:
    """A full circle."""
    return shape(parent, "circle", cx=centre[0], cy=centre[1], r=radius, **style)


def words(parent: Element, at: Point, said: str, **style: str) -> Element:
    """One line of text that stands on a point."""
    made = shape(parent, "text", x=at[0], y=at[1], **style)
    made.text = printable(said)
    return made


def width_of(said: str) -> float:
    """About how wide words come out, in the wider of the usual typefaces."""
    return _EM * TEXT * len(said)


def folded(said: str, width: float, *, lines: int) -> list[str]:
    """Text in lines that fit a width, shortened where it would take more of them.

    A number keeps its unit on its line.
    """
    said = _BEFORE_UNIT.sub("\u00a0", printable(said))
    broad = any(unicodedata.east_asian_width(letter) in "WF" for letter in said)
    letters = int(width / (TEXT if broad else _EM * TEXT))
    rows = textwrap.wrap(said, letters)
    if len(rows) <= lines:
        return rows
    last = rows[lines - 1][: letters - 1].rstrip(" ,;:")
    return [*rows[: lines - 1], f"{last}…"]


def spread(wanted: list[Point], *, low: float, high: float) -> list[float]:
    """Middles of labels, each near the place it wants, that do not overlap.

    Parameters
    ----------
    wanted: the place each label wants and how high it is, from the top down.
    low, high: where the first may begin and the last must end.
    """
    middles: list[float] = []
    edge = low
    for place, height in wanted:
        middles.append(max(place, edge + 0.5 * height))
        edge = middles[-1] + 0.5 * height
    edge = high
    for at in reversed(range(len(wanted))):
        half = 0.5 * wanted[at][1]
        middles[at] = min(middles[at], edge - half)
        edge = middles[at] - half
    return middles


@dataclass(frozen=True, slots=True)
class Led:
    """Words that are led to the place they belong to."""

    point: Point
    rows: tuple[str, ...]
    colour: str = INK


def led(parent: Element, left: float, told: Sequence[Led], *, low: float, high: float) -> None:
    """Words in a column, each led to its place, from the top down and none over another.

    Parameters
    ----------
    parent: the drawing.
    left: where the column begins.
    told: in the order in which they are to stand.
    low, high: where the first may begin and the last must end.
    """
    wanted = [(one.point[1], LEADING * len(one.rows) + 6.0) for one in told]
    for one, middle in zip(told, spread(wanted, low=low, high=high), strict=True):
        line(parent, one.point, (left - 4.0, middle), stroke=one.colour, class_="leader")
        first = middle + LEADING * (0.75 - 0.5 * len(one.rows))
        for at, said in enumerate(one.rows):
            words(parent, (left, first + LEADING * at), said, fill=one.colour)


def tiles(drawing: Element, name: str, marks: Mapping[str, tuple[str, dict[str, str]]]) -> None:
    """Patterns to fill faces with, each a ground and a mark on it: told apart in grey too.

    Parameters
    ----------
    drawing: whose faces are filled with ``url(#name-kind)``.
    name: of the drawing.
    marks: by kind, the colour of the ground and what the mark's path is.
    """
    home = shape(drawing, "defs")
    for kind, (ground, mark) in marks.items():
        size = {"width": "10", "height": "10", "patternUnits": "userSpaceOnUse"}
        tile = shape(home, "pattern", id=f"{name}-{kind}", **size)
        shape(tile, "rect", width=10.0, height=10.0, fill=ground)
        shape(tile, "path", **mark)


STROKES = "M-1 11L11 -1"
DOTS = "M2 2h1.6v1.6h-1.6z M7 7h1.6v1.6h-1.6z"


def contrast(first: str, second: str) -> float:
    """How far two colours stand apart, from 1 to 21, by the web's accessibility guidelines 2.2."""
    dark, light = sorted((_luminance(first), _luminance(second)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
