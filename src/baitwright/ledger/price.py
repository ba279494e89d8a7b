"""What is asked for an item, what of it is left, and values shared out to the last millionth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from itertools import accumulate, pairwise

from baitwright.ledger.cost import CENT, price_for
from baitwright.ledger.movements import NOTHING, STEP, Account, Counted
from baitwright.terms.errors import InputError

_MILLION = 10**6


def priced_by(counted: Counted) -> int:
    """How many units of an item a price is for: one piece, a kilogram or a litre."""
    return 1 if counted is Counted.PIECES else _MILLION


def cost_of(account: Account, counted: Counted) -> Decimal | None:
    """What a piece, a kilogram or a litre costs at the moving average; nothing where none is."""
    if account.average is None:
        return None
    return (account.average * priced_by(counted)).quantize(STEP, rounding=ROUND_HALF_EVEN)


def amount_at(price: Decimal, units: int, counted: Counted) -> Decimal:
    """What so much comes to at a price, to the cent; half a cent goes up."""
    return (price * units / priced_by(counted)).quantize(CENT, rounding=ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Margin:
    """What is left of what was taken once the cost is borne; of a cost all known, or in part."""

    taken: Decimal
    cost: Decimal
    whole: bool = True

    @property
    def money(self) -> Decimal:
        """What is left; below nothing where it was sold below cost."""
        return self.taken - self.cost

    @property
    def share(self) -> Decimal | None:
        """Of what was taken; nothing where nothing was."""
        return self.money / self.taken if self.taken else None


def without_vat(price: Decimal, rate: Decimal | None) -> Decimal:
    """What of a price is the maker's own; all of it where no rate was told.

    Parameters
    ----------
    price: as the customer pays it.
    rate: share on top of the maker's own, such as 0.2.
    """
    if rate is None:
        return price
    return (price / (1 + rate)).quantize(STEP, rounding=ROUND_HALF_EVEN)


@dataclass(frozen=True, slots=True)
class Offer:
    """What is asked for a piece, a kilogram or a litre, as the customer pays it.

    Parameters
    ----------
    asked: the price.
    vat: rate within the price as a share of what is the maker's own; none where none was told.
    wanted: margin, as a share of the maker's own, or none.
    step: of the price list.

    Raises
    ------
    InputError: less than nothing is asked, a rate or margin that is none, no step.
    """

    asked: Decimal
    vat: Decimal | None = None
    wanted: Decimal | None = None
    step: Decimal = CENT

    def __post_init__(self) -> None:
        """Refuse what no price list holds."""
        if self.asked < 0:
            raise InputError("price", str(self.asked), "nothing or more")
        if self.vat is not None and not 0 <= self.vat < 1:
            raise InputError("VAT", str(self.vat), "a share from 0 to less than 1")
        price_for(NOTHING, margin=self.wanted or NOTHING, step=self.step)

    def margin(self, cost: Decimal) -> Margin:
        """What is left of one that costs so much."""
        return Margin(without_vat(self.asked, self.vat), cost)

    def price_wanted(self, cost: Decimal) -> Decimal | None:
        """The price that leaves the wanted margin; nothing where none was told."""
        if self.wanted is None:
            return None
        return price_for(cost * (1 + (self.vat or NOTHING)), margin=self.wanted, step=self.step)


def shared_out(value: Decimal, weights: Sequence[Decimal | int]) -> tuple[Decimal, ...]:
    """A value shared out by weights in whole millionths, so that the shares make it up exactly.

    Raises
    ------
    InputError: weights that come to nothing, with a value to share out.
    """
    sums = tuple(accumulate(map(Decimal, weights), initial=NOTHING))
    if sums[-1] == 0:
        if value:
            raise InputError("value to share out", str(value), "something to bear it")
        return tuple(NOTHING for _ in weights)
    cuts = [(value * one / sums[-1]).quantize(STEP, rounding=ROUND_HALF_EVEN) for one in sums]
    return tuple(after - before for before, after in pairwise(cuts))


def stretch(lots: Sequence[tuple[str, int]], start: int, stop: int) -> tuple[tuple[str, int], ...]:
    """Of amounts laid end to end, what lies from one unit to another, lot by lot.

    Parameters
    ----------
    lots: each lot with what it gave, in the order in which it was taken.
    start, stop: units from the first one on.
    """
    ends = accumulate((units for _, units in lots), initial=0)
    found = (
        (lot, min(stop, end) - max(start, begin))
        for (lot, _), (begin, end) in zip(lots, pairwise(ends), strict=True)
    )
    return tuple((lot, units) for lot, units in found if units > 0)
