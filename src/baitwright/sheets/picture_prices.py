"""A picture of the best mix over the price of one ingredient: what it costs, how much of it."""

from __future__ import annotations

from baitwright.blending.sweep import Sweep
from baitwright.quantities import show, tidy
from baitwright.sheets.charts import LEFT, MARGIN, Frame, axes, below, ticks
from baitwright.sheets.svg import (
    EDGE,
    HOOK,
    LEADING,
    MIDDLE,
    PAPER,
    WIDTH,
    Picture,
    Table,
    canvas,
    disc,
    line,
    path,
    words,
)

_HEIGHT = 190.0


def prices_picture(swept: Sweep, now: float, *, name: str, ingredient: str) -> Picture:
    """Two plots over a price: the cost of the best mix, and the share of the ingredient in it.

    Parameters
    ----------
    swept: the best mixes.
    now: the ingredient's price as it stands [per kg].
    name: of the mix.
    ingredient: in the maker's words.
    """
    first, last = swept.stretches[0].low, swept.stretches[-1].high
    costs = [(one.low, one.cost(one.low)) for one in swept.stretches]
    costs.append((last, swept.stretches[-1].cost(last)))
    shares = [
        (price, 100.0 * one.share) for one in swept.stretches for price in (one.low, one.high)
    ]
    cost_rows = ticks(*_ends(costs), most=5)
    share_rows = ticks(0.0, max(1.0, *_ends(shares)), most=5)
    upper = _frame(cost_rows, last - first, top=2.0 * LEADING)
    lower = _frame(share_rows, last - first, top=upper.bottom + 4.5 * LEADING)
    title = f"{name}: as the price of {ingredient} moves"
    height = lower.bottom + 4.0 * LEADING
    drawing = canvas("prices", height, title=title, said=_said(swept, now, ingredient))
    words(drawing, (4.0, LEADING), "cost of the best mix, per kg")
    words(drawing, (4.0, lower.top - LEADING), f"{ingredient} in it, % of the mix")
    for frame, points, rows in ((upper, costs, cost_rows), (lower, shares, share_rows)):
        axes(drawing, frame, [(row, f"{row:g}") for row in rows], marks=[])
        for price in ticks(first, last):
            if first - 1e-9 <= price <= last + 1e-9:
                x, y = frame.at(price - first, frame.low)
                line(drawing, (x, y), (x, y + 5.0))
                words(drawing, (x, y + LEADING), f"{price:g}", text_anchor="middle")
        at_now = {"class_": "now", "stroke": HOOK, "stroke_width": "2", "stroke_dasharray": "3 4"}
        if first <= now <= last:
            low, high = (frame.at(now - first, end) for end in (frame.low, frame.high))
            line(drawing, low, high, **at_now)
        drawn = [frame.at(price - first, value) for price, value in points]
        path(drawing, drawn, class_="best", stroke=MIDDLE, stroke_width="2.5")
    for price, value in costs[1:-1]:
        dot = upper.at(price - first, value)
        disc(drawing, dot, 4.0, class_="dot", fill=EDGE, stroke=PAPER, stroke_width="1")
    below(drawing, lower, f"price of {ingredient}, per kg")
    words(drawing, (4.0, height - 0.5 * LEADING), f"dashed: {tidy(now, 4)} now", fill=HOOK)
    return Picture("prices", title, drawing, (_table(swept, ingredient),))


def _frame(rows: list[float], span: float, *, top: float) -> Frame:
    return Frame(LEFT, top, WIDTH - LEFT - MARGIN, _HEIGHT, span, rows[0], rows[-1])


def _ends(points: list[tuple[float, float]]) -> tuple[float, float]:
    values = [value for _, value in points]
    return min(values), max(values)


def _said(swept: Sweep, now: float, ingredient: str) -> str:
    first, last = swept.stretches[0], swept.stretches[-1]
    held = swept.at(now)
    return (
        f"At {tidy(first.low, 4)} per kg the best mix holds {show(first.share, '%')} {ingredient} "
        f"and costs {tidy(first.cost(first.low), 4)}; at {tidy(last.high, 4)} it holds "
        f"{show(last.share, '%')} and costs {tidy(last.cost(last.high), 4)}. At {tidy(now, 4)}, "
        f"the price now, it holds {show(held.share, '%')}. Between them the best mix changes "
        f"{len(swept.stretches) - 1} times."
    )


def _table(swept: Sweep, ingredient: str) -> Table:
    heads = ("price from", "to", f"{ingredient}", "the mix costs from", "to")
    rows = tuple(
        (
            tidy(one.low, 4),
            tidy(one.high, 4),
            show(one.share, "%"),
            tidy(one.cost(one.low), 4),
            tidy(one.cost(one.high), 4),
        )
        for one in swept.stretches
    )
    return Table(f"The best mix over the price of {ingredient}, per kg", heads, rows)
