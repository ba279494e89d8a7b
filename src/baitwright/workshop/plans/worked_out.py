"""The plan of a request, as every use case of the workshop gets it: the last few are in hand."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.plan import plan
from baitwright.workshop.told.in_hand import in_hand

KEPT = 8
"""Plans kept in hand, 34 MB each: the one being typed, those beside it, their whys."""


@in_hand(KEPT)
def worked_out(request: PlanRequest) -> BatchPlan:
    """The plan of a request; who asks for one of the last few again does not wait.

    Raises
    ------
    InputError: anything a stage refuses.
    """
    return plan(request)
