"""What every made batch of the notebook shows of the maker's own factors, the first batch first."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.plan import plan
from baitwright.learning.history import Seen
from baitwright.learning.moments import Moments, moments_of, seen_by
from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batch_hours import BATCH, PLAN
from baitwright.workshop.good_ones import in_order, is_made
from baitwright.workshop.in_hand import in_hand
from baitwright.workshop.plan_json import request_from_json

MOMENTS = "moments"
"""The entry of a plan's record that keeps what is learned from it."""


def kept_moments(made: BatchPlan) -> dict[str, Any]:
    """What the record of a plan keeps to be learned from."""
    return {MOMENTS: asdict(moments_of(made))}


def batches_seen(
    page: Page, *, at_once: bool = False
) -> Iterator[tuple[Revision, tuple[Seen, ...]]]:
    """Every made batch with what it shows; of one whose plan was purged nothing.

    Plans that keep nothing to be learned from are worked out again, which takes a second each;
    ``at_once`` leaves them out.
    """
    batches = in_order(one for one in page.all(BATCH) if is_made(one))
    plans = {one.name: one.body or {} for one in page.named(PLAN, (one.name for one in batches))}
    for one in batches:
        plan = plans.get(one.name)
        if not plan or (at_once and MOMENTS not in plan):
            yield one, ()
        else:
            actual = (one.body or {})["actual"]
            yield one, seen_by(_moments(plan), _readings(actual), batch=one.name)


def readable(plan: Mapping[str, Any]) -> None:
    """Read what a plan's record keeps to be learned from, where it keeps any."""
    if MOMENTS in plan:
        _shapes().validate_python(plan[MOMENTS])


def _moments(plan: Mapping[str, Any]) -> Moments:
    if MOMENTS in plan:
        return _shapes().validate_python(plan[MOMENTS])
    return _worked_out(json.dumps(plan["request"]))


def _readings(actual: Mapping[str, Any]) -> dict[str, float]:
    return {
        name: float(one)
        for name, one in actual.items()
        if isinstance(one, int | float) and not isinstance(one, bool)
    }


@in_hand(256)
def _worked_out(request: str) -> Moments:
    return moments_of(plan(request_from_json({"request": json.loads(request)})))


@cache
def _shapes() -> TypeAdapter[Moments]:
    return TypeAdapter(Moments)
