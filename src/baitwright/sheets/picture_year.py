"""A year drawn from given numbers: its baits month by month, and its readings beside their plans.

Drawing only: the numbers are worked out elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence

from baitwright.quantities import tidy
from baitwright.sheets.charts import LEFT, MARGIN, Frame, axes, ticks
from baitwright.sheets.svg import (
    EDGE,
    GRID,
    HALF_BAND,
    INK,
    LEADING,
    MIDDLE,
    PAPER,
    WIDTH,
    Picture,
    Table,
    canvas,
    disc,
    folded,
    line,
    shape,
    words,
)

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_TALL, _ROW, _SIDE = 190.0, 3.0 * LEADING, 34.0
_BAR = 0.66
"""Of a month's room."""


def months_picture(baits: Sequence[int], *, title: str) -> Picture:
    """A bar for the good baits of each month.

    Parameters
    ----------
    baits: of January to December.
    title: of the picture.
    """
    rows = ticks(0.0, max(1.0, *baits), most=5)
    top = 2.0 * LEADING
    frame = Frame(LEFT, top, WIDTH - LEFT - MARGIN, _TALL, 12.0, rows[0], rows[-1])
    told = [(month, many) for month, many in zip(MONTHS, baits, strict=True) if many]
    said = ", ".join(f"{month} {many}" for month, many in told) or "none in any month"
    height = frame.bottom + 2.0 * LEADING
    drawing = canvas("months", height, title=title, said=f"Good baits made: {said}.")
    words(drawing, (4.0, LEADING), "good baits made")
    axes(drawing, frame, [(row, f"{row:g}") for row in rows], marks=[])
    for at, (month, many) in enumerate(zip(MONTHS, baits, strict=True)):
        left, high = frame.at(at + 0.5 * (1.0 - _BAR), many)
        middle, _ = frame.at(at + 0.5, 0.0)
        place = {"x": left, "y": high, "width": frame.width / 12.0 * _BAR}
        style = {"fill": HALF_BAND, "stroke": EDGE, "stroke_width": "1.5"}
        if many:
            shape(drawing, "rect", class_="month", **place, height=frame.bottom - high, **style)
        words(drawing, (middle, frame.bottom + LEADING), month[0], text_anchor="middle")
    table = tuple((month, str(many)) for month, many in zip(MONTHS, baits, strict=True))
    caption = "Good baits made, month by month"
    return Picture("months", title, drawing, (Table(caption, ("month", "baits"), table),))


def readings_picture(readings: Sequence[tuple[str, float, str]], *, title: str) -> Picture:
    """Each reading on a line about its plan: how much more or less it came to on the middle.

    Parameters
    ----------
    readings: its name, the middle of read over planned, and how many lay in their bands.
    title: of the picture.
    """
    off = [100.0 * (over - 1.0) for _, over, _ in readings]
    far = ticks(0.0, max(1.0, *(abs(one) for one in off)), most=3)[-1]
    bottom = LEADING + _ROW * len(readings)
    rows = tuple(
        (name, _apart(one), inside) for (name, _, inside), one in zip(readings, off, strict=True)
    )
    said = "; ".join(f"{name} {apart}, {inside}" for name, apart, inside in rows)
    height = bottom + 2.5 * LEADING
    drawing = canvas("readings", height, title=title, said=f"Read against planned: {said}.")

    def across(percent: float) -> float:
        return _SIDE + (WIDTH - 2.0 * _SIDE) * (percent + far) / (2.0 * far)

    for mark in (-far, -0.5 * far, 0.0, 0.5 * far, far):
        for at in range(len(rows)):  # between the words, not through them
            foot = LEADING + _ROW * (at + 1)
            start, end = (across(mark), foot - 1.6 * LEADING), (across(mark), foot)
            heavy = {"stroke": INK, "stroke_width": "1.5"} if not mark else {"stroke": GRID}
            line(drawing, start, end, **heavy)
        label = "as planned" if not mark else f"{mark:+g} %"
        words(drawing, (across(mark), bottom + LEADING), label, text_anchor="middle")
    for at, (row, one) in enumerate(zip(rows, off, strict=True)):
        top = LEADING + _ROW * at
        (told,) = folded(f"{row[0]}: {row[1]}, {row[2]}", WIDTH - 8.0, lines=1)
        words(drawing, (4.0, top + LEADING), told)
        y = top + 2.2 * LEADING
        line(drawing, (across(0.0), y), (across(one), y), stroke=EDGE, stroke_width="5")
        style = {"fill": MIDDLE, "stroke": PAPER, "stroke_width": "1.5"}
        disc(drawing, (across(one), y), 7.0, class_="read", **style)
    heads = ("reading", "on the middle", "in its band of four in five")
    table = Table("Read against planned", heads, rows)
    return Picture("readings", title, drawing, (table,))


def _apart(percent: float) -> str:
    """How far off the plan, in words."""
    if abs(percent) < 0.05:
        return "as planned"
    return f"{tidy(abs(percent), 2)} % {'more' if percent > 0.0 else 'less'}"
