"""Why a mix is as it is: the rows it leans on, what one more point costs, what is too dear."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from baitwright.blending.blend import in_units
from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Row, RowKind
from baitwright.blending.search import Design, Search
from baitwright.blending.wishes import Goal
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import MONEY_PER_KILOGRAM, PERCENT, Unit

POINTS = {"%": 0.01, "g/ml": 10.0, "kJ/100g": 1e5, "per kg": 0.1, "g/g": 0.1, "": 0.1}
"""What one more point of a row's limit is, in SI, by the unit it is told in."""
_AT = 1e-7
"""How near a row's number lies to its limit where the mix leans on it, as a share of the limit."""
_NO_DUAL = 1e-10


@declared(
    "point_does",
    label="what the next point does",
    equation="the best with the limit one point higher - the best now",
    source="definition",
    note="both are solved; further points cost as much or more",
)
def point_does(after: Any, now: Any) -> Any:
    """What a whole point more of a limit does to the best there is."""
    return after - now


@declared(
    "enters_at",
    label="price under which it comes in",
    unit=MONEY_PER_KILOGRAM,
    equation="price - what a kilogram of it adds to the cost of the best mix",
    source="definition",
    note="for the first pinch of it, all other prices as they are",
)
def enters_at(price: Any, too_dear_by: Any) -> Any:
    """The price under which an ingredient comes into the cheapest mix."""
    return price - too_dear_by


@dataclass(frozen=True, slots=True)
class Leaning:
    """A row the mix leans on.

    ``margin`` is what the limit raised does to the goal from here on, by the point; ``next_point``
    what the whole next point does, None where it cannot be had. For a mix in steps there is neither
    and ``priced`` is false: no such number is true of it.
    """

    row: Row
    value: float
    margin: float | None
    next_point: Quantity | None
    priced: bool = True


@dataclass(frozen=True, slots=True)
class TooDear:
    """An ingredient left out, its price, and the price per kg under which it would come in."""

    candidate: Candidate
    price: float
    enters_at: Quantity


@dataclass(frozen=True, slots=True)
class Explanation:
    """What a mix leans on, and what is left out for its price, the nearest to coming in first."""

    leaning: tuple[Leaning, ...]
    too_dear: tuple[TooDear, ...]


def explain(found: Design) -> Explanation:
    """Why a mix is as it is."""
    return Explanation(tuple(_leaning(found)), _too_dear(found))


def unit_of_goal(found: Design) -> Unit:
    """The unit of what was to be best."""
    if found.wishes.most is not None:
        shown = found.wishes.most.unit
        return Unit("J/kg" if shown == "kJ/100g" else "kg/m3" if shown == "g/ml" else "", shown)
    return PERCENT if found.wishes.goal is Goal.NEAREST else MONEY_PER_KILOGRAM


def _leaning(found: Design) -> list[Leaning]:
    made = []
    for at, row in enumerate(found.wishes.all_rows):
        value = row.value(found.shares)
        if row.kind is RowKind.WHOLE or value is None:
            continue
        dual = None if found.duals is None else found.duals[at]
        near = abs(value - row.asked) <= _AT * max(1.0, abs(row.asked))
        if row.chance is None and not near:
            continue
        if row.chance is not None and not dual:
            continue
        if dual is None:
            made.append(Leaning(row, value, None, None, priced=False))
            continue
        margin = dual * POINTS[row.unit] if abs(dual) > _NO_DUAL else 0.0
        made.append(Leaning(row, value, margin, _next_point(found, at, row)))
    return made


def _next_point(found: Design, at: int, row: Row) -> Quantity | None:
    """What the goal becomes with a point more of one row; None where no mix keeps it."""
    if row.kind is RowKind.BAN:
        return None
    rows = list(found.wishes.rows)
    rows[at - 1] = replace(row, asked=row.asked + POINTS[row.unit])  # all rows begin with the whole
    search = Search(replace(found.wishes, rows=tuple(rows), present=_needed(found)))
    best = search.for_goal()
    if not best.is_there:
        return None
    unit = unit_of_goal(found)
    after = given("goal_after", search.goal_of(best), label="the best with a point more", unit=unit)
    now = given("goal_now", found.goal, label="the best now", unit=unit)
    return in_units(point_does(after=after, now=now), unit).labelled(f"next point of {row.about}")


def _needed(found: Design) -> Any:
    """The present mix where the goal is about it; otherwise it only decides between equals."""
    return found.wishes.present if found.wishes.goal is Goal.NEAREST else None


def _too_dear(found: Design) -> tuple[TooDear, ...]:
    """By how much less its price would have to fall; only where cost is what is to be least."""
    if found.reduced is None or found.wishes.goal is not Goal.CHEAPEST:
        return ()
    barred = {
        name
        for row in found.wishes.rows
        if row.kind in (RowKind.BAN, RowKind.STOCK) and row.asked == 0.0
        for name in row.over
    }
    made = []
    for one in found.wishes.candidates:
        by = found.reduced.get(one.id)
        if by is None or one.price is None or one.id in barred:
            continue
        label = f"{one.name}, price"
        price = given("price_of", one.price, label=label, unit=MONEY_PER_KILOGRAM)
        dear = given("too_dear_by", by, label="too dear by", unit=MONEY_PER_KILOGRAM)
        made.append(TooDear(one, one.price, enters_at(price=price, too_dear_by=dear)))
    return tuple(sorted(made, key=lambda each: each.price - each.enters_at.value))
