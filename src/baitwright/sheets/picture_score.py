"""Readings against what was predicted of them: each on a strip of its own band, from given numbers.

Drawing only: the score is worked out elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from baitwright.learning.score import Score
from baitwright.quantities import show
from baitwright.sheets.charts import WITHIN, key
from baitwright.sheets.svg import (
    EDGE,
    HALF_BAND,
    INK,
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

_LEFT, _RIGHT, _ROW = 16.0, 24.0, 4.4 * LEADING
_ROOM = 0.12
"""Of a strip, left free at both ends."""
_BARS = (
    ("95", 14.0, WIDEST_BAND, "1 4"),
    ("80", 20.0, WIDE_BAND, "5 3"),
    ("50", 26.0, HALF_BAND, ""),
)


def score_picture(scores: Sequence[Score], *, title: str) -> Picture:
    """One strip for each reading that was predicted with a band; each has a scale of its own.

    Parameters
    ----------
    scores: readings held against their bands; those of known numbers are left out.
    title: of the picture.
    """
    told = [one for one in scores if not one.band.is_known]
    bottom = _ROW * len(told)
    drawing = canvas("score", bottom + 2.0 * LEADING, title=title, said=_said(told))
    for at, one in enumerate(told):
        _strip(drawing, one, _ROW * at)
    key(drawing, bottom + 0.5 * LEADING)
    return Picture("score", title, drawing, (_table(told, title),))


def _strip(drawing: Element, one: Score, top: float) -> None:
    """A reading's name, its band with the ends of 8 in 10, and where it fell."""
    (label,) = folded(f"{one.label}: {one.verdict}", WIDTH - 2.0 * _LEFT, lines=1)
    words(drawing, (_LEFT, top + LEADING), label, font_weight="bold")
    middle, band = top + 2.0 * LEADING, one.band
    low, high = min(band.low95, one.reading), max(band.high95, one.reading)
    free = _ROOM * (high - low)
    low, high = low - free, high + free

    def across(value: float) -> float:
        return _LEFT + (WIDTH - _LEFT - _RIGHT) * (value - low) / (high - low)

    for level, tall, fill, dash in _BARS:
        start, end = (across(getattr(band, f"{side}{level}")) for side in ("low", "high"))
        place = {"x": start, "y": middle - 0.5 * tall, "width": end - start, "height": tall}
        style = {"fill": fill, "stroke": EDGE, "stroke_width": "1.5", "stroke_dasharray": dash}
        shape(drawing, "rect", class_=f"band{level}", **place, **style)
    disc(drawing, (across(band.median), middle), 4.0, class_="median", fill=MIDDLE)
    here = across(one.reading)
    line(drawing, (here, middle - 17.0), (here, middle + 17.0), stroke=INK, stroke_width="3")
    disc(drawing, (here, middle), 7.0, fill=PAPER, stroke=INK, stroke_width="3")
    said = f"read {show(one.reading, one.shown)}; 8 in 10: {_ends(one, 80)}"
    (under,) = folded(said, WIDTH - 2.0 * _LEFT, lines=1)
    words(drawing, (_LEFT, middle + 1.8 * LEADING), under)


def _ends(one: Score, held: int) -> str:
    low, high = (getattr(one.band, f"{side}{held}") for side in ("low", "high"))
    return f"{show(low, one.shown)} to {show(high, one.shown)}"


def _said(scores: Sequence[Score]) -> str:
    told = ". ".join(f"{one.label}: {one.words}" for one in scores)
    return f"The ring is the reading, the bar what was predicted. {told}."


def _table(scores: Sequence[Score], caption: str) -> Table:
    rows = tuple(
        (
            one.label,
            show(one.reading, one.shown),
            *(_ends(one, held) for held in (50, 80, 95)),
        )
        for one in scores
    )
    return Table(caption, ("of", "read", *WITHIN), rows)
