"""An order: who wants what at which price, what was sent, and what came back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from baitwright.ledger.movements import NOTHING, Amount
from baitwright.ledger.price import amount_at, without_vat

ORDER = "order"


class State(StrEnum):
    """How far an order is."""

    OPEN = "open"
    SENT = "sent"
    CANCELLED = "cancelled"


class Where(StrEnum):
    """Where goes what came back: into the lot it was of, a lot in quarantine, or the bin."""

    SHELF = "shelf"
    QUARANTINE = "quarantine"
    BIN = "bin"


@dataclass(frozen=True, slots=True)
class OrderLine:
    """So much of an item, at a price for each, a kilogram or a litre, with the VAT within it."""

    item: str
    amount: Amount
    price: Decimal
    vat: Decimal | None = None

    @property
    def total(self) -> Decimal:
        """What the customer pays for it."""
        return amount_at(self.price, self.amount.units, self.amount.counted)

    @property
    def own(self) -> Decimal:
        """What of that is the maker's."""
        return without_vat(self.total, self.vat)


@dataclass(frozen=True, slots=True)
class Back:
    """What came back of a lot on a day, what was paid back for it, where it went, and why."""

    item: str
    lot: str
    units: int
    refund: Decimal
    where: Where
    day: date
    why: str
    entry: int


@dataclass(frozen=True, slots=True)
class Order:
    """An order as it stands; ``customer`` is a person's code, or nobody.

    ``aside`` is item, lot and amount of what was set aside for it when it was sent.
    """

    name: str
    customer: str
    day: date
    lines: tuple[OrderLine, ...]
    is_cancelled: bool = False
    entry: int | None = None
    sent_on: date | None = None
    back: tuple[Back, ...] = ()
    aside: tuple[tuple[str, str, int], ...] = ()

    @property
    def state(self) -> State:
        """How far it is."""
        if self.entry is not None:
            return State.SENT
        return State.CANCELLED if self.is_cancelled else State.OPEN

    @property
    def total(self) -> Decimal:
        """What the customer pays for all of it."""
        return sum((one.total for one in self.lines), NOTHING)

    @property
    def holder(self) -> str:
        """What speaks for stock on its behalf."""
        return f"{ORDER} {self.name}"
