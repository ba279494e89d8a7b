"""Bags: baits of a batch counted into one, where it is kept, and its place in the trace."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from baitwright.ledger.making import Taken, Why, use
from baitwright.ledger.movements import Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.shelf.drawing import make, standing_of
from baitwright.workshop.shelf.lots import Lot, lot_of, refuse_quarantined
from baitwright.workshop.shelf.stock import shelf_of
from baitwright.workshop.shelf.too_little import left_of

BAG = "bag"
_MOST = 100


class Kept(StrEnum):
    """Where a bag is kept."""

    ROOM = "room"
    FRIDGE = "fridge"
    FREEZER = "freezer"


@dataclass(frozen=True, slots=True)
class Bagging:
    """So many bags with so many baits each, where they go, and their day."""

    baits: int
    bags: int = 1
    kept: Kept = Kept.FRIDGE
    best_before: date | None = None


def bag(book: Notebook, batch: str, bagging: Bagging, *, now: datetime) -> tuple[str, ...]:
    """Count baits of a batch into bags; the bags' names.

    Raises
    ------
    InputError: no such batch, one that was not made, fewer baits than are wanted, or quarantine.
    """
    wanted = f"{bagging.bags} of {bagging.baits} baits"
    if not 1 <= bagging.bags <= _MOST or bagging.baits < 1:
        raise InputError("bags", wanted, f"1 to {_MOST} bags, of 1 bait or more")
    with book.writing() as page:
        batch = batch_of(page, batch, state=State.MADE).name
        lot = lot_of(page, batch)
        refuse_quarantined(batch, lot)
        free, spoken = left_of(shelf_of(page, lot.item), batch)
        if free < bagging.baits * bagging.bags:
            accepted = f"{free} baits at most, which are left of {batch}"
            raise InputError("bags", wanted, accepted, hint=spoken)
        first = page.count(BAG, name=f"{batch}/") + 1
        names = tuple(f"{batch}/{first + at}" for at in range(bagging.bags))
        for name in names:
            _fill(page, name, bagging, batch=batch, now=now)
    return names


def batch_with_bags(book: Notebook, name: str) -> tuple[Revision, tuple[Revision, ...]]:
    """A batch and its bags.

    Raises
    ------
    InputError: no such batch.
    """
    with book.reading() as page:
        found = batch_of(page, name)
        return found, page.all(BAG, about=found.name)


def _fill(page: Page, name: str, bagging: Bagging, *, batch: str, now: datetime) -> None:
    """One bag: its baits leave the batch's lot and are a lot of their own."""
    of, day = lot_of(page, batch), now.date().isoformat()
    best = of.best_before if bagging.best_before is None else bagging.best_before.isoformat()
    taken = (Taken(of.item, batch, bagging.baits),)
    used = use(standing_of(page, taken), taken, Why(now, Reason.PACKED))
    lot = Lot(of.item, day, best, stop=Stop.BAG.value)
    entry = make(page, name, lot, units=bagging.baits, used=used, time=now)
    told = {"about": batch, "day": day, "baits": bagging.baits, "kept": bagging.kept}
    page.write(BAG, name, {**told, "best_before": best, "entries": [entry]}, seen=0, time=now)
