"""Control charts of given numbers: values batch after batch, their centre and limits.

Drawing only: centre, limits and smoothed values are worked out elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from baitwright.quantities import tidy
from baitwright.sheets.charts import Frame, Label, axes, below, beside, ticks
from baitwright.sheets.svg import (
    EDGE,
    HOOK,
    INK,
    LEADING,
    MIDDLE,
    PAPER,
    WIDTH,
    Picture,
    Point,
    Table,
    canvas,
    disc,
    face,
    line,
    path,
    width_of,
    words,
)

_LEFT, _LABELS, _HEIGHT = 70.0, 150.0, 300.0
_BATCH_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500)


@dataclass(frozen=True, slots=True)
class ControlChart:
    """Values in order with the centre and the limits that somebody has set for them.

    ``value`` says what is charted, in ``unit``; ``names`` are those of the batches. There are as
    many ``low`` and ``high`` limits as values, since a smoothed chart opens its limits as it goes.
    ``single`` are the values behind smoothed ones, as many, or none.
    """

    value: str
    unit: str
    names: tuple[str, ...]
    values: tuple[float, ...]
    centre: float
    low: tuple[float, ...]
    high: tuple[float, ...]
    single: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a chart without values, with rows of different lengths, or without numbers."""
        rows = (self.values, self.low, self.high, self.single or self.values)
        if not self.values or any(len(row) != len(self.names) for row in rows):
            raise ValueError("a control chart takes as many values and limits as it has names")
        if not all(map(math.isfinite, (self.centre, *(one for row in rows for one in row)))):
            raise ValueError("a control chart takes numbers only")

    def beyond(self, at: int) -> str:
        """Where a value lies beyond its limits: above, below, or nothing."""
        if self.values[at] > self.high[at]:
            return "above"
        return "below" if self.values[at] < self.low[at] else ""


def control_picture(chart: ControlChart, *, name: str, title: str) -> Picture:
    """A control chart: dots within the limits, diamonds with their names beyond them.

    Parameters
    ----------
    chart: what is charted.
    name: of the picture, unique on its page.
    title: of the picture.
    """
    every = (chart.centre, *chart.values, *chart.low, *chart.high, *chart.single)
    rows = ticks(min(every), max(every))
    frame = Frame(
        left=_LEFT,
        top=2.0 * LEADING,
        width=WIDTH - _LEFT - _LABELS,
        height=_HEIGHT,
        last=len(chart.values) + 1.0,
        low=rows[0],
        high=rows[-1],
    )
    key = 2.0 * LEADING if chart.single else LEADING
    drawing = canvas(name, frame.bottom + 2.5 * LEADING + key, title=title, said=_said(chart))
    words(drawing, (4.0, LEADING), f"{chart.value}, {chart.unit}" if chart.unit else chart.value)
    axes(drawing, frame, [(row, f"{row:g}") for row in rows], marks=_batches(len(chart.values)))
    _limits(drawing, frame, chart)
    singles = [frame.at(at + 1.0, one) for at, one in enumerate(chart.single)]
    points = [frame.at(at + 1.0, one) for at, one in enumerate(chart.values)]
    for point in singles:
        _cross(drawing, point)
    path(drawing, points, class_="values", stroke=MIDDLE, stroke_width="2")
    for at, point in enumerate(points):
        if chart.beyond(at):
            _diamond(drawing, point)
        else:
            disc(drawing, point, 4.0, class_="dot", fill=MIDDLE, stroke=PAPER, stroke_width="1")
    _name_those_beyond(drawing, frame, chart, points=points)
    below(drawing, frame, "batches in order")
    _signs(drawing, frame.bottom + 3.0 * LEADING, single=bool(chart.single))
    return Picture(name, title, drawing, (_table(chart),))


def _batches(count: int) -> list[float]:
    step = next((one for one in _BATCH_STEPS if count / one <= 6.0), _BATCH_STEPS[-1])
    first = () if step == 2 else (1.0,)  # which would stand against the second
    return [*first, *(float(at) for at in range(step, count + 1, step) if at > 1)]


def _limits(drawing: Element, frame: Frame, chart: ControlChart) -> None:
    """Centre and limits, each with its word and number; limits step from value to value."""
    centre = [frame.at(0.0, chart.centre), frame.at(frame.last, chart.centre)]
    line(drawing, centre[0], centre[1], class_="centre", stroke=INK, stroke_width="1.5")
    for kind, limits in (("high", chart.high), ("low", chart.low)):
        points = [
            frame.at(at + side, limit)
            for at, limit in enumerate(limits, start=1)
            for side in (-0.5, 0.5)
        ]
        path(drawing, points, class_=kind, stroke=HOOK, stroke_width="2", stroke_dasharray="10 5")
    labels = (
        Label(chart.high[-1], f"upper limit {_told(chart, chart.high[-1])}", HOOK),
        Label(chart.centre, f"centre {_told(chart, chart.centre)}"),
        Label(chart.low[-1], f"lower limit {_told(chart, chart.low[-1])}", HOOK),
    )
    beside(drawing, frame, labels)


def _told(chart: ControlChart, value: float) -> str:
    return f"{tidy(value, 4)} {chart.unit}".rstrip()


def _cross(drawing: Element, at: Point) -> None:
    x, y = at
    for down in (-1.0, 1.0):
        ends = (x - 4.0, y - 4.0 * down), (x + 4.0, y + 4.0 * down)
        line(drawing, *ends, class_="single", stroke=EDGE, stroke_width="1.5")


def _diamond(drawing: Element, at: Point) -> None:
    x, y = at
    corners = [(x - 8.0, y), (x, y - 8.0), (x + 8.0, y), (x, y + 8.0)]
    face(drawing, corners, class_="beyond", fill=HOOK, stroke=PAPER, stroke_width="1")


def _name_those_beyond(
    drawing: Element, frame: Frame, chart: ControlChart, *, points: Sequence[Point]
) -> None:
    """Numbers of the batches beyond a limit, within the plot and as far as there is room."""
    last = -math.inf
    for at, (x, y) in enumerate(points):
        side, said = chart.beyond(at), str(at + 1)
        left = x - 0.5 * width_of(said)
        if not side or left < last + 4.0:
            continue
        over, under = y - 12.0, y + 24.0
        fits = over > frame.top + 10.0 if side == "above" else under < frame.bottom - 4.0
        place = over if fits == (side == "above") else under
        words(drawing, (x, place), said, text_anchor="middle", fill=HOOK)
        last = left + width_of(said)


def _signs(drawing: Element, y: float, *, single: bool) -> None:
    """What the signs mean."""
    disc(drawing, (12.0, y - 6.0), 4.0, fill=MIDDLE, stroke=PAPER, stroke_width="1")
    words(drawing, (24.0, y), "within")
    _diamond(drawing, (120.0, y - 6.0))
    words(drawing, (134.0, y), "beyond a limit")
    if single:
        _cross(drawing, (12.0, y + LEADING - 6.0))
        words(drawing, (24.0, y + LEADING), "single batch; the line is smoothed")


def _said(chart: ControlChart) -> str:
    beyond = [
        f"{chart.names[at]} {_told(chart, value)}, {chart.beyond(at)}"
        for at, value in enumerate(chart.values)
        if chart.beyond(at)
    ]
    out = "; ".join(beyond) if beyond else "none"
    return (
        f"{chart.value[:1].upper()}{chart.value[1:]} of {len(chart.values)} batches in order, "
        f"about a centre of {_told(chart, chart.centre)}; limits at the last "
        f"{_told(chart, chart.low[-1])} and {_told(chart, chart.high[-1])}. "
        f"Beyond a limit: {out}."
    )


def _table(chart: ControlChart) -> Table:
    heads = ("batch", *(("single",) if chart.single else ()), chart.value, "from", "to", "beyond")
    rows = []
    for at, (name, value) in enumerate(zip(chart.names, chart.values, strict=True)):
        single = (_told(chart, chart.single[at]),) if chart.single else ()
        limits = (_told(chart, chart.low[at]), _told(chart, chart.high[at]))
        rows.append((name, *single, _told(chart, value), *limits, chart.beyond(at)))
    caption = f"{chart.value}, centre {_told(chart, chart.centre)}"
    return Table(caption[:1].upper() + caption[1:], heads, tuple(rows))
