"""Why a mix is as it is: the rows it leans on, what one more point costs, what is too dear."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Row, RowKind
from baitwright.blending.search import Design, Search
from baitwright.blending.wishes import Goal

POINTS = {"%": 0.01, "g/ml": 10.0, "kJ/100g": 1e5, "per kg": 0.1, "g/g": 0.1, "": 0.1}
"""What one more point of a row's limit is, in SI, by the unit it is told in."""
_AT = 1e-7
"""How near a row's number lies to its limit where the mix leans on it, as a share of the limit."""


@dataclass(frozen=True, slots=True)
class Leaning:
    """A row the mix leans on.

    ``margin`` is what a point more does to the goal from here on, by the point; ``next_point`` what
    the whole next point does, or None where it cannot be had. Both are None for a mix in steps.
    """

    row: Row
    value: float
    margin: float | None
    next_point: float | None
    can_be_had: bool = True


@dataclass(frozen=True, slots=True)
class TooDear:
    """An ingredient left out, and the price per kg under which it would come in."""

    candidate: Candidate
    price: float
    enters_at: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """What a mix leans on, and what is left out for its price."""

    leaning: tuple[Leaning, ...]
    too_dear: tuple[TooDear, ...]


def explain(found: Design) -> Explanation:
    """Why a mix is as it is."""
    return Explanation(_leaning(found), _too_dear(found))


def _leaning(found: Design) -> tuple[Leaning, ...]:
    told = []
    for at, row in enumerate(found.wishes.all_rows):
        value = row.value(found.shares)
        if row.kind is RowKind.WHOLE or value is None:
            continue
        dual = None if found.duals is None else found.duals[at]
        near = abs(value - row.asked) <= _AT * max(1.0, abs(row.asked))
        if not near and not dual:
            continue
        if dual is None:
            told.append(Leaning(row, value, None, None))
            continue
        point = POINTS[row.unit]
        after = _with_more(found, at, row.asked + point)
        gained = None if after is None else after - found.goal
        told.append(Leaning(row, value, dual * point, gained, after is not None))
    return tuple(told)


def _with_more(found: Design, at: int, asked: float) -> float | None:
    """The goal with another limit of one row; None where no mix keeps it."""
    rows = list(found.wishes.rows)
    rows[at - 1] = replace(rows[at - 1], asked=asked)  # the first of all rows is the whole
    search = Search(replace(found.wishes, rows=tuple(rows)))
    best = search.for_goal()
    return search.goal_of(best) if best.is_there else None


def _too_dear(found: Design) -> tuple[TooDear, ...]:
    """By how much less its price would have to fall; only where cost is what is to be least."""
    if found.reduced is None or found.wishes.goal is not Goal.CHEAPEST:
        return ()
    barred = {
        name
        for row in found.wishes.rows
        if row.kind is RowKind.BAN or (row.kind is RowKind.STOCK and row.asked == 0.0)
        for name in row.over
    }
    told = []
    for one in found.wishes.candidates:
        by = found.reduced.get(one.id)
        if by is None or one.price is None or one.id in barred:
            continue
        told.append(TooDear(one, one.price, one.price - by))
    return tuple(sorted(told, key=lambda each: each.price - each.enters_at))
