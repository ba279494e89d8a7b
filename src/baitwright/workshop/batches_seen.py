"""What every made batch of the notebook shows of the maker's own factors, the first batch first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from statistics import fmean, stdev
from typing import Any

from pydantic import TypeAdapter

from baitwright.learning.history import Seen
from baitwright.learning.moments import SIZES, Moments, seen_by
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batch_hours import BATCH, PLAN
from baitwright.workshop.good_ones import in_order, is_made

MOMENTS = "moments"
"""The entry of a plan's record that keeps what is learned from it."""
_ONE_ALONE = 0.03
"""How far the diameter of one bait that was measured alone may be off the tray's (judgement)."""
Body = Mapping[str, Any]


def batches_seen(
    page: Page, *, most: int | None = None, work_out: Callable[[Body], Moments] | None = None
) -> Iterator[tuple[Revision, tuple[Seen, ...]]]:
    """Every made batch with what it shows; of one whose plan was purged nothing.

    Parameters
    ----------
    page: the notebook's.
    most: look through so many at most, the last ones; through all unless told.
    work_out: for plans that keep nothing to be learned from, which teach nothing without.
    """
    every = page.all(BATCH) if most is None else page.last(BATCH, most)
    batches = in_order(one for one in every if is_made(one))
    plans = {one.name: one.body or {} for one in page.named(PLAN, (one.name for one in batches))}
    for one in batches:
        moments = _moments(plans.get(one.name, {}), work_out)
        actual = (one.body or {})["actual"]
        yield one, () if moments is None else _seen(moments, actual, one.name)


def readable(plan: Body) -> None:
    """Read what a plan's record keeps to be learned from, where it keeps any."""
    _moments(plan, None)


def _moments(plan: Body, work_out: Callable[[Body], Moments] | None) -> Moments | None:
    if MOMENTS in plan:
        return _shapes().validate_python(plan[MOMENTS])
    return work_out(plan) if plan and work_out is not None else None


def _seen(moments: Moments, actual: Body, batch: str) -> tuple[Seen, ...]:
    """What a batch shows; of diameters the mean, as sure as so many that differ so much make it."""
    read, scatter, sizes = _read(actual), {}, actual.get(SIZES) or ()
    if sizes:
        read[SIZES] = fmean(sizes)
        differ = stdev(sizes) / read[SIZES] if len(sizes) > 1 else _ONE_ALONE
        scatter[SIZES] = differ / math.sqrt(len(sizes))
    return seen_by(moments, read, batch=batch, scatter=scatter)


def _read(actual: Body) -> dict[str, float]:
    return {
        name: float(one)
        for name, one in actual.items()
        if isinstance(one, int | float) and not isinstance(one, bool)
    }


@cache
def _shapes() -> TypeAdapter[Moments]:
    return TypeAdapter(Moments)
