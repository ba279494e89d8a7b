"""Pictures as SVG text: shapes, words that are always escaped, and colours that can be told apart.

Places and lengths of a drawing are in its own units, of which it is ``WIDTH`` wide; on a phone
they come out at some three quarters of a CSS pixel each.
"""

from __future__ import annotations

import re
import textwrap
import unicodedata
from dataclasses import dataclass
from typing import TypeAlias
from xml.etree.ElementTree import Element, SubElement, tostring

Point: TypeAlias = tuple[float, float]

WIDTH = 480.0
TEXT = 16.0
"""Size of the words."""
LEADING = 20.0
"""From one line of words to the next."""
_EM = 0.56
"""Mean width of a letter beside its height, in the wider of the usual typefaces."""

PAPER, INK, GRID = "#ffffff", "#1b1b1b", "#767676"
MIDDLE, EDGE = "#0b4f8a", "#2f6fa8"
WIDE_BAND, HALF_BAND = "#dfebf6", "#b9d5ec"
HOOK = "#8a2d0b"
PASTE, SET, WET, CORE = "#f6ead2", "#e3c793", "#e4f0f9", "#f1e6dc"
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
