"""A picture of the water a bait takes up through the night, and of what it weighs."""

from __future__ import annotations

from collections.abc import Callable
from xml.etree.ElementTree import Element

from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.batch.soaking import SoakPoint
from baitwright.quantities import show
from baitwright.sheets.charts import (
    HOLDS,
    LEFT,
    MARGIN,
    WITHIN,
    Frame,
    as_row,
    axes,
    below,
    curve_of,
    key,
    middles,
    ribbons,
    ticks,
)
from baitwright.sheets.svg import LEADING, MIDDLE, WIDTH, Picture, Table, canvas, words
from baitwright.sheets.text_soak import warmth
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity

_HEIGHT = 210.0
_TOLD: tuple[tuple[str, Callable[[SoakPoint], Quantity]], ...] = (
    ("water taken up by a bait, grams", lambda point: point.taken),
    ("weight of a bait, grams", lambda point: point.mass),
)


def water_picture(stage: SoakStage, *, name: str) -> Picture:
    """Water taken up through the soak, and weight below it, each with its bands.

    Parameters
    ----------
    stage: the soak.
    name: of the bait.
    """
    title = f"{name}: water taken up through the night"
    each = _HEIGHT + 5.0 * LEADING
    drawing = canvas("water", len(_TOLD) * each + 2.0 * LEADING, title=title, said=_said(stage))
    for at, (heading, read) in enumerate(_TOLD):
        _plot(drawing, stage, at * each, heading=heading, read=read)
    key(drawing, len(_TOLD) * each - 0.5 * LEADING)
    return Picture("water", title, drawing, (_table(stage),))


def _plot(
    drawing: Element,
    stage: SoakStage,
    top: float,
    *,
    heading: str,
    read: Callable[[SoakPoint], Quantity],
) -> None:
    curve = curve_of(stage.curve, read)
    low = min(band.low95 for band in curve.bands)
    rows = ticks(low, max(band.high95 for band in curve.bands), most=5)
    frame = Frame(
        left=LEFT,
        top=top + 2.0 * LEADING,
        width=WIDTH - LEFT - MARGIN,
        height=_HEIGHT,
        last=curve.along[-1],
        low=rows[0],
        high=rows[-1],
    )
    words(drawing, (4.0, top + LEADING), heading)
    ribbons(drawing, frame, curve)
    axes(drawing, frame, [(value, f"{value:g}") for value in rows])
    middles(drawing, frame, curve, colour=MIDDLE)
    below(drawing, frame)


def _said(stage: SoakStage) -> str:
    first, night, last = stage.curve[0], stage.at(NIGHT), stage.curve[-1]
    later = (
        ""
        if night is last
        else (f", and {figure(last.taken).with_band} after {show(last.time, 'h')}")
    )
    return (
        f"Water that one bait has taken up, lake at {warmth(stage)}: "
        f"{figure(night.taken).with_band} after {show(night.time, 'h')}{later}; {HOLDS}. It "
        f"weighs {figure(first.mass).with_band} at first and {figure(last.mass).with_band} after "
        f"{show(last.time, 'h')}: with the water that fills its air, less what dissolves."
    )


def _table(stage: SoakStage) -> Table:
    held = (50, 80, 95)
    rows = (
        (
            *as_row(point, point.taken),
            figure(point.mass).text,
            *(figure(point.mass, holding=one).band for one in held),
        )
        for point in stage.curve
    )
    weight = tuple(f"weight, {one}" for one in WITHIN)
    return Table(
        f"Water taken up and weight in the lake at {warmth(stage)}",
        ("after", "taken up", *WITHIN, "weight", *weight),
        tuple(rows),
    )
