"""How long the baits of a plan keep, as text."""

from __future__ import annotations

from baitwright.batch.plan import PlanRequest, plan
from baitwright.sheets import text_keep


def keeping_text(request: PlanRequest) -> str:
    """Free water, freezing, and how long they keep in each place."""
    return "\n".join(text_keep.keep(plan(request)))
