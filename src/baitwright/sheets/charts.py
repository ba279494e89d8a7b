"""Curves over time: a frame with its axes, bands, marks above it and labels beside its lines."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar
from xml.etree.ElementTree import Element

from baitwright.quantities import show
from baitwright.sheets.svg import (
    DASHES,
    EDGE,
    GRID,
    HALF_BAND,
    HOOK,
    INK,
    LEADING,
    MIDDLE,
    PAPER,
    WIDE_BAND,
    WIDEST_BAND,
    WIDTH,
    Led,
    Point,
    disc,
    face,
    folded,
    led,
    line,
    path,
    shape,
    width_of,
    words,
)
from baitwright.sheets.wording import figure, in_unit
from baitwright.terms.band import Band
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of

HOUR = 3600.0
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_HOUR_STEPS = (0.5, 1.0, 2.0, 4.0, 6.0, 12.0, 24.0)
_SECOND_STEPS = (5.0, 10.0, 15.0, 20.0, 30.0, 60.0, 120.0)
_LEADER = 16.0
_ENDS = ("median", "low50", "high50", "low80", "high80", "low95", "high95")
_LEVELS = (("95", WIDEST_BAND, "1 4"), ("80", WIDE_BAND, "5 3"), ("50", HALF_BAND, ""))
_HELD = {"50": "5 of 10", "80": "8 of 10", "95": "19 of 20"}
WITHIN = tuple(f"{held} within" for held in _HELD.values())
"""What the bands are called, on pictures and in their tables."""
HOLDS = "in brackets the band that holds 8 of 10"
LEFT, MARGIN = 62.0, 18.0
"""Room beside a plot for the words at its rows, and for nothing but the last tick's word."""


class Told(Protocol):
    """Something told at a time [s]."""

    @property
    def time(self) -> float:
        """When."""


_Told = TypeVar("_Told", bound=Told)


@dataclass(frozen=True, slots=True)
class Frame:
    """A plot's place on the paper; where its width ends, and what its lower and upper edge are."""

    left: float
    top: float
    width: float
    height: float
    last: float
    low: float
    high: float

    def at(self, along: float, value: float) -> Point:
        """Where a value at a time stands on the paper."""
        share = (value - self.low) / (self.high - self.low)
        across = self.left + self.width * along / self.last
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
    """A number's bands at times, already in the units of the axes; ``told`` have a dot each."""

    along: tuple[float, ...]
    bands: tuple[Band, ...]
    told: tuple[int, ...]

    def points(self, frame: Frame, end: str) -> list[Point]:
        """One edge of the bands, or their middle, on the paper."""
        return [
            frame.at(along, getattr(band, end))
            for along, band in zip(self.along, self.bands, strict=True)
        ]


def curve_of(
    points: Sequence[_Told],
    read: Callable[[_Told], Quantity],
    *,
    unit: float = HOUR,
    told: Callable[[_Told], bool] = lambda point: True,
) -> Curve:
    """A number over its times, in the unit in which it is shown.

    Parameters
    ----------
    points: in order of time.
    read: the number of each.
    unit: of the axis of time [s].
    told: which of them stand in the table, and have a dot.
    """
    return Curve(
        tuple(point.time / unit for point in points),
        tuple(_shown(read(point)) for point in points),
        tuple(at for at, point in enumerate(points) if told(point)),
    )


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


def as_row(point: Told, quantity: Quantity, *, unit: str = "h") -> tuple[str, ...]:
    """A number at a time told: the time, its middle, and its bands of 50, 80 and 95 %."""
    bands = (figure(quantity, holding=int(held)).band for held in _HELD)
    return (show(point.time, unit), figure(quantity).text, *bands)


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
    """Round hours up to a last one, from none."""
    return _ticks_along(hours, _HOUR_STEPS)


def second_ticks(seconds: float) -> list[float]:
    """Round seconds up to a last one, from none."""
    return _ticks_along(seconds, _SECOND_STEPS)


def _ticks_along(last: float, steps: Sequence[float]) -> list[float]:
    step = next((one for one in steps if last / one <= 7.0), steps[-1])
    return [step * place for place in range(int(last / step + 1e-9) + 1)]


def axes(
    parent: Element,
    frame: Frame,
    rows: Sequence[tuple[float, str]],
    *,
    marks: Sequence[float] | None = None,
) -> None:
    """Lines across at the values of the rows, with their words; ticks below, at round hours."""
    for value, said in rows:
        x, y = frame.at(0.0, value)
        line(parent, (x, y), (frame.right, y), class_="grid", stroke=GRID, stroke_width="0.5")
        words(parent, (x - 6.0, y + 6.0), said, text_anchor="end")
    for along in hour_ticks(frame.last) if marks is None else marks:
        x, y = frame.at(along, frame.low)
        line(parent, (x, frame.bottom), (x, frame.bottom + 5.0))
        words(parent, (x, frame.bottom + LEADING), f"{along:g}", text_anchor="middle")
    line(parent, (frame.left, frame.bottom), (frame.right, frame.bottom))


def below(parent: Element, frame: Frame, said: str = "hours in the lake") -> None:
    """What stands under a plot."""
    middle = 0.5 * (frame.left + frame.right)
    words(parent, (middle, frame.bottom + 2.0 * LEADING), said, text_anchor="middle")


def ribbons(parent: Element, frame: Frame, curve: Curve) -> None:
    """The bands that hold 19 of 20, 8 and 5 of 10; their edges are drawn, for a grey printer."""
    for level, fill, dash in _LEVELS:
        low, high = (curve.points(frame, f"{end}{level}") for end in ("low", "high"))
        style = {"stroke": EDGE, "stroke_width": "1.5", "stroke_dasharray": dash}
        face(parent, [*high, *low[::-1]], class_=f"band{level}", fill=fill)
        path(parent, high, class_=f"high{level}", **style)
        path(parent, low, class_=f"low{level}", **style)


def middles(
    parent: Element, frame: Frame, curve: Curve, *, colour: str, dash: str = DASHES[0]
) -> None:
    """The line of the middle bait, with a dot at each time told."""
    points = curve.points(frame, "median")
    style = {"stroke": colour, "stroke_width": "2.5", "stroke_dasharray": dash}
    path(parent, points, class_="median", **style)
    for at in curve.told:
        disc(parent, points[at], 3.5, class_="dot", fill=colour, stroke=PAPER, stroke_width="1")


@dataclass(frozen=True, slots=True)
class Mark:
    """A time that matters: a line down through the plot, and its words above it."""

    along: float
    said: str
    down: bool = True
    """Its sign is a triangle that points down, or else a diamond."""

    def draw(self, parent: Element, centre: Point) -> None:
        """The sign alone."""
        x, y = centre
        tip = [(x - 7.0, y - 6.0), (x + 7.0, y - 6.0), (x, y + 6.0)]
        diamond = [(x - 7.0, y), (x, y - 7.0), (x + 7.0, y), (x, y + 7.0)]
        face(parent, tip if self.down else diamond, class_="sign", fill=HOOK)


def marked(parent: Element, frame: Frame, marks: Sequence[Mark]) -> None:
    """Lines down through a plot, their words over it in rows with the sign each line carries."""
    for at, mark in enumerate(marks):
        x, top = frame.at(mark.along, frame.high)
        y = frame.top - 16.0 - LEADING * (len(marks) - 1 - at) - 6.0
        mark.draw(parent, (frame.left + 7.0, y - 6.0))
        words(parent, (frame.left + 20.0, y), mark.said, fill=HOOK)
        style = {"stroke": HOOK, "stroke_width": "2.5"}
        dash = "12 5" if mark.down else "3 4"
        line(parent, (x, top), (x, frame.bottom), class_="mark", stroke_dasharray=dash, **style)
        mark.draw(parent, (x, top - 6.0))


def key(parent: Element, top: float, *, middle: str = "middle") -> float:
    """What the bands hold, under a plot, in as many rows as it takes; where they end.

    Parameters
    ----------
    parent: the drawing.
    top: where the first row begins.
    middle: what the line in the middle is called.
    """
    x, y = 4.0, top + LEADING
    for level, fill, dash in (("", "", ""), *_LEVELS[::-1]):
        said = _HELD[level] if level else middle
        if x + 36.0 + width_of(said) > WIDTH:
            x, y = 4.0, y + LEADING
        low = y - 6.0
        if level:
            style = {"fill": fill, "stroke": EDGE, "stroke_width": "1.5", "stroke_dasharray": dash}
            shape(parent, "rect", x=x, y=low - 7.0, width=28.0, height=14.0, **style)
        else:
            line(parent, (x, low), (x + 28.0, low), stroke=MIDDLE, stroke_width="2.5")
            disc(parent, (x + 14.0, low), 3.5, fill=MIDDLE, stroke=PAPER, stroke_width="1")
        words(parent, (x + 34.0, y), said)
        x += 34.0 + width_of(said) + 12.0
    return y + 0.5 * LEADING


def beside(parent: Element, frame: Frame, labels: Sequence[Label], *, lines: int = 2) -> None:
    """Labels to the right of a plot, each led to the end of its line, none over another."""
    left = frame.right + _LEADER + 4.0
    told = [
        Led(
            frame.at(frame.last, label.value),
            tuple(folded(label.said, WIDTH - left - 8.0, lines=lines)),
            label.colour,
        )
        for label in sorted(labels, key=lambda label: -label.value)
    ]
    led(parent, left, told, low=frame.top - LEADING, high=frame.bottom + LEADING)
