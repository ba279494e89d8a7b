"""What an outing takes, as text and as JSON, and how a batch is bagged by sessions."""

from __future__ import annotations

from typing import Any

from baitwright.batch.trip import Bags, TripStage
from baitwright.sheets.layout import bullet, heading
from baitwright.sheets.text_made import number
from baitwright.sheets.wording import Figure, count_of
from baitwright.terms.quantity import Origin, Quantity
from baitwright.uncertainty.bands import quantile_of
from baitwright.workshop.days.trip import MOSTLY, Trip
from baitwright.workshop.told.plain import told

SPARES_ARE_OURS = "The share of spares is our judgement: tell your own."


def trip_shown(made: Trip) -> str:
    """The outing for people in a terminal."""
    stage = made.stage
    lines = [f"BAITS FOR A TRIP: {made.plan.request.recipe.name}", ""]
    for one in (stage.rods, stage.nights, stage.night_time, made.plan.soak.recast):
        lines += number(one)
    for one in (made.plan.soak.lasts, stage.casts, stage.spares):
        lines += number(one)
    lines += heading("So")
    lines += number(stage.take)
    lines += number(stage.make)
    lines += number(stage.a_night)
    lines += number(stage.good)
    if stage.free_bait is not None:
        lines += number(stage.free_bait)
    said = verdict(made)
    lines += ["", *(line for one in said for line in bullet(one))]
    if made.bags.bags:
        lines += bullet(f"baitwright batch bag NAME {made.bags.each} --bags {made.bags.bags}")
    if stage.spares.origin is Origin.DEFAULT:
        lines += bullet(f"{SPARES_ARE_OURS} (--spares)")
    return "\n".join(lines)


def enough(quantity: Quantity) -> Figure:
    """A count that is enough in four of five."""
    return Figure(str(round(quantile_of(quantity, MOSTLY))), "", "")


def verdict(made: Trip) -> tuple[str, ...]:
    """What to make and pack, and whether the eggs are enough for it."""
    make, eggs, bags = made.to_make, made.given_by_the_eggs, made.bags
    so = f"Make {count_of(make, 'hookbait')} for a session: enough in four of five."
    if eggs >= make:
        enough_eggs = f"The eggs on the bench give {eggs} or more: enough."
    else:
        few = f"The eggs on the bench give {eggs} or more, {make - eggs} too few"
        enough_eggs = f"{few}: crack more, or write baits_wanted = {make}."
    return so, enough_eggs, packed(bags, made.stage)


def packed(bags: Bags, stage: TripStage) -> str:
    """How a batch is bagged by sessions, and what is over."""
    rods, nights = (round(float(one.value)) for one in (stage.rods, stage.nights))
    each = f"{count_of(bags.each, 'hookbait')} to a bag: {count_of(rods, 'rod')} x "
    each += f"{count_of(nights, 'night')} x the casts, and spares."
    if not bags.bags:
        return f"One bag is one session's, {each} The batch does not fill one: {bags.over}."
    over = f"{count_of(bags.over, 'hookbait')} over" if bags.over else "none over"
    return f"One bag is one session's, {each} The batch fills {count_of(bags.bags, 'bag')}, {over}."


def trip_as_json(made: Trip) -> dict[str, Any]:
    """The outing for programs."""
    stage = made.stage
    named = {
        "rods": stage.rods,
        "nights": stage.nights,
        "night_time": stage.night_time,
        "recast": made.plan.soak.recast,
        "lasts": made.plan.soak.lasts,
        "casts": stage.casts,
        "spares": stage.spares,
        "take": stage.take,
        "make": stage.make,
        "a_night": stage.a_night,
        "good": stage.good,
    }
    if stage.free_bait is not None:
        named["free_bait"] = stage.free_bait
    bags = made.bags
    whole: dict[str, Any] = {
        "to_make": made.to_make,
        "given_by_the_eggs": made.given_by_the_eggs,
        "bags": {"each": bags.each, "bags": bags.bags, "over": bags.over},
    }
    head = {"recipe": made.plan.request.recipe.name, "invented": made.plan.request.recipe.invented}
    return {**head, **{name: told(one) for name, one in named.items()}, **whole}
