"""A line of the price list: what is asked for an item, what it costs, and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from baitwright.ledger.movements import Counted
from baitwright.ledger.price import Margin, Offer


@dataclass(frozen=True, slots=True)
class PriceLine:
    """An item of the list: its price if one is asked, and its cost if any stands on the shelf.

    ``unpriced`` counts lots on the shelf of which not all of the price is known; the cost is that
    of the others, or the least it can be where there are none (``at_least``).
    """

    item: str
    counted: Counted
    offer: Offer | None
    cost: Decimal | None
    unpriced: int = 0
    at_least: bool = False

    @property
    def asked(self) -> Decimal | None:
        """The price, if one is asked."""
        return None if self.offer is None else self.offer.asked

    @property
    def vat(self) -> Decimal | None:
        """The rate within it, if one was told."""
        return None if self.offer is None else self.offer.vat

    @property
    def wanted(self) -> Decimal | None:
        """The margin wanted, if one was told."""
        return None if self.offer is None else self.offer.wanted

    @property
    def left(self) -> Decimal | None:
        """What is left of one in money; unknown without a price or a cost."""
        return None if self._margin is None else self._margin.money

    @property
    def left_share(self) -> Decimal | None:
        """The same as a share of the price without VAT."""
        return None if self._margin is None else self._margin.share

    @property
    def price_wanted(self) -> Decimal | None:
        """What price would leave the wanted margin."""
        if self.offer is None or self.cost is None:
            return None
        return self.offer.price_wanted(self.cost)

    @property
    def is_below_cost(self) -> bool:
        """Whether each one sold is a loss."""
        return self.left is not None and self.left < 0

    @property
    def _margin(self) -> Margin | None:
        if self.offer is None or self.cost is None:
            return None
        return self.offer.margin(self.cost)
