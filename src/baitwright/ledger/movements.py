"""The shelf's book: what came in and went out, line by line, what is left and what it is worth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import ROUND_HALF_EVEN, Decimal
from enum import StrEnum

from baitwright.terms.errors import InputError

NOTHING = Decimal(0)
STEP = Decimal("0.000001")
"""Values are kept to a millionth of the shop's money, so that a bait's share of a lot is told."""
MOST = Decimal(10) ** 12
"""Of a line's value: more is a slip of the pen, and the notebook's numbers end there."""


MOST_UNITS = 10**18
"""Of an item's stock, in its whole units: a million tonnes, where the notebook's numbers end."""


class Counted(StrEnum):
    """What amounts of an item are whole numbers of, so that sums are exact."""

    MILLIGRAMS = "mg"
    MICROLITRES = "ul"
    PIECES = "pieces"


@dataclass(frozen=True, slots=True)
class Amount:
    """So many whole milligrams, microlitres or pieces."""

    units: int
    counted: Counted


class Reason(StrEnum):
    """Why stock moved."""

    BOUGHT = "bought"
    MADE = "made"
    RETURNED = "returned"
    USED = "used"
    PACKED = "packed"
    SOLD = "sold"
    LOST = "lost"
    COUNTED = "counted"
    UNDONE = "undone"


@dataclass(frozen=True, slots=True)
class Movement:
    """One line of the book: an amount of an item into a lot, or out of it below nothing.

    ``value`` goes the same way, in the shop's money. ``override`` says why a lot may go below
    nothing.
    """

    item: str
    lot: str
    time: datetime
    amount: int
    value: Decimal
    reason: Reason
    override: str = ""


@dataclass(frozen=True, slots=True)
class Account:
    """How much of an item there is over all its lots, and what it is worth together."""

    amount: int = 0
    value: Decimal = NOTHING

    @property
    def average(self) -> Decimal | None:
        """What one unit is worth, of what is there or what is owed; nothing where neither is."""
        return self.value / self.amount if self.amount else None

    def after(self, one: Movement) -> Account:
        """The account with one more line."""
        return Account(self.amount + one.amount, self.value + one.value)

    def without(self, others: Iterable[Account]) -> Account:
        """The account less others that are part of it."""
        left = self
        for one in others:
            left = Account(left.amount - one.amount, left.value - one.value)
        return left

    def worth_of(self, amount: int) -> Decimal:
        """What an amount taken out takes along: its part at the average, all of it at the end.

        More than there is goes at the average too, so that the next delivery pays what is owed.
        """
        if self.amount == 0:
            return NOTHING
        if amount == self.amount:
            return self.value
        part = self.value * amount / self.amount
        return part.quantize(STEP, rounding=ROUND_HALF_EVEN)


class OverdrawnError(InputError):
    """More was to be taken out of a lot than it held.

    Parameters
    ----------
    lot: which.
    amount, held: what was to be taken, and what there was, in whole units of the item.
    """

    def __init__(self, lot: str, amount: int, held: int) -> None:
        self.lot, self.amount, self.held = lot, amount, held
        hint = "Count the shelf, or say why more was taken than the book holds."
        super().__init__(f"stock of {lot}", amount, f"{max(held, 0)} at most", hint=hint)


@dataclass(frozen=True, slots=True)
class Book:
    """Where the book stands: what each lot holds, and the account of each item.

    ``apart`` has the lots of which not all of the price is known, each with an account of its own,
    so that what nobody knows does not move the average of the others.
    """

    lots: Mapping[str, int]
    items: Mapping[str, Account]
    apart: Mapping[str, Account] = field(default_factory=dict)

    def take(self, one: Movement) -> Book:
        """The book with one more line.

        Raises
        ------
        OverdrawnError: it takes a lot below nothing and gives no reason.
        InputError: it moves nothing, amount and value go different ways, or the item's stock or
            value would be beyond all sense.
        """
        _check(one)
        held = self.lots.get(one.lot, 0)
        if one.amount < 0 and held + one.amount < 0 and not one.override.strip():
            raise OverdrawnError(one.lot, -one.amount, held)
        account = self.account(one.item, one.lot).after(one)
        if abs(account.amount) > MOST_UNITS or abs(account.value) > MOST:
            raise InputError(f"stock of {one.item}", "more than any shop holds", "less of it")
        lots = {**self.lots, one.lot: held + one.amount}
        if one.lot in self.apart:
            return Book(lots, self.items, {**self.apart, one.lot: account})
        return Book(lots, {**self.items, one.item: account}, self.apart)

    def account(self, item: str, lot: str) -> Account:
        """The account that a lot of an item goes by: its own where it stands apart."""
        return self.apart.get(lot) or self.items.get(item, Account())

    def joined(self, other: Book) -> Book:
        """The book with the items of another, which it did not have."""
        return Book(
            {**self.lots, **other.lots},
            {**self.items, **other.items},
            {**self.apart, **other.apart},
        )

    def out(self, wanted: Movement) -> Movement:
        """A line that goes out, with the value that it takes along at the average."""
        account = self.account(wanted.item, wanted.lot)
        return replace(wanted, value=-account.worth_of(-wanted.amount))


def book_of(movements: Iterable[Movement]) -> Book:
    """Where the book stands after lines that were accepted when they were written."""
    lots: dict[str, int] = {}
    items: dict[str, Account] = {}
    for one in movements:
        lots[one.lot] = lots.get(one.lot, 0) + one.amount
        items[one.item] = items.get(one.item, Account()).after(one)
    return Book(lots, items)


def undo(one: Movement, *, time: datetime) -> Movement:
    """The line that takes another back; the book keeps both."""
    return replace(one, time=time, amount=-one.amount, value=-one.value, reason=Reason.UNDONE)


def _check(one: Movement) -> None:
    if one.amount == 0:
        raise InputError(f"stock of {one.lot}", 0, "an amount above or below nothing")
    if abs(one.value) > MOST:
        raise InputError(f"value of {one.lot}", str(one.value), f"{MOST:,} at most")
    if one.value * one.amount < 0:
        accepted = "a value that comes in, or goes out, with its amount"
        raise InputError(f"value of {one.lot}", str(one.value), accepted)
