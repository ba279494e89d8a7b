"""Curves over the hours: a frame with its axes, bands, and labels beside the lines' ends."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from baitwright.batch.soak import SoakStage
from baitwright.batch.soaking import SoakPoint
from baitwright.quantities import show
from baitwright.sheets.svg import (
    DASHES,
    EDGE,
    GRID,
    HALF_BAND,
    INK,
    LEADING,
    PAPER,
    WIDE_BAND,
    WIDTH,
    Point,
    disc,
    face,
    folded,
    line,
    path,
    spread,
    words,
)
from baitwright.sheets.wording import figure, in_unit
from baitwright.terms.band import Band
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_HOUR_STEPS = (0.5, 1.0, 2.0, 4.0, 6.0, 12.0)
_LEADER = 16.0
_ENDS = ("median", "low50", "high50", "low80", "high80", "low95", "high95")
WITHIN = ("5 of 10 within", "8 of 10 within")
"""What the bands are called, on pictures and in their tables."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A plot's place on the paper, and the hours and values that its edges stand for."""

    left: float
    top: float
    width: float
    height: float
    hours: float
    low: float
    high: float

    def at(self, hour: float, value: float) -> Point:
        """Where a value at an hour stands on the paper."""
        share = (value - self.low) / (self.high - self.low)
        across = self.left + self.width * hour / self.hours
        return (across, self.top + self.height * (1.0 - share))

    @property
    def right(self) -> float:
        """Where the plot ends."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Where the plot ends."""
        return self.top + self.height


@dataclass(frozen=True, slots=True)
class Curve:
    """A number's bands at the hours told, already in the unit of the axis."""

    hours: tuple[float, ...]
    bands: tuple[Band, ...]

    def points(self, frame: Frame, end: str) -> list[Point]:
        """One edge of the bands, or their middle, on the paper."""
        return [
            frame.at(hour, getattr(band, end))
            for hour, band in zip(self.hours, self.bands, strict=True)
        ]


def curve_of(stage: SoakStage, read: Callable[[SoakPoint], Quantity]) -> Curve:
    """A number of a soak over its hours, in the unit in which it is shown."""
    hours = tuple(point.time / 3600.0 for point in stage.curve)
    return Curve(hours, tuple(_shown(read(point)) for point in stage.curve))


def _shown(quantity: Quantity) -> Band:
    band = band_of(quantity)
    median, *ends = (in_unit(getattr(band, end), quantity.shown) for end in _ENDS)
    low50, high50, low80, high80, low95, high95 = ends
    return Band(
        quantity.name,
        quantity.shown,
        median,
        low50,
        high50,
        low80,
        high80,
        low95,
        high95,
        band.draws,
    )


def as_row(point: SoakPoint, quantity: Quantity) -> tuple[str, str, str, str]:
    """A number at an hour told: the hour, its middle, and the bands of 5 and 8 in 10."""
    eight, five = figure(quantity), figure(quantity, half=True)
    return (show(point.time, "h"), eight.text, five.band, eight.band)


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside the end of a line that stands at a value."""

    value: float
    said: str
    colour: str = INK


def ticks(low: float, high: float, *, most: int = 6) -> list[float]:
    """Round values from below the lowest to above the highest."""
    width = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(width / (most - 1)))
    step = next(power * one for one in _STEPS if width <= (most - 1) * power * one)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [step * place for place in range(first, max(last, first + 1) + 1)]


def hour_ticks(hours: float) -> list[float]:
    """Round hours within a soak, from none."""
    step = next((one for one in _HOUR_STEPS if hours / one <= 7.0), _HOUR_STEPS[-1])
    return [step * place for place in range(int(hours / step + 1e-9) + 1)]


def axes(parent: Element, frame: Frame, rows: Sequence[tuple[float, str]]) -> None:
    """Lines across at the values of the rows, with their words; ticks below at round hours."""
    for value, said in rows:
        x, y = frame.at(0.0, value)
        line(parent, (x, y), (frame.right, y), class_="grid", stroke=GRID, stroke_width="0.5")
        words(parent, (x - 6.0, y + 5.0), said, text_anchor="end")
    for hour in hour_ticks(frame.hours):
        x, y = frame.at(hour, frame.low)
        line(parent, (x, y), (x, y + 5.0))
        words(parent, (x, y + LEADING), f"{hour:g}", text_anchor="middle")
    line(parent, (frame.left, frame.bottom), (frame.right, frame.bottom))


def below(parent: Element, frame: Frame, said: str = "hours in the lake") -> None:
    """What stands under a plot."""
    middle = 0.5 * (frame.left + frame.right)
    words(parent, (middle, frame.bottom + 2.0 * LEADING), said, text_anchor="middle")


def ribbons(parent: Element, frame: Frame, curve: Curve) -> None:
    """The bands that hold 8 and 5 of 10; their edges are drawn, for a grey printer too."""
    for level, fill, dash in (("80", WIDE_BAND, "3 3"), ("50", HALF_BAND, "")):
        low, high = (curve.points(frame, f"{end}{level}") for end in ("low", "high"))
        style = {"stroke": EDGE, "stroke_width": "1", "stroke_dasharray": dash}
        face(parent, [*high, *low[::-1]], class_=f"band{level}", fill=fill)
        path(parent, high, class_=f"high{level}", **style)
        path(parent, low, class_=f"low{level}", **style)


def middles(
    parent: Element, frame: Frame, curve: Curve, *, colour: str, dash: str = DASHES[0]
) -> None:
    """The line of the middle bait, with a dot at each hour told."""
    points = curve.points(frame, "median")
    style = {"stroke": colour, "stroke_width": "2.5", "stroke_dasharray": dash}
    path(parent, points, class_="median", **style)
    for point in points:
        disc(parent, point, 3.0, fill=colour, stroke=PAPER, stroke_width="1")


def beside(parent: Element, frame: Frame, labels: Sequence[Label], *, lines: int = 2) -> None:
    """Labels to the right of a plot, each led to the end of its line, none over another."""
    left = frame.right + _LEADER + 4.0
    placed = sorted(labels, key=lambda label: -label.value)
    rows = [folded(label.said, WIDTH - left, lines=lines) for label in placed]
    ends = [frame.at(frame.hours, label.value) for label in placed]
    wanted = [(end[1], LEADING * len(told) + 4.0) for end, told in zip(ends, rows, strict=True)]
    middle_of = spread(wanted, low=frame.top - LEADING, high=frame.bottom + LEADING)
    for label, told, end, middle in zip(placed, rows, ends, middle_of, strict=True):
        line(parent, end, (left - 3.0, middle), stroke=label.colour, class_="leader")
        first = middle - 0.5 * LEADING * len(told) + 15.0
        for at, said in enumerate(told):
            words(parent, (left, first + LEADING * at), said, fill=label.colour)
