"""What an outing takes of a planned bait, as a page shows it."""

from __future__ import annotations

from baitwright.batch.plan import PlanRequest
from baitwright.batch.trip import trip_of
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.days.question_day import TripQuestion
from baitwright.workshop.days.trip import SPARES_ARE_OURS, Trip, enough, outing_from, verdict
from baitwright.workshop.plans.plan_told import worked_out
from baitwright.workshop.told.answer_parts import Grid, Large, Part, row_of


def trip_asked(request: PlanRequest, told: TripQuestion) -> tuple[Part, ...]:
    """How many to take and to make, and what the counts come from.

    Raises
    ------
    InputError: hours, spares or free bait that cannot be read, or a bait that does not do.
    """
    outing = outing_from(
        rods=told.rods,
        nights=told.nights,
        hours=told.hours,
        spares=told.spares or None,
        free=told.free or None,
    )
    made = worked_out(request)
    stage = trip_of(made, outing)
    wanted = [stage.make, stage.take, stage.in_a_bag]
    large = [Large(_capital(one.label), enough(one), _band(one)) for one in wanted]
    if stage.free_bait is not None:
        large.append(Large(_capital(stage.free_bait.label), figure(stage.free_bait)))
    from_what = (made.soak.recast, made.soak.lasts, stage.casts, made.water.wish, stage.spares)
    rows = tuple(row_of(one.label, one) for one in from_what)
    grid = Grid("By the plan's night in the lake", ("", "middle, and 8 in 10"), rows)
    said = verdict(Trip(made, stage))
    mine = () if outing.spares is not None else (SPARES_ARE_OURS,)
    name = f"{request.recipe.name}: {told.rods} rods, {told.nights} nights"
    return (Part(name, large=tuple(large), lines=(*said, *mine)), Part("Comes from", grids=(grid,)))


def _band(quantity: Quantity) -> str:
    """The middle and the band, beside the number that is enough in four of five."""
    told = figure(quantity)
    return f"{told.text} in the middle, 8 in 10 from {told.band}" if told.band else ""


def _capital(label: str) -> str:
    return f"{label[:1].upper()}{label[1:]}"
