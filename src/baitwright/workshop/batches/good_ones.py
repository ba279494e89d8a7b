"""The maker's own good batches of a recipe."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.shelf.lots import LOT, Lot

MOST = 12
"""Good batches that one is held against, the last ones."""
LOOKED_THROUGH = 200
"""Batches that a page looks through at once, the last ones."""
_ENOUGH_GOOD = 0.9
"""A batch of which fewer baits were good is none of the good ones (judgement)."""


def good_ones(page: Page, about: str, *, before: Revision) -> list[Revision]:
    """The last good batches of a recipe that were made before one, the first of them first.

    Good ones are not in quarantine, nobody complained of them, and nine in ten of their baits at
    least were good.
    """
    last = (one for one in page.last(BATCH, LOOKED_THROUGH) if is_made(one))
    made = [one for one in last if (one.body or {})["about"] == about]
    made = [one for one in made if _place(one.name) < _place(before.name)]
    blamed = {str((one.body or {}).get("bag", "")) for one in page.all("complaint")}
    blamed |= {name.rpartition("/")[0] for name in blamed}
    lots = page.named(LOT, (one.name for one in made))
    blamed |= {one.name for one in lots if Lot(**(one.body or {})).quarantined}
    good = [one for one in made if one.name not in blamed and _is_good(one.body or {})]
    return in_order(good)[-MOST:]


def in_order(batches: Iterable[Revision]) -> list[Revision]:
    """Batches in the order in which they were planned."""
    return sorted(batches, key=lambda one: _place(one.name))


def is_made(one: Revision) -> bool:
    """Whether a batch was made."""
    return (one.body or {}).get("state") == State.MADE


def _is_good(body: Mapping[str, Any]) -> bool:
    rolled = body["actual"].get("baits_made")
    return rolled is None or bool(body["baits"] >= _ENOUGH_GOOD * rolled)


def _place(name: str) -> tuple[str, int]:
    """By its day, and by its number on that day."""
    day, _, number = name.rpartition("/B")
    return day, int(number)
