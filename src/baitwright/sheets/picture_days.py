"""A strip of a day with several batches: who has the hands when, and what lies on the trays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from xml.etree.ElementTree import Element

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.day import Step
from baitwright.sheets.picture_day import MARKS, WORDS
from baitwright.sheets.svg import (
    GRID,
    INK,
    LEADING,
    TEXT,
    WIDTH,
    Picture,
    Table,
    canvas,
    line,
    shape,
    tiles,
    words,
)
from baitwright.sheets.wording import clock, count_of, span, weekday

_LEFT, _RIGHT, _BAR = 6.0, 8.0, 30.0
_EDGE = 26.0
"""Nearer the edge than this an hour has no room for its words."""
_ROW = LEADING + _BAR + 12.0
_HOURS = (2, 4, 6, 12, 24)


@dataclass(frozen=True, slots=True)
class _Strip:
    """The times at both ends of the paper."""

    start: datetime
    end: datetime

    def at(self, moment: datetime) -> float:
        """How far right a moment stands."""
        share = (moment - self.start) / (self.end - self.start)
        return _LEFT + (WIDTH - _LEFT - _RIGHT) * share


def days_picture(plans: Sequence[BatchPlan]) -> Picture:
    """Batches one under the other along one clock.

    Parameters
    ----------
    plans: at their hours; at least one.
    """
    rows = _rows_of(plans)
    steps = [step for _, steps in rows for step in steps]
    strip = _Strip(min(one.start for one in steps), max(one.end for one in steps))
    bottom = 1.5 * LEADING + _ROW * len(rows)
    title = f"The hours of {count_of(len(plans), 'batch', 'batches')}"
    drawing = canvas("days", bottom + 4.5 * LEADING, title=title, said=_told(plans))
    tiles(drawing, "days", MARKS)
    tops = [1.5 * LEADING + _ROW * at for at in range(len(rows))]
    _ticks(drawing, strip, [top + 6.0 for top in tops])
    for top, (name, row) in zip(tops, rows, strict=True):
        words(drawing, (_LEFT, top), name, font_weight="bold")
        for step in row:
            left, right = strip.at(step.start), strip.at(step.end)
            fill = f"url(#days-{step.doing.value})"
            style = {"stroke": INK, "stroke_width": "1", "class_": step.doing.value}
            place = {"x": left, "y": top + 6.0, "width": right - left, "height": _BAR}
            shape(drawing, "rect", **place, fill=fill, **style)
    _legend(drawing, bottom + 2.6 * LEADING)
    return Picture("days", title, drawing, (_table(plans),))


def _ticks(drawing: Element, strip: _Strip, bars: Sequence[float]) -> None:
    """Round hours behind every bar, and their words under the last one."""
    hours = (strip.end - strip.start) / timedelta(hours=1)
    step = next((one for one in _HOURS if hours / one <= 6.0), _HOURS[-1])
    moment = strip.start.replace(minute=0, second=0, microsecond=0)
    while moment <= strip.end:
        if moment >= strip.start and moment.hour % step == 0:
            x, new = strip.at(moment), moment.hour == 0
            for top in bars:
                line(drawing, (x, top), (x, top + _BAR + 6.0), stroke=INK if new else GRID)
            if _EDGE < x < WIDTH - _EDGE:
                told = weekday(moment) if new else clock(moment)
                style = {"text_anchor": "middle", "font_weight": "bold" if new else ""}
                words(drawing, (x, bars[-1] + _BAR + 6.0 + TEXT), told, **style)
        moment += timedelta(hours=1)


def _legend(drawing: Element, top: float) -> None:
    x = _LEFT
    for doing, said in WORDS.items():
        fill = f"url(#days-{doing.value})"
        shape(drawing, "rect", x=x, y=top, width=30.0, height=20.0, fill=fill, stroke=INK)
        words(drawing, (x + 38.0, top + 16.0), said)
        x += (WIDTH - _LEFT - _RIGHT) / len(WORDS)


def _rows_of(plans: Sequence[BatchPlan]) -> list[tuple[str, tuple[Step, ...]]]:
    """A row for each batch, and one for each pack of baits that thaws beside it."""
    rows: list[tuple[str, tuple[Step, ...]]] = []
    for plan in plans:
        name = plan.request.recipe.name
        rows.append((name, plan.day.steps))
        rows += [(f"{name}: {step.name}", (step,)) for step in plan.day.beside]
    return rows


def _rows(plans: Sequence[BatchPlan]) -> Iterator[tuple[str, ...]]:
    every = ((plan, step) for plan in plans for step in (*plan.day.steps, *plan.day.beside))
    for plan, step in sorted(every, key=lambda one: (one[1].start, one[1].end)):
        name = plan.request.recipe.name
        hours = [f"{weekday(one)} {clock(one)}" for one in (step.start, step.end)]
        yield name, step.name, *hours, span(step.end - step.start), WORDS[step.doing]


def _told(plans: Sequence[BatchPlan]) -> str:
    return "; ".join(
        f"{name}, {step} from {start} to {end}, {doing}"
        for name, step, start, end, _, doing in _rows(plans)
    )


def _table(plans: Sequence[BatchPlan]) -> Table:
    heads = ("batch", "step", "from", "to", "for", "what it takes")
    return Table("The day by the clock", heads, tuple(_rows(plans)))
