"""What happens to a mix as prices move: every mix that becomes the best one, and where."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from baitwright.blending.goals import money
from baitwright.blending.program import Floats
from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.search import Search
from baitwright.blending.solver import Found
from baitwright.blending.wishes import Goal, Wishes
from baitwright.terms.errors import InputError

_ALIKE = 1e-9
_MOST_STEPS = 400


@dataclass(frozen=True, slots=True)
class Stretch:
    """One mix, best from one price of an ingredient to another [per kg].

    ``share`` is of that ingredient; the mix costs ``rest`` plus share times its price.
    """

    low: float
    high: float
    shares: Mapping[str, float]
    share: float
    rest: float

    def cost(self, price: float) -> float:
        """Of a kilogram of this mix at a price of the ingredient."""
        return self.rest + self.share * price


@dataclass(frozen=True, slots=True)
class Sweep:
    """The best mixes over the price of one ingredient, from the lowest price to the highest.

    ``dearest`` is the price beyond which no mix keeps the budget; None where there is none such.
    """

    ingredient: str
    stretches: tuple[Stretch, ...]
    dearest: float | None = None

    def at(self, price: float) -> Stretch:
        """The stretch a price lies in."""
        return next((one for one in self.stretches if price <= one.high), self.stretches[-1])


def sweep(wishes: Wishes, ingredient: str, *, low: float, high: float) -> Sweep:
    """Every best mix between two prices of an ingredient, exactly.

    The cost of the best mix is the lowest of many straight lines over the price, one for each mix:
    where two that are known cross, either they are next to each other or a third lies lower. The
    best cost only rises with a price, so that a budget ends the prices and changes no mix.

    Parameters
    ----------
    wishes: with least cost for their goal.
    ingredient: by id.
    low, high: the prices [per kg].

    Raises
    ------
    InputError: another goal, a row about the price that is no budget, no such ingredient, or no mix
        at all.
    """
    budget = min((row.asked for row in wishes.rows if _is_budget(row)), default=math.inf)
    free = tuple(row for row in wishes.rows if not _is_budget(row))
    search = _priced_search(replace(wishes, rows=free))
    if ingredient not in wishes.names:
        raise InputError("sweep", ingredient, f"one of: {', '.join(wishes.names)}")
    if not 0.0 <= low < high:
        raise InputError("sweep", f"{low:g} to {high:g}", "a price, and a higher one")
    at = wishes.names.index(ingredient)
    base = money(search.program, wishes.candidates)
    scale = float(search.program.scale[at])

    def mix_at(price: float) -> Stretch:
        cost = base.copy()
        cost[at] = price * scale
        found = _demanded(search.best(cost))
        shares = search.shares(found)
        share = shares.get(ingredient, 0.0)
        return Stretch(price, price, shares, share, float(cost @ found.columns) - share * price)

    ends = [(low, mix_at(low)), (high, mix_at(high))]
    breaks: list[tuple[float, Stretch]] = []
    _between(mix_at, ends[0], ends[1], into=breaks)
    told, edge = [], low
    for until, one in [*breaks, ends[1]]:
        told.append(replace(one, low=edge, high=until))
        edge = until
    return _within(Sweep(ingredient, tuple(told)), budget)


def _is_budget(row: Row) -> bool:
    return row.kind is RowKind.PRICE and row.hard and row.sense is Sense.AT_MOST


def _within(swept: Sweep, budget: float) -> Sweep:
    """The same as far as a kilogram costs no more than the budget."""
    kept = []
    for one in swept.stretches:
        if one.cost(one.high) <= budget:
            kept.append(one)
            continue
        dearest = (budget - one.rest) / one.share if one.share > 0.0 else one.low
        if dearest > one.low:
            kept.append(replace(one, high=dearest))
        if not kept:
            accepted = f"at least {one.cost(one.low):.4g}, what the cheapest mix costs"
            raise InputError("budget", f"{budget:g}", accepted)
        return replace(swept, stretches=tuple(kept), dearest=dearest)
    return swept


_At: TypeAlias = tuple[float, Stretch]


def _between(mix_at: Callable[[float], Stretch], left: _At, right: _At, *, into: list[_At]) -> None:
    """Crossings between two known mixes, from the left; each with the mix best up to it."""
    (low, first), (high, second) = left, right
    if abs(first.share - second.share) <= _ALIKE or len(into) >= _MOST_STEPS:
        return
    crossing = (second.rest - first.rest) / (first.share - second.share)
    crossing = min(max(crossing, low), high)
    middle = mix_at(crossing)
    if middle.cost(crossing) >= first.cost(crossing) - _ALIKE * max(1.0, first.cost(crossing)):
        into.append((crossing, first))
        return
    _between(mix_at, left, (crossing, middle), into=into)
    _between(mix_at, (crossing, middle), right, into=into)


@dataclass(frozen=True, slots=True)
class Scenarios:
    """The best mix under each list of prices: cost, and shares by ingredient in columns."""

    names: tuple[str, ...]
    costs: Floats
    shares: Floats


def scenarios(wishes: Wishes, prices: Floats) -> Scenarios:
    """The best mix under many lists of prices, each search begun where the last one ended.

    Parameters
    ----------
    wishes: with least cost for their goal.
    prices: per kg, a row for each list and a column for each ingredient in the order of the wishes.

    Raises
    ------
    InputError: as `sweep`, or prices that are not one for each ingredient.
    """
    search = _priced_search(wishes)
    width = len(wishes.names)
    if prices.ndim != 2 or prices.shape[1] != width or not np.isfinite(prices).all():
        raise InputError("prices", f"shape {prices.shape}", f"{width} prices in each row")
    scale = search.program.scale
    cost = np.zeros(len(search.program.whole))
    costs, shares = np.empty(len(prices)), np.empty(prices.shape)
    for at, one in enumerate(prices * scale):
        cost[:width] = one
        found = _demanded(search.best(cost, duals=False))
        costs[at] = found.goal
        shares[at] = found.columns[:width] * scale
    return Scenarios(wishes.names, costs, shares)


def _priced_search(wishes: Wishes) -> Search:
    if wishes.goal is not Goal.CHEAPEST:
        raise InputError("goal", str(wishes.goal), f"{Goal.CHEAPEST}, where prices are to move")
    if any(row.kind is RowKind.PRICE for row in wishes.rows):
        raise InputError("price", "a limit", "no such limit of the price, where prices are to move")
    search = Search(replace(wishes, present=None))
    _demanded(search.for_goal())
    search.session.expect_prices_to_move()
    return search


def _demanded(found: Found) -> Found:
    if not found.is_there:
        raise InputError("rows", "wishes that clash", "wishes that a mix can keep")
    return found
