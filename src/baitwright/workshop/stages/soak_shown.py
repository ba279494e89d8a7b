"""Hours in the lake as a page shows them: when to recast, the night in pictures, tables."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak import NIGHT
from baitwright.batch.soak_table import SoakCase, SoakTable
from baitwright.batch.soaking import SoakPoint
from baitwright.quantities import show
from baitwright.sheets.pictures import soak_pictures
from baitwright.sheets.text_soak import (
    RESTS_ON,
    body,
    body_told,
    flavours,
    hangs_on,
    to_a_mark,
    warmth,
    why,
)
from baitwright.sheets.wording import Figure, figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.stages.soak import soaked
from baitwright.workshop.told.answer_parts import Grid, Large, Part, notes_of, said


def soak_shown(request: PlanRequest, *, hours: str, at: str) -> tuple[Part, ...]:
    """The bait of a plan in the lake: recasting, pictures, hour by hour, and side by side.

    Raises
    ------
    InputError: hours or lakes that cannot be read, or a plan that cannot be worked out.
    """
    made = soaked(request, hours=hours, at=at)
    first = made.first
    return (
        Part(
            f"{made.recipe.name}: {body(first)}, lake at {warmth(first.stage)}",
            large=tuple(when(first)),
            lines=hangs_on(first),
        ),
        Part(pictures=tuple(one.for_page("") for one in soak_pictures(made))),
        Part("Hour by hour", grids=(_hours(made),), is_folded=True),
        Part(f"Side by side after {show(first.stage.at(NIGHT).time, 'h')}", grids=(_beside(made),)),
        Part("What it rests on", lines=(RESTS_ON,), points=notes_of(made.notes), is_folded=True),
    )


def when(case: SoakCase) -> list[Large]:
    """When to recast, and when a bait stops, fades and softens."""
    stage = case.stage
    recast = Large(
        "Recast after",
        _plain(stage.recast),
        "; ".join(filter(None, (_band(stage.recast), why(case)))),
    )
    lasts = Large("Stops doing what is wanted after", _plain(stage.lasts), _band(stage.lasts))
    others = [
        Large(to_a_mark(one), _plain(one), _band(one)) for one in (*stage.fades, stage.softens)
    ]
    return [recast, lasts, *others]


def _plain(quantity: Quantity) -> Figure:
    told = figure(quantity)
    return Figure(told.number, "" if told.number == "never" else told.unit)


def _band(quantity: Quantity) -> str:
    band = figure(quantity).band
    return f"8 in 10 between {band.replace(' to ', ' and ')}" if band else ""


_Columns = Sequence[tuple[str, Callable[[SoakPoint], Quantity]]]


def _hours(made: SoakTable) -> Grid:
    case = made.first
    columns: _Columns = (*body_told(made), *flavours(case))
    rows = tuple(
        (said(show(point.time, "h")), *(figure(read(point)) for _, read in columns))
        for point in case.stage.curve
    )
    return Grid("Middle, and below it 8 in 10", ("after", *(head for head, _ in columns)), rows)


def _beside(made: SoakTable) -> Grid:
    """A row for each bait and lake, what was asked first."""
    columns: _Columns = (*body_told(made), *flavours(made.first))
    rows = tuple(
        (
            said(f"{body(case)}, {warmth(case.stage)}", "" if not case.planned else "as planned"),
            *(figure(read(case.stage.at(NIGHT))) for _, read in columns),
            figure(case.stage.recast),
        )
        for case in made.cases
    )
    heads = ("bait and lake", *(head for head, _ in columns), "recast after")
    return Grid("Middle, and below it 8 in 10", heads, rows)
