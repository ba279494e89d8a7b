"""The best mix at one price after another, for goals that are not cost: what a budget then buys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from baitwright.blending.rows import Row, RowKind
from baitwright.blending.search import Design, design
from baitwright.blending.wishes import Wishes
from baitwright.terms.errors import InputError

PRICES = 13
"""How many prices are looked at."""


@dataclass(frozen=True, slots=True)
class Looked:
    """The best mix at one price of an ingredient [per kg]; ``found`` may be none."""

    ingredient: str
    price: float
    found: Design


def look(
    wishes: Wishes, ingredient: str, *, low: float, high: float, seconds: float = 20.0
) -> tuple[Looked, ...]:
    """The best mix at several prices of an ingredient, evenly apart, each sought for itself.

    Parameters
    ----------
    wishes: with a budget; without one no price changes the mix.
    ingredient: by id.
    low, high: the first price and the last [per kg].
    seconds: for each mix in steps that is looked for.

    Raises
    ------
    InputError: no row about the price, or prices that are none.
    """
    if not any(row.kind is RowKind.PRICE for row in wishes.rows):
        accepted = "least cost, or a budget: else no price changes the mix"
        raise InputError("goal", str(wishes.goal), accepted)
    if not 0.0 <= low < high:
        raise InputError("sweep", f"{low:g} to {high:g}", "a price, and a higher one")
    return tuple(
        Looked(ingredient, one, design(_at(wishes, ingredient, one), seconds=seconds))
        for one in _prices(low, high)
    )


def _prices(low: float, high: float) -> Iterator[float]:
    return (low + (high - low) * at / (PRICES - 1) for at in range(PRICES))


def _at(wishes: Wishes, ingredient: str, price: float) -> Wishes:
    candidates = tuple(
        replace(one, price=price) if one.id == ingredient else one for one in wishes.candidates
    )
    rows = tuple(_moved(row, ingredient, price) for row in wishes.rows)
    return replace(wishes, candidates=candidates, rows=rows)


def _moved(row: Row, ingredient: str, price: float) -> Row:
    if row.kind is not RowKind.PRICE:
        return row
    return replace(row, over={**row.over, ingredient: price})
