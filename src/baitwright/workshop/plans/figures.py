"""A plan in figures: drawings for a page or a file, each with its tables beside it."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.sheets.dark import dark_rules
from baitwright.sheets.picture_pair import pair_picture
from baitwright.sheets.pictures import plan_pictures
from baitwright.sheets.svg import Picture
from baitwright.workshop.plans.worked_out import KEPT, worked_out
from baitwright.workshop.told.in_hand import in_hand

__all__ = ["Picture", "baits_beside", "dark_rules", "figures_asked", "plan_figures"]


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


@in_hand(KEPT)
def figures_asked(request: PlanRequest) -> tuple[Picture, ...]:
    """The figures of what is asked; they take as long as the plan, so the last few are kept.

    Raises
    ------
    InputError: anything a stage refuses.
    """
    return plan_figures(worked_out(request))


def baits_beside(plans: tuple[BatchPlan, BatchPlan], names: tuple[str, str]) -> Picture:
    """Two plans' baits cut open beside each other, at one scale."""
    return pair_picture(plans, names).for_page("")
