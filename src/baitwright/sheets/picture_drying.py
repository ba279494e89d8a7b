"""A picture of water leaving the baits on the tray, hour after hour."""

from __future__ import annotations

import math

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.curves import WaterPoint, drying_curve
from baitwright.batch.tray_air import HORIZON
from baitwright.sheets.charts import (
    HOLDS,
    HOUR,
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
    hour_ticks,
    key,
    marked,
    middles,
    ribbons,
    ticks,
)
from baitwright.sheets.svg import LEADING, MIDDLE, WIDTH, Picture, Table, canvas, words
from baitwright.sheets.wording import figure
from baitwright.uncertainty.bands import median_of

_HEIGHT = 280.0
_POINTS = 48
_BEYOND, _LEAST = 1.5, 24.0
"""Told beyond the time on the tray by half of it, and for a day at least [h]."""


def drying_picture(plan: BatchPlan, *, name: str) -> Picture:
    """Water left in a bait against hours on the tray, when ready, and when to take them off.

    Parameters
    ----------
    plan: the bait's plan.
    name: of the bait.
    """
    points, told = _points(plan)
    curve = curve_of(points, lambda point: point.left, told=lambda one: one.time in told)
    rows = ticks(0.0, max(band.high95 for band in curve.bands), most=5)
    marks = _marks(plan, curve.along[-1])
    frame = _frame(curve, rows, above=len(marks))
    title = f"{name}: water left, hour by hour on the tray"
    rows_told = [point for point in points if point.time in told]
    drawing = canvas(
        "drying", frame.bottom + 5.0 * LEADING, title=title, said=_said(plan, rows_told)
    )
    words(drawing, (4.0, LEADING), "water left in a bait, grams")
    ribbons(drawing, frame, curve)
    axes(drawing, frame, [(value, f"{value:g}") for value in rows])
    middles(drawing, frame, curve, colour=MIDDLE)
    marked(drawing, frame, marks)
    below(drawing, frame, "hours on the tray")
    key(drawing, frame.bottom + 2.5 * LEADING)
    return Picture("drying", title, drawing, (_table(plan, rows_told),))


def _points(plan: BatchPlan) -> tuple[tuple[WaterPoint, ...], set[float]]:
    """The curve, and which of its times stand in the table: round hours and the end of the tray."""
    tray = median_of(plan.dry.time)
    last = min(HORIZON, HOUR * math.ceil(max(_LEAST, tray / HOUR * _BEYOND)))
    told = {*(HOUR * hour for hour in hour_ticks(last / HOUR)), tray, last}
    fine = {last * (at / _POINTS) ** 2 for at in range(_POINTS + 1)}
    return drying_curve(plan.dry, sorted(told | fine)), told


def _marks(plan: BatchPlan, last: float) -> tuple[Mark, ...]:
    ready, tray = median_of(plan.dry.ready) / HOUR, median_of(plan.dry.time) / HOUR
    taken = Mark(tray, f"off the tray at {figure(plan.dry.time).text}")
    if not plan.day.dries:
        return ()
    if ready > last:
        return (taken,)
    return (Mark(ready, f"ready at {figure(plan.dry.ready).with_band}", down=False), taken)


def _frame(curve: Curve, rows: list[float], *, above: int) -> Frame:
    return Frame(
        left=LEFT,
        top=(2.5 + above) * LEADING if above else 2.0 * LEADING,
        width=WIDTH - LEFT - MARGIN,
        height=_HEIGHT,
        last=curve.along[-1],
        low=0.0,
        high=rows[-1],
    )


def _said(plan: BatchPlan, told: list[WaterPoint]) -> str:
    dry, start = plan.dry, told[0]
    tray = next(point for point in told if point.time == median_of(dry.time))
    when = (
        f"They are ready at {figure(dry.ready).with_band} and leave the tray at "
        f"{figure(dry.time).text}, lighter by {figure(dry.loss).with_band}"
        if plan.day.dries
        else "In this air they are not ready within four days"
    )
    return (
        f"Water left in one bait: {figure(start.left).with_band} as it comes onto the tray, "
        f"{figure(tray.left).with_band} at {figure(dry.time).text}, "
        f"{figure(told[-1].left).with_band} at {told[-1].time / HOUR:g} h; {HOLDS}. {when}."
    )


def _table(plan: BatchPlan, told: list[WaterPoint]) -> Table:
    ready = "not ready within four days"
    if plan.day.dries:
        ready = f"ready at {figure(plan.dry.ready).with_band}"
    return Table(
        f"Water left in a bait on the tray; {ready}",
        ("on the tray", "water left", *WITHIN),
        tuple(as_row(point, point.left) for point in told),
    )
