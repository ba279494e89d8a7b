"""Two baits cut open beside each other at one scale: in the pot, off the tray, after the lake."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.picture_bait import MARKS, Cut, cuts_of, draw_rings, scale_bar
from baitwright.sheets.svg import (
    GRID,
    LEADING,
    WIDTH,
    Picture,
    Table,
    canvas,
    folded,
    line,
    tiles,
    words,
)

_COLUMN, _RADIUS = WIDTH / 2.0, 96.0


def pair_picture(plans: tuple[BatchPlan, BatchPlan], names: tuple[str, str]) -> Picture:
    """Two plans' baits, the first to the left.

    Parameters
    ----------
    plans: of the baits.
    names: what the two are called.
    """
    columns = [cuts_of(plan, plan.soak) for plan in plans]
    scale = _RADIUS / max(cut.rings[0].radius for cuts in columns for cut in cuts)
    rows = list(zip(*columns, strict=True))
    said = ". ".join(
        f"{name}: " + "; ".join(f"{cut.heading}, {cut.sentence}" for cut in cuts)
        for name, cuts in zip(names, columns, strict=True)
    )
    heights = [_height(row) for row in rows]
    top = 1.5 * LEADING
    title = "Cut open beside each other, to one scale"
    drawing = canvas("pair", top + sum(heights) + 1.5 * LEADING, title=title, said=f"{said}.")
    tiles(drawing, "pair", MARKS)
    for at, name in enumerate(names):
        for kept in folded(name, _COLUMN - 12.0, lines=1):
            words(drawing, (_left(at), LEADING), kept, font_weight="bold")
    for row, height in zip(rows, heights, strict=True):
        line(drawing, (4.0, top), (WIDTH - 4.0, top), class_="grid", stroke=GRID)
        for at, cut in enumerate(row):
            _one(drawing, cut, left=_left(at), top=top, scale=scale)
        top += height
    scale_bar(drawing, scale, top=top + 0.5 * LEADING)
    cells = tuple((one.heading, one.sentence, other.sentence) for one, other in rows)
    return Picture("pair", title, drawing, (Table(title, ("when", *names), cells),))


def _left(at: int) -> float:
    return at * _COLUMN + 8.0


def _words(cut: Cut) -> list[str]:
    """What stands under a bait: when, its width, and each layer in turn."""
    parts = (cut.heading, cut.edge, *(ring.said for ring in cut.rings))
    return [kept for said in parts for kept in folded(said, _COLUMN - 16.0, lines=2)]


def _height(row: tuple[Cut, ...]) -> float:
    lines = max(len(_words(cut)) for cut in row)
    return 2.0 * _RADIUS + LEADING * (lines + 2.0)


def _one(drawing: Element, cut: Cut, *, left: float, top: float, scale: float) -> None:
    middle = top + 0.5 * LEADING + _RADIUS
    draw_rings(drawing, cut.rings, (left + 0.5 * _COLUMN - 8.0, middle), scale=scale, name="pair")
    told = _words(cut)
    for at, said in enumerate(told):
        weight = "bold" if at < len(folded(cut.heading, _COLUMN - 16.0, lines=2)) else "normal"
        down = middle + _RADIUS + LEADING * (at + 1.25)
        words(drawing, (left, down), said, font_weight=weight)
