"""What the shelf paid for the parts of a mix, at the moving average of the notebook."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.ledger.movements import Counted
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.recipes_behind import known_as
from baitwright.workshop.recipe_files.mix_file import MixAsked
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.typed.nearest import alike

_MILLIGRAMS = 1e6


def priced_by_shelf(book: Notebook, asked: MixAsked) -> MixAsked:
    """A mix with what the shelf knows of its parts: price and stock, where nobody told them.

    An item is a part by the name that the ingredient table knows it by. A lot without a price is
    left out, and an item without any stays without one.
    """
    told = asked.told
    held = _of_parts(book)
    names = {one.ingredient for one in told.base.parts}
    names |= set() if told.hardener is None else {told.hardener.ingredient}
    shelf = {**told.shelf, **{name: _with(told, name, held) for name in names}}
    price = told.price
    if price is None and not told.base.parts:
        price = held.prices.get(alike(told.base.name))
    return replace(asked, told=replace(told, shelf=shelf, price=price))


@dataclass(frozen=True, slots=True)
class _Held:
    """Price and stock [kg] by ingredient id, and by plain name for what no table knows."""

    prices: dict[str, float] = field(default_factory=dict)
    stocks: dict[str, float] = field(default_factory=dict)


def _with(told: MixTold, name: str, held: _Held) -> Candidate:
    one = told.candidate(name)
    return replace(
        one,
        price=held.prices.get(name) if one.price is None else one.price,
        stock=held.stocks.get(name) if one.stock is None else one.stock,
    )


def _of_parts(book: Notebook) -> _Held:
    held = _Held()
    for one in shelves(book):
        if one.counted is not Counted.MILLIGRAMS:
            continue
        row = known_as(one.item)
        key = alike(one.item) if row is None else row.id
        held.stocks[key] = one.account.amount / _MILLIGRAMS
        average = one.priced.average
        if average is not None:
            held.prices[key] = float(average) * _MILLIGRAMS
    return held
