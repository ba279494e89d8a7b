"""What every made batch of the notebook shows of the maker's own factors, the first batch first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from baitwright.learning.history import Seen
from baitwright.learning.moments import Moments, seen_by
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batch_hours import BATCH, PLAN
from baitwright.workshop.good_ones import in_order, is_made

MOMENTS = "moments"
"""The entry of a plan's record that keeps what is learned from it."""
Body = Mapping[str, Any]


def batches_seen(
    page: Page, *, work_out: Callable[[Body], Moments] | None = None
) -> Iterator[tuple[Revision, tuple[Seen, ...]]]:
    """Every made batch with what it shows; of one whose plan was purged nothing.

    ``work_out`` is for plans that keep nothing to be learned from, which teach nothing without.
    """
    batches = in_order(one for one in page.all(BATCH) if is_made(one))
    plans = {one.name: one.body or {} for one in page.named(PLAN, (one.name for one in batches))}
    for one in batches:
        moments = _moments(plans.get(one.name, {}), work_out)
        actual = (one.body or {})["actual"]
        yield one, () if moments is None else seen_by(moments, _read(actual), batch=one.name)


def readable(plan: Body) -> None:
    """Read what a plan's record keeps to be learned from, where it keeps any."""
    _moments(plan, None)


def _moments(plan: Body, work_out: Callable[[Body], Moments] | None) -> Moments | None:
    if MOMENTS in plan:
        return _shapes().validate_python(plan[MOMENTS])
    return work_out(plan) if plan and work_out is not None else None


def _read(actual: Body) -> dict[str, float]:
    return {
        name: float(one)
        for name, one in actual.items()
        if isinstance(one, int | float) and not isinstance(one, bool)
    }


@cache
def _shapes() -> TypeAdapter[Moments]:
    return TypeAdapter(Moments)
