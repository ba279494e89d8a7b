"""What sales left: by order, by month, or all together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from baitwright.ledger.movements import NOTHING
from baitwright.ledger.price import Margin


@dataclass(frozen=True, slots=True)
class Sale:
    """What an order brought on a day, or what coming back took from it.

    ``taken`` is the maker's own part of what was paid, ``cost`` what the goods were worth; both are
    below nothing for what came back. ``whole`` is whether all of the cost is known.
    """

    order: str
    day: date
    taken: Decimal
    cost: Decimal
    whole: bool = True


def margins(sales: Iterable[Sale], by: Callable[[Sale], str]) -> Mapping[str, Margin]:
    """What is left, grouped; groups in the order in which they come first.

    Parameters
    ----------
    sales: all of them.
    by: the group that one belongs to, such as its month.
    """
    found: dict[str, Margin] = {}
    for one in sales:
        had = found.get(by(one), Margin(NOTHING, NOTHING))
        whole = had.whole and one.whole
        found[by(one)] = Margin(had.taken + one.taken, had.cost + one.cost, whole)
    return found


def month_of(sale: Sale) -> str:
    """The month of a sale, such as 2026-11."""
    return f"{sale.day:%Y-%m}"
