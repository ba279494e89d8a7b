"""A plan on the screen: as text, or as JSON for programs."""

from __future__ import annotations

import json

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.text import plan_text
from baitwright.workshop.plan_json import plan_as_json


def shown(made: BatchPlan) -> str:
    """The plan as text."""
    return plan_text(made).rstrip("\n")


def document(made: BatchPlan) -> str:
    """The plan as JSON, complete enough to be planned again from."""
    return json.dumps(plan_as_json(made), ensure_ascii=False, indent=2, allow_nan=False)
