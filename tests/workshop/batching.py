"""A shelf that batches are made of, and batches of it, for tests."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_made import BatchMade, Making, made
from baitwright.workshop.batches.batches import Planned, plan_into
from baitwright.workshop.shelf.deliveries import Delivery
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.strip.batch_file import BatchTable
from tests.workshop.shelf import path, planned

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
PLAN = ("copper-wafter", "bench-three-large-eggs")


def of_weight(grams: float) -> Amount:
    return Amount(round(grams * 1000), Counted.MILLIGRAMS)


DELIVERIES = (
    Delivery("Copper", of_weight(5000), Decimal("20.00"), date(2027, 5, 1), "Mill", "S-881"),
    Delivery("Eggs", Amount(30, Counted.PIECES), Decimal("6.00")),
    Delivery("Malt", Amount(250_000, Counted.MICROLITRES), Decimal("9.00")),
    Delivery("cork ball 9mm", Amount(500, Counted.PIECES), Decimal("25.00")),
)


def plan_one(book: Notebook) -> Planned:
    return plan_into(book, path(PLAN[0]), planned(*PLAN), now=NOW)


def make_one(book: Notebook, **told: object) -> BatchMade:
    name = plan_one(book).name
    return made(
        book, name, Making(BatchTable.model_construct(**{"baits_made": 264, **told})), now=NOW
    )


def held(book: Notebook) -> dict[str, tuple[int, int, Decimal]]:
    """Units, units spoken for and value of each item."""
    return {
        one.item: (
            one.account.amount,
            sum(lot.reserved for lot in one.lots),
            one.account.value,
        )
        for one in shelves(book)
    }
