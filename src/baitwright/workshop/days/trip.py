"""How many baits, bags and grams of free bait an outing takes of a planned bait."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.trip import Bags, Outing, TripStage, bags_of, trip_of
from baitwright.quantities import Kind, read
from baitwright.uncertainty.bands import quantile_of
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.stages.soak import time_in

MOSTLY = 0.8
"""In so many of the batches imagined the baits are enough (judgement)."""


@dataclass(frozen=True, slots=True)
class Trip:
    """A bait, and what an outing takes of it."""

    plan: BatchPlan
    stage: TripStage

    @property
    def to_make(self) -> int:
        """Hookbaits to make, enough in four batches of five."""
        return round(quantile_of(self.stage.make, MOSTLY))

    @property
    def given_by_the_eggs(self) -> int:
        """Hookbaits that the bench's eggs give at least, in four batches of five."""
        return int(quantile_of(self.plan.rolled.baits, 1.0 - MOSTLY))

    @property
    def bags(self) -> Bags:
        """The batch in bags of a session's worth, each enough in four of five."""
        good = int(quantile_of(self.stage.good, 1.0 - MOSTLY))
        return bags_of(good, round(quantile_of(self.stage.take, MOSTLY)))


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
