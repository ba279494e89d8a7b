"""A strip of the plan's day to scale: what takes hands, what only waits, how long paste will do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from xml.etree.ElementTree import Element

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.day import DayPlan, Doing, Step
from baitwright.sheets.svg import (
    DOTS,
    EDGE,
    GRID,
    HALF_BAND,
    HOOK,
    INK,
    LEADING,
    MIDDLE,
    PASTE,
    STROKES,
    WIDEST_BAND,
    WIDTH,
    Led,
    Picture,
    Table,
    canvas,
    folded,
    led,
    line,
    shape,
    tiles,
    words,
)
from baitwright.sheets.wording import clock, count_of, span, to_the_minute, weekday
from baitwright.sheets.wording import day as day_told
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of

_LEFT, _WIDE, _LABELS, _HEIGHT = 74.0, 54.0, 172.0, 460.0
_HOURS = (1, 2, 3, 4, 6, 12, 24)
MARKS = {
    "hands": (HALF_BAND, {"d": STROKES, "stroke": MIDDLE, "stroke_width": "3"}),
    "waiting": (WIDEST_BAND, {"d": "M0 5H10", "stroke": EDGE, "stroke_width": "0.8"}),
    "drying": (PASTE, {"d": DOTS, "fill": INK}),
}
WORDS = {
    Doing.HANDS: "hands",
    Doing.WAITING: "waiting",
    Doing.DRYING: "drying",
}


@dataclass(frozen=True, slots=True)
class _Strip:
    """The bar's place on the paper, and the times its ends stand for."""

    start: datetime
    end: datetime
    top: float

    def at(self, moment: datetime) -> float:
        """How far down a moment stands."""
        return self.top + _HEIGHT * ((moment - self.start) / (self.end - self.start))


def day_picture(plan: BatchPlan, *, name: str) -> Picture:
    """The day as a strip from the first step to the last, with clock times.

    Parameters
    ----------
    plan: whose day it is.
    name: of the bait.
    """
    day = plan.day
    strip = _Strip(day.steps[0].start, day.steps[-1].end, 2.5 * LEADING)
    title = f"{name}: the day"
    drawing = canvas("day", strip.top + _HEIGHT + 2.0 * LEADING, title=title, said=_told(day))
    words(drawing, (4.0, LEADING), day_told(strip.start), font_weight="bold")
    tiles(drawing, "day", MARKS)
    _ticks(drawing, strip)
    for step in day.steps:
        style = {"stroke": INK, "stroke_width": "1.5", "class_": step.doing.value}
        top, end = strip.at(step.start), strip.at(step.end)
        fill = f"url(#day-{step.doing.value})"
        shape(drawing, "rect", x=_LEFT, y=top, width=_WIDE, height=end - top, fill=fill, **style)
    told = [*_steps(day, strip), *_workable(drawing, day, strip)]
    told.sort(key=lambda one: one.point[1])
    led(drawing, _LABELS, told, low=1.5 * LEADING, high=strip.at(strip.end) + LEADING)
    return Picture("day", title, drawing, (_table(day),))


def _ticks(drawing: Element, strip: _Strip) -> None:
    """Round hours to the left; a new day by its name."""
    hours = (strip.end - strip.start) / timedelta(hours=1)
    step = next((one for one in _HOURS if hours / one <= 9.0), _HOURS[-1])
    moment = strip.start.replace(minute=0, second=0, microsecond=0)
    while moment <= strip.end:
        new = moment.hour == 0
        if moment >= strip.start and moment.hour % step == 0:
            y = strip.at(moment)
            line(drawing, (_LEFT - 8.0, y), (_LEFT, y), stroke=INK if new else GRID)
            said = weekday(moment) if new else clock(moment)
            weight = "bold" if new else ""
            words(drawing, (_LEFT - 12.0, y + 6.0), said, text_anchor="end", font_weight=weight)
        moment += timedelta(hours=1)


def _steps(day: DayPlan, strip: _Strip) -> Iterator[Led]:
    before = strip.start
    for step in day.steps:
        middle = strip.at(step.start + (step.end - step.start) / 2)
        new = to_the_minute(step.start).date() != to_the_minute(before).date()
        begins = f"{weekday(step.start)} {clock(step.start)}" if new else clock(step.start)
        long = step.end - step.start >= timedelta(days=1)
        ends = f"{weekday(step.end)} {clock(step.end)}" if long else clock(step.end)
        told, before = f"{begins} to {ends} {step.name}", step.start
        what = f"{WORDS[step.doing]}, {_long(step)}"
        rows = (*folded(told, WIDTH - _LABELS, lines=2), what)
        yield Led((_LEFT + _WIDE, middle), rows)


def _workable(drawing: Element, day: DayPlan, strip: _Strip) -> Iterator[Led]:
    """How long the paste is workable from when it is mixed: a bracket beside the bar."""
    mixed = next((step.end for step in day.steps if step.name == "mix"), None)
    if mixed is None:
        return
    until = mixed + timedelta(seconds=median_of(_working(day)))
    x, top, end = _LEFT + _WIDE + 12.0, strip.at(mixed), strip.at(min(until, strip.end))
    style = {"stroke": HOOK, "stroke_width": "3", "class_": "paste"}
    line(drawing, (x, top), (x, end), **style)
    for y in (top, end):
        line(drawing, (x - 5.0, y), (x + 5.0, y), **style)
    lots = round(median_of(day.lots))
    rows = (f"paste stiffens at {clock(until)}",)
    yield Led((x, end), (*rows, f"so work {count_of(lots, 'portion')}") if lots > 1 else rows, HOOK)


def _working(day: DayPlan) -> Quantity:
    """How long paste stays workable, as the lots were reckoned with it."""
    return dict(day.lots.inputs)["working"]


def _moment(day: DayPlan, moment: datetime) -> str:
    """Clock time, with the day where the strip has more than one."""
    one_day = to_the_minute(day.steps[0].start).date() == to_the_minute(day.steps[-1].end).date()
    return clock(moment) if one_day else f"{weekday(moment)} {clock(moment)}"


def _long(step: Step) -> str:
    return span(step.end - step.start)


def _told(day: DayPlan) -> str:
    steps = "; ".join(
        f"{step.name} from {_moment(day, step.start)} to {_moment(day, step.end)}, "
        f"{_long(step)}, {WORDS[step.doing]}"
        for step in day.steps
    )
    lots = round(median_of(day.lots))
    working = span(timedelta(seconds=median_of(_working(day))))
    return (
        f"Begins {day_told(day.steps[0].start)}. {steps[:1].upper()}{steps[1:]}. Paste stays "
        f"workable for {working}: work it in {count_of(lots, 'portion')}."
    )


def _table(day: DayPlan) -> Table:
    rows = [
        (
            step.name,
            _moment(day, step.start),
            _moment(day, step.end),
            _long(step),
            WORDS[step.doing],
        )
        for step in day.steps
    ]
    working = _working(day)
    mixed = next((step.end for step in day.steps if step.name == "mix"), None)
    if mixed is not None:
        until = mixed + timedelta(seconds=median_of(working))
        told = span(until - mixed)
        rows.append(("paste workable", _moment(day, mixed), _moment(day, until), told, "paste"))
    return Table(
        f"The day, from {day_told(day.steps[0].start)}",
        ("step", "from", "to", "for", "what it takes"),
        tuple(rows),
    )
