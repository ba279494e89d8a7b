"""A picture of the set going into the paste, second after second in the pot."""

from __future__ import annotations

import math

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.curves import SetPoint, front_curve
from baitwright.sheets.charts import (
    HOLDS,
    LEFT,
    MARGIN,
    WITHIN,
    Curve,
    Frame,
    Mark,
    as_row,
    axes,
    below,
    curve_of,
    key,
    marked,
    middles,
    ribbons,
    second_ticks,
    ticks,
)
from baitwright.sheets.svg import INK, LEADING, MIDDLE, WIDTH, Picture, Table, canvas, line, words
from baitwright.sheets.wording import figure, in_unit
from baitwright.uncertainty.bands import median_of

_HEIGHT = 280.0
_POINTS = 48
_BEYOND = 4.0 / 3.0
"""The curve is told beyond the timer by a third of it, for what a late lift would bring."""


def front_picture(plan: BatchPlan, *, name: str) -> Picture:
    """How deep the paste is set against seconds in the pot, with the timer.

    Parameters
    ----------
    plan: the bait's plan.
    name: of the bait.
    """
    points, told = _points(plan)
    curve = curve_of(points, lambda point: point.depth, unit=1.0, told=lambda one: one.time in told)
    rolled = plan.rolled.bait
    wall = in_unit(0.5 * (median_of(rolled.diameter) - median_of(rolled.core_diameter)), "mm")
    rows = ticks(0.0, max(wall, *(band.high95 for band in curve.bands)), most=5)
    frame = _frame(curve, rows)
    title = f"{name}: how deep the paste is set, second by second"
    rows_told = [point for point in points if point.time in told]
    drawing = canvas("set", frame.bottom + 5.0 * LEADING, title=title, said=_said(plan, rows_told))
    words(drawing, (4.0, LEADING), "mm set, from the skin down")
    ribbons(drawing, frame, curve)
    labels = [(value, f"{value:g}") for value in reversed(rows)]
    axes(drawing, frame, labels, marks=second_ticks(frame.last))
    inside = "to the core" if median_of(rolled.core_diameter) else "to the middle"
    style = {"class_": "wall", "stroke": INK, "stroke_width": "2", "stroke_dasharray": "8 3 2 3"}
    line(drawing, frame.at(0.0, wall), frame.at(frame.last, wall), **style)
    words(drawing, (frame.left + 6.0, frame.at(0.0, wall)[1] - 6.0), inside)
    middles(drawing, frame, curve, colour=MIDDLE)
    boil = plan.boil.seconds
    share = figure(plan.boil.set_share).text
    said = f"timer {figure(boil).text}: {share} set through"
    marked(drawing, frame, (Mark(median_of(boil), said),))
    below(drawing, frame, "seconds in the pot")
    key(drawing, frame.bottom + 2.5 * LEADING)
    return Picture("set", title, drawing, (_table(rows_told),))


def _points(plan: BatchPlan) -> tuple[tuple[SetPoint, ...], set[float]]:
    """The curve, and which of its seconds stand in the table: round ones and the timer."""
    timer = median_of(plan.boil.seconds)
    last = 5.0 * math.ceil(timer * _BEYOND / 5.0)
    told = {*second_ticks(last), timer, last}
    fine = {last * at / _POINTS for at in range(_POINTS + 1)}
    return front_curve(plan.boil, sorted(told | fine)), told


def _frame(curve: Curve, rows: list[float]) -> Frame:
    """Depth goes down the paper, as it does in the bait."""
    return Frame(
        left=LEFT,
        top=3.5 * LEADING,
        width=WIDTH - LEFT - MARGIN,
        height=_HEIGHT,
        last=curve.along[-1],
        low=rows[-1],
        high=0.0,
    )


def _said(plan: BatchPlan, told: list[SetPoint]) -> str:
    boil = plan.boil
    depths = ", ".join(f"{figure(point.depth).with_band} at {point.time:g} s" for point in told[1:])
    return (
        f"Depth to which egg white has set, from the skin down: {depths}; {HOLDS}. The timer is "
        f"set to {figure(boil.seconds).text}: {figure(boil.set_share).text} of the baits are set "
        f"through then. It is the coldest paste that decides."
    )


def _table(told: list[SetPoint]) -> Table:
    return Table(
        "How deep the paste is set",
        ("in the pot", "set", *WITHIN, "set through"),
        tuple(
            (*as_row(point, point.depth, unit="s"), figure(point.through).text) for point in told
        ),
    )
