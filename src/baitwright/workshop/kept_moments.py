"""What a plan's record keeps to be learned from, and the same worked out where it keeps nothing."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.plan import plan
from baitwright.learning.moments import Moments
from baitwright.learning.plan_moments import moments_of
from baitwright.workshop.batches_seen import MOMENTS
from baitwright.workshop.in_hand import in_hand
from baitwright.workshop.plan_json import request_from_json


def kept_moments(made: BatchPlan) -> dict[str, Any]:
    """What the record of a plan keeps to be learned from."""
    return {MOMENTS: asdict(moments_of(made))}


def moments_again(body: Mapping[str, Any]) -> Moments:
    """What a kept plan is learned from, worked out again: a second for each, the first time."""
    return _worked_out(json.dumps(body["request"]))


@in_hand(256)
def _worked_out(request: str) -> Moments:
    return moments_of(plan(request_from_json({"request": json.loads(request)})))
