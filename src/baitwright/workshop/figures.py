"""A plan in figures: drawings for a page or a file, each with its tables beside it."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.dark import dark_rules
from baitwright.sheets.pictures import plan_pictures
from baitwright.sheets.svg import Picture

__all__ = ["Picture", "dark_rules", "plan_figures"]


def plan_figures(plan: BatchPlan, *, prefix: str = "") -> tuple[Picture, ...]:
    """The day, set, drying, bait, lift, flavour and water of a plan, in the order of making.

    They carry no styles, so that they stand inline where a page forbids those; `dark_rules` are
    for the page's own sheet.

    Parameters
    ----------
    plan: the plan.
    prefix: before every id, where a page holds more than one plan.
    """
    return tuple(one.for_page(prefix) for one in plan_pictures(plan))
