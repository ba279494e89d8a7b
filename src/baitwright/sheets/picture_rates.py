"""Rates of bites with their intervals, from given numbers: an axis from nothing, and the hours.

Drawing only: the intervals are worked out elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from baitwright.quantities import tidy
from baitwright.sheets.charts import HOLDS, WITHIN, key, ticks
from baitwright.sheets.svg import (
    EDGE,
    GRID,
    HALF_BAND,
    LEADING,
    MIDDLE,
    PAPER,
    WIDE_BAND,
    WIDEST_BAND,
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
from baitwright.sheets.wording import count_of
from baitwright.terms.band import Band

PER_DAY = "bites per 24 rod-hours"
_LEFT, _RIGHT, _ROW = 12.0, 22.0, 3.6 * LEADING
_BARS = (
    ("95", 12.0, WIDEST_BAND, "1 4"),
    ("80", 18.0, WIDE_BAND, "5 3"),
    ("50", 24.0, HALF_BAND, ""),
)


@dataclass(frozen=True, slots=True)
class Rate:
    """Bites in so many rod-hours, and what is believed of their rate.

    ``rate`` stands in bites per 24 rod-hours, its middle and its bands; it is nothing where the
    bait was not fished.
    """

    name: str
    bites: int
    rod_hours: float
    rate: Band | None


def rates_picture(rates: tuple[Rate, ...], *, name: str, title: str) -> Picture:
    """One row for each bait, water or rig: its intervals about its middle, its hours under it.

    Parameters
    ----------
    rates: in the order to be drawn; no order of merit.
    name: of the picture, unique on its page.
    title: of the picture.
    """
    ends = [one.rate.high95 for one in rates if one.rate is not None]
    marks = ticks(0.0, max([value for value in ends if math.isfinite(value)], default=1.0))
    top = 1.5 * LEADING
    bottom = top + _ROW * len(rates)
    drawing = canvas(name, bottom + 4.0 * LEADING, title=title, said=_said(rates))
    for mark in marks:
        x = _across(mark, marks[-1])
        line(drawing, (x, top), (x, bottom), class_="grid", stroke=GRID, stroke_width="0.5")
        words(drawing, (x, bottom + LEADING), f"{mark:g}", text_anchor="middle")
    words(drawing, (4.0, LEADING - 4.0), PER_DAY)
    line(drawing, (_LEFT, top), (_LEFT, bottom), class_="none", stroke_width="2")
    for at, one in enumerate(rates):
        _row(drawing, one, top + _ROW * at, last=marks[-1])
    key(drawing, bottom + 1.5 * LEADING, middle="middle")
    return Picture(name, title, drawing, (_table(rates),))


def _across(value: float, last: float) -> float:
    """Where a rate stands; one beyond the axis stands at its end."""
    return _LEFT + (WIDTH - _LEFT - _RIGHT) * min(value, last) / last


def _row(drawing: Element, one: Rate, top: float, *, last: float) -> None:
    (said,) = folded(one.name, WIDTH - _LEFT - 10.0, lines=1) or [""]
    words(drawing, (_LEFT + 6.0, top + LEADING), said, font_weight="bold")
    middle = top + 1.75 * LEADING
    words(drawing, (_LEFT + 6.0, middle + 1.4 * LEADING), _exposure(one))
    if one.rate is None:
        return
    for level, high, fill, dash in _BARS:
        start, end = (
            _across(getattr(one.rate, f"{side}{level}"), last) for side in ("low", "high")
        )
        style = {"fill": fill, "stroke": EDGE, "stroke_width": "1.5", "stroke_dasharray": dash}
        place = {"x": start, "y": middle - 0.5 * high, "width": end - start, "height": high}
        shape(drawing, "rect", class_=f"band{level}", **place, **style)
    point = (_across(one.rate.median, last), middle)
    disc(drawing, point, 6.0, class_="median", fill=MIDDLE, stroke=PAPER, stroke_width="1.5")


def _exposure(one: Rate) -> str:
    if one.rate is None:
        return "not fished"
    return f"{count_of(one.bites, 'bite')} in {tidy(one.rod_hours, 4)} rod-hours"


def _said(rates: tuple[Rate, ...]) -> str:
    told = []
    for one in rates:
        rate = f": {_middle(one)} ({_band(one, 80)})" if one.rate is not None else ""
        told.append(f"{one.name}, {_exposure(one)}{rate}")
    return f"{PER_DAY[:1].upper()}{PER_DAY[1:]}; {HOLDS}. {'. '.join(told)}."


def _middle(one: Rate) -> str:
    return "" if one.rate is None else tidy(one.rate.median, 2)


def _band(one: Rate, held: int) -> str:
    if one.rate is None:
        return ""
    ends = (getattr(one.rate, f"{side}{held}") for side in ("low", "high"))
    return " to ".join(tidy(value, 2) for value in ends)


def _table(rates: tuple[Rate, ...]) -> Table:
    rows = tuple(
        (one.name, _exposure(one), _middle(one), *(_band(one, held) for held in (50, 80, 95)))
        for one in rates
    )
    heads = ("of", "fished", PER_DAY, *WITHIN)
    return Table(f"{PER_DAY[:1].upper()}{PER_DAY[1:]}", heads, rows)
