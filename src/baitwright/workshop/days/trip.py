"""How many baits, bags and grams of free bait an outing takes of a planned bait."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.trip import Outing, TripStage, trip_of
from baitwright.quantities import Kind, read
from baitwright.sheets.layout import bullet, heading
from baitwright.sheets.text_made import number
from baitwright.sheets.wording import Figure, count_of
from baitwright.terms.quantity import Origin, Quantity
from baitwright.uncertainty.bands import quantile_of
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.stages.soak import time_in
from baitwright.workshop.told.plain import told

_MOSTLY = 0.8
"""In so many of the batches imagined the baits are enough (judgement)."""
SPARES_ARE_OURS = "The share of spares is our judgement: tell your own."


@dataclass(frozen=True, slots=True)
class Trip:
    """A bait, and what an outing takes of it."""

    plan: BatchPlan
    stage: TripStage

    @property
    def to_make(self) -> int:
        """Hookbaits to make, enough in four batches of five."""
        return round(quantile_of(self.stage.make, _MOSTLY))

    @property
    def given_by_the_eggs(self) -> int:
        """Hookbaits that the bench's eggs give at least, in four batches of five."""
        return int(quantile_of(self.plan.rolled.baits, 1.0 - _MOSTLY))


def outing_from(
    *, rods: int, nights: int, hours: str, spares: str | None = None, free: str | None = None
) -> Outing:
    """An outing as it is typed.

    Parameters
    ----------
    rods, nights: how many.
    hours: of fishing in each night, such as "12" or "12 h".
    spares: on top of what is cast, such as "30 %"; the default where None.
    free: free bait thrown in each night, such as "500 g".

    Raises
    ------
    InputError: what of it cannot be read.
    """
    return Outing(
        rods,
        nights,
        time_in(hours),
        None if spares is None else read(spares, Kind.SHARE, "spares"),
        None if free is None else read(free, Kind.MASS, "free"),
    )


def trip(
    recipe_path: Path,
    bench_path: Path,
    outing: Outing,
    *,
    factors_path: Path | None = None,
    clock: Callable[[], datetime],
) -> Trip:
    """Plan the bait and count what the outing takes of it.

    Raises
    ------
    InputError: anything in the files or of the outing that cannot be used.
    """
    made = plan_batch(recipe_path, bench_path, factors_path=factors_path, clock=clock)
    return Trip(made, trip_of(made, outing))


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
    lines += number(stage.in_a_bag)
    if stage.free_bait is not None:
        lines += number(stage.free_bait)
    said = verdict(made)
    lines += ["", *(line for one in said for line in bullet(one))]
    if stage.spares.origin is Origin.DEFAULT:
        lines += bullet(f"{SPARES_ARE_OURS} (--spares)")
    return "\n".join(lines)


def enough(quantity: Quantity) -> Figure:
    """A count that is enough in four of five."""
    return Figure(str(round(quantile_of(quantity, _MOSTLY))), "", "")


def verdict(made: Trip) -> tuple[str, str]:
    """What to make and pack, and whether the eggs are enough for it."""
    make, eggs = made.to_make, made.given_by_the_eggs
    bags = count_of(round(float(made.stage.nights.value)), "bag")
    each = round(quantile_of(made.stage.in_a_bag, _MOSTLY))
    so = f"Make {count_of(make, 'hookbait')}, pack {bags} of {each}: enough in four of five."
    if eggs >= make:
        return so, f"The eggs on the bench give {eggs} or more: enough."
    few = f"The eggs on the bench give {eggs} or more, {make - eggs} too few"
    return so, f"{few}: crack more, or write baits_wanted = {make}."


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
        "in_a_bag": stage.in_a_bag,
    }
    if stage.free_bait is not None:
        named["free_bait"] = stage.free_bait
    whole = {"to_make": made.to_make, "given_by_the_eggs": made.given_by_the_eggs}
    head = {"recipe": made.plan.request.recipe.name, "invented": made.plan.request.recipe.invented}
    return {**head, **{name: told(one) for name, one in named.items()}, **whole}
