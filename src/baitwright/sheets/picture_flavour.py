"""A picture of what is left of each flavour over the hours."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.quantities import show
from baitwright.sheets.charts import (
    HOLDS,
    HOUR,
    LEFT,
    MARGIN,
    WITHIN,
    Curve,
    Frame,
    Label,
    as_row,
    axes,
    below,
    beside,
    curve_of,
    key,
    middles,
    ribbons,
)
from baitwright.sheets.svg import (
    DASHES,
    LEADING,
    LIQUIDS,
    WIDTH,
    Picture,
    Table,
    canvas,
    folded,
    line,
    words,
)
from baitwright.sheets.text_soak import warmth
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of

_LABELS = 172.0
_TALL, _LOW, _PER_LABEL = 300.0, 130.0, 70.0
_ROWS = tuple((value, f"{value:.0f} %") for value in (0.0, 25.0, 50.0, 75.0, 100.0))
_FEWER = _ROWS[::2]


@dataclass(frozen=True, slots=True)
class _Line:
    """One liquid's curve, and how its line is told from others."""

    name: str
    curve: Curve
    colour: str
    dash: str


def flavour_picture(stage: SoakStage, *, name: str) -> Picture:
    """What is left of each liquid: all together by their middles, then each with its bands.

    Bands of several liquids over each other would hide one another, so each has a plot of its own.

    Parameters
    ----------
    stage: the soak.
    name: of the bait.
    """
    lines = _lines(stage)
    title = f"{name}: flavour left over the hours"
    together = _frame(0.0, max(_TALL, _PER_LABEL * len(lines)), stage, right=_LABELS)
    top = together.bottom + 3.0 * LEADING if len(lines) > 1 else 0.0
    frames = []
    for one in lines:
        top += LEADING * (len(_heading(one)) - 1)
        frames.append(_frame(top, _LOW, stage, right=MARGIN))
        top = frames[-1].bottom + 3.0 * LEADING
    bottom = top + 2.0 * LEADING if lines else 2.0 * LEADING
    drawing = canvas("flavour", bottom, title=title, said=_said(stage))
    if not lines:
        words(drawing, (4.0, LEADING), "No liquids in this bait.")
    if len(lines) > 1:
        _all(drawing, together, lines)
    for one, frame in zip(lines, frames, strict=True):
        _alone(drawing, frame, one)
    if lines:
        key(drawing, top - 0.5 * LEADING)
    return Picture("flavour", title, drawing, _tables(stage))


def _lines(stage: SoakStage) -> list[_Line]:
    found = []
    for at, one in enumerate(stage.curve[0].flavours):
        round_, place = divmod(at, len(DASHES))
        colour = LIQUIDS[(place + round_) % len(LIQUIDS)]
        curve = curve_of(stage.curve, lambda point, at=at: point.flavours[at].left)  # type: ignore[misc]
        found.append(_Line(one.name, curve, colour, DASHES[place]))
    return found


def _frame(top: float, height: float, stage: SoakStage, *, right: float) -> Frame:
    return Frame(
        left=LEFT,
        top=top + 2.0 * LEADING,
        width=WIDTH - LEFT - right,
        height=height,
        last=stage.curve[-1].time / HOUR,
        low=0.0,
        high=100.0,
    )


def _all(drawing: Element, frame: Frame, lines: Sequence[_Line]) -> None:
    words(drawing, (4.0, frame.top - LEADING), "flavour left, middle bait of each")
    axes(drawing, frame, _ROWS)
    for one in lines:
        middles(drawing, frame, one.curve, colour=one.colour, dash=one.dash)
    below(drawing, frame)
    ends = [Label(one.curve.bands[-1].median, one.name, one.colour) for one in lines]
    beside(drawing, frame, ends, lines=3)


def _alone(drawing: Element, frame: Frame, one: _Line) -> None:
    rows = _heading(one)
    for at, said in enumerate(rows):
        place = (frame.left, frame.top - 12.0 - LEADING * (len(rows) - 1 - at))
        words(drawing, place, said, fill=one.colour)
    y = frame.top - 17.0 - LEADING * (len(rows) - 1)
    sample = {"stroke": one.colour, "stroke_width": "2.5", "stroke_dasharray": one.dash}
    line(drawing, (4.0, y), (LEFT - 6.0, y), class_="sample", **sample)
    ribbons(drawing, frame, one.curve)
    axes(drawing, frame, _FEWER)
    middles(drawing, frame, one.curve, colour=one.colour, dash=one.dash)
    below(drawing, frame)


def _heading(one: _Line) -> list[str]:
    return folded(f"{one.name} left", WIDTH - LEFT - MARGIN, lines=2)


def _said(stage: SoakStage) -> str:
    flavours = stage.curve[0].flavours
    if not flavours:
        return "There are no liquids in this bait, so there is no flavour to leave."
    night, last = stage.at(NIGHT), stage.curve[-1]
    told = []
    for at, one in enumerate(flavours):
        said = f"{one.name}: {figure(night.flavours[at].left).with_band} left"
        said += f" after {show(night.time, 'h')}"
        if last.time > night.time:
            said += f", {figure(last.flavours[at].left).with_band} after {show(last.time, 'h')}"
        told.append(f"{said}; {_faded(stage.fades[at])}.")
    return (
        f"Share of each flavour left in the bait, lake at {warmth(stage)}; {HOLDS}. "
        f"{' '.join(told)}"
    )


def _faded(fades: Quantity) -> str:
    """When one would recast for this flavour alone."""
    if math.isinf(median_of(fades)):
        return "the hour to recast does not come"
    return f"time to recast after {figure(fades).text}"


def _tables(stage: SoakStage) -> tuple[Table, ...]:
    return tuple(
        Table(
            f"{one.name} left in the lake at {warmth(stage)}",
            ("after", "left", *WITHIN),
            tuple(as_row(point, point.flavours[at].left) for point in stage.curve),
        )
        for at, one in enumerate(stage.curve[0].flavours)
    )
