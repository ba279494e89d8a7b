"""The plans of the kitchen, each worked out once."""

from __future__ import annotations

import pytest

from baitwright.batch.batch_plan import BatchPlan
from tests.batch.kitchen import planned
from tests.sheets.kitchen import PLANS, usual


@pytest.fixture(name="plan")
def usual_plan() -> BatchPlan:
    return usual()


@pytest.fixture(params=list(PLANS))
def any_plan(request: pytest.FixtureRequest) -> BatchPlan:
    return planned(*PLANS[request.param])
