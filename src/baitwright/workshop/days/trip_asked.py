"""What an outing takes of a planned bait, as a page shows it."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.batch.plan import PlanRequest
from baitwright.batch.trip import Bags, bags_of, trip_of
from baitwright.sheets.wording import count_of, figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.days.question_day import TripQuestion
from baitwright.workshop.days.trip import Trip, outing_from
from baitwright.workshop.days.trip_words import SPARES_ARE_OURS, enough, verdict
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.told.answer_parts import Grid, Large, Part, row_of


@dataclass(frozen=True, slots=True)
class TripAnswer:
    """What an outing takes, and how the baits that lie in no bag are bagged by sessions."""

    parts: tuple[Part, ...]
    bags: Bags | None


def trip_asked(request: PlanRequest, told: TripQuestion, *, left: int = 0) -> TripAnswer:
    """How many to take and to make, and what the counts come from.

    Parameters
    ----------
    request: of the bait's plan.
    told: the outing.
    left: baits of the batch that were made and are in no bag.

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
    wanted = [stage.make, stage.take, stage.a_night]
    large = [Large(_capital(one.label), enough(one), _band(one)) for one in wanted]
    if stage.free_bait is not None:
        large.append(Large(_capital(stage.free_bait.label), figure(stage.free_bait)))
    from_what = (made.soak.recast, made.soak.lasts, stage.casts, made.water.wish, stage.spares)
    rows = tuple(row_of(one.label, one) for one in from_what)
    grid = Grid("By the plan's night in the lake", ("", "middle, and 8 in 10"), rows)
    trip = Trip(made, stage)
    said, bags = list(verdict(trip)), None
    if left:
        bags = bags_of(left, trip.bags.each)
        over = count_of(bags.over, "hookbait")
        fills = f"fill {count_of(bags.bags, 'such bag')}, {over} over"
        said.append(f"{count_of(left, 'hookbait')} of the batch lie in no bag yet: they {fills}.")
    mine = () if outing.spares is not None else (SPARES_ARE_OURS,)
    rods, nights = count_of(told.rods, "rod"), count_of(told.nights, "night")
    name = f"{request.recipe.name}: {rods}, {nights}"
    parts = (
        Part(name, large=tuple(large), lines=(*said, *mine)),
        Part("Comes from", grids=(grid,)),
    )
    return TripAnswer(parts, bags if bags is not None and bags.bags else None)


def _band(quantity: Quantity) -> str:
    """The middle and the band, beside the number that is enough in four of five."""
    told = figure(quantity)
    return f"{told.text} in the middle, 8 in 10 from {told.band}" if told.band else ""


def _capital(label: str) -> str:
    return f"{label[:1].upper()}{label[1:]}"
