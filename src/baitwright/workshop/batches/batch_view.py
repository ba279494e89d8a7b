"""One batch to look at: planned beside actual, what it takes, its hours and its bags."""

from __future__ import annotations

import json
from dataclasses import dataclass

from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.batches.batch_beside import Beside, beside
from baitwright.workshop.batches.batch_hours import PLAN, Hours, State, holder, hours_from
from baitwright.workshop.batches.batch_needs import Part, Wish
from baitwright.workshop.batches.batches import batch_of, wishes_of
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.told.in_hand import in_hand
from baitwright.workshop.told.planned_hours import hours_of


@dataclass(frozen=True, slots=True)
class BatchView:
    """A batch: its newest version, what was planned and measured, its hours and its bags.

    ``spoken`` is item, lot, amount and unit of what waits for it; ``left`` counts its baits that
    are in no bag, sold or lost; ``plan`` whether its whole plan is kept.
    """

    batch: Revision
    about: str
    state: State
    beside: tuple[Beside, ...]
    wishes: tuple[Wish, ...]
    spoken: tuple[tuple[str, str, int, Counted], ...]
    hours: Hours | None
    bags: tuple[Revision, ...]
    left: int
    is_aside: bool
    has_plan: bool

    @property
    def liquids(self) -> tuple[str, ...]:
        """The liquids that it takes."""
        return tuple(one.name for one in self.wishes if one.part is Part.LIQUID)


def batch_view(book: Notebook, name: str) -> BatchView:
    """A batch as a page shows it.

    Raises
    ------
    InputError: no such batch.
    """
    with book.reading() as page:
        found = batch_of(page, name)
        body = found.body or {}
        state = State(body["state"])
        lot = lot_of(page, name) if state is State.MADE else None
        plan = page.latest(PLAN, name)
        return BatchView(
            found,
            str(body["about"]),
            state,
            tuple(beside(body)),
            wishes_of(found),
            tuple(
                (item, of, units, counted_as(page, item))
                for item, of, units in page.reserved_for(holder(name))
            ),
            hours_on(page, found),
            page.all(BAG, about=name),
            0 if lot is None else page.lots(lot.item).get(name, 0),
            lot is not None and lot.quarantined,
            plan is not None and plan.body is not None,
        )


def hours_on(page: Page, batch: Revision) -> Hours | None:
    """The hours of a batch; of one that keeps none, those of its plan worked out again."""
    told = (batch.body or {}).get("hours")
    if told is not None:
        return hours_from(told)
    plan = page.latest(PLAN, batch.name)
    return None if plan is None or plan.body is None else _of_plan(json.dumps(plan.body["request"]))


@in_hand(64)
def _of_plan(request: str) -> Hours:
    made = worked_out(request_from_json({"request": json.loads(request)}))
    return hours_from(hours_of(made))
