"""The search for a mix: what is missed least, then what is best, then what is nearest to now."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from baitwright.blending.cuts import cut_at
from baitwright.blending.goals import closeness, less_of, money, shortfall_weights
from baitwright.blending.program import Floats, program_of
from baitwright.blending.rows import Row
from baitwright.blending.solver import ACCURACY, Ended, Found, Session
from baitwright.blending.wishes import Goal, Wishes
from baitwright.terms.errors import ComputationError

USED = 1e-7
"""A share from which an ingredient is part of a mix; what is less is the solver's noise."""
_TOLD_FROM = 1e-7
"""How far a soft row must be missed to be told, as a share of its limit."""
_KEPT = 1e-10
"""How much worse than the best a goal may become where the next one is asked for."""
_MOST_CUTS = 200
_MOST_QUOTIENTS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A mix found, or none.

    Parameters
    ----------
    wishes: what was wished.
    ended: how the search ended.
    shares: of the mix by ingredient, those that are used.
    goal: what was to be best, in SI; for `Goal.MOST` the number itself.
    duals: by number of the row, what its limit raised by 1 does to the goal; None where anything
        comes in steps, for then no such number is true.
    reduced: by ingredient that is not used, what it is too dear by; None as for ``duals``.
    missed: by number of the soft row, what it is missed by, in SI.
    gap: how far from the best a mix in steps may still be, as a share of the goal.
    """

    wishes: Wishes
    ended: Ended
    shares: Mapping[str, float] = field(default_factory=dict)
    goal: float = math.nan
    duals: Mapping[int, float] | None = None
    reduced: Mapping[str, float] | None = None
    missed: Mapping[int, float] = field(default_factory=dict)
    gap: float = 0.0

    @property
    def is_there(self) -> bool:
        """Whether there is a mix."""
        return bool(self.shares)

    @property
    def cost(self) -> float | None:
        """Of a kilogram; None where a part has no price."""
        by_name = {one.id: one.price for one in self.wishes.candidates}
        paid = [(share, by_name[name]) for name, share in self.shares.items()]
        if not paid or any(one is None for _, one in paid):
            return None
        return math.fsum(share * (one or 0.0) for share, one in paid)


def design(wishes: Wishes, *, seconds: float = 60.0) -> Design:
    """The mix that does best what is wished.

    Soft rows are missed as little as can be, then the goal is the best it can be, and among equal
    mixes the nearest to the present one is taken.

    Parameters
    ----------
    wishes: what is wished.
    seconds: after which the best mix in steps so far is taken.

    Raises
    ------
    InputError: the goal needs a price that an ingredient does not have.
    ComputationError: the solver gave up.
    """
    search = Search(wishes, seconds=seconds)
    best = search.for_goal()
    if not best.is_there:
        return Design(wishes=wishes, ended=best.ended)
    last = best if best.ended is Ended.TIME else search.nearest(best)
    shares = search.shares(last)
    priced = not search.session.program.is_whole
    return Design(
        wishes=wishes,
        ended=best.ended,
        shares=shares,
        goal=search.goal_of(best),
        duals=search.duals(best) if priced else None,
        reduced=search.reduced(best) if priced else None,
        missed=search.missed(last),
        gap=best.gap,
    )


class Search:
    """Wishes in the solver, asked for one thing after another."""

    def __init__(self, wishes: Wishes, *, seconds: float = 60.0, tight: bool = True) -> None:
        self.wishes = wishes
        self.rows = wishes.all_rows
        self.program = program_of(
            wishes.names,
            self.rows,
            rules=wishes.rules,
            loose=[at for at, row in enumerate(self.rows) if not row.hard],
            near=wishes.present,
            tight=tight,
        )
        self.session = Session(self.program, seconds=seconds)
        self._cuts: list[tuple[int, int]] = []
        self._chancy = [at for at, row in enumerate(self.rows) if row.chance is not None]
        self._quotient = 0.0

    def for_goal(self) -> Found:
        """The best for the goal of what misses the soft rows least."""
        if self.program.shortfalls and not self.wishes.soft_beside:
            weights = shortfall_weights(self.program, self.rows)
            least = self.best(weights)
            if not least.is_there:
                return least
            self.session.hold(weights, least.goal + _slack(least.goal))
        if self.wishes.most is None:
            return self.best(self.cost())
        return self._most(self.wishes.most)

    def nearest(self, best: Found) -> Found:
        """Of all mixes as good, the nearest to the present one; of those, the cheapest."""
        if self.wishes.goal is Goal.NEAREST:
            if any(one.price is None for one in self.wishes.candidates):
                return best
            after = money(self.program, self.wishes.candidates)
        elif self.program.missed:
            after = closeness(self.program)
        else:
            return best
        cost = self.cost()
        self.session.hold(cost, float(cost @ best.columns) + _slack(best.goal))
        found = self.best(after)
        return found if found.is_there else best

    def best(self, cost: Floats, *, duals: bool = True) -> Found:
        """The least of a cost, every row that is to hold with a chance kept by cuts.

        Parameters
        ----------
        cost: of each column.
        duals: whether to read what rows and columns are worth, too.

        Raises
        ------
        ComputationError: the cuts do not come to an end.
        """
        for _ in range(_MOST_CUTS):
            found = self.session.solve(cost, duals=duals)
            if not found.is_there or not self._chancy or not self._cut(found):
                return found
        raise ComputationError("the rows that are to hold with a chance could not be kept")

    def without(self, owner: int) -> Callable[[], None]:
        """Leave a wish out; what is returned takes it in again."""
        rows = [
            (row, self.program.row_low[row], self.program.row_high[row])
            for row in self.program.rows_of[owner]
        ]
        rows += [(row, *self.program.limits(at)) for at, row in self._cuts if at == owner]
        stepped = self.program.stepped_by(owner)
        for row, _, _ in rows:
            self.session.bound(row, -math.inf, math.inf)
        self.session.whole(stepped, whole=False)
        chancy = owner in self._chancy
        if chancy:
            self._chancy.remove(owner)

        def take_in() -> None:
            for row, low, high in rows:
                self.session.bound(row, low, high)
            self.session.whole(stepped, whole=True)
            if chancy:
                self._chancy.append(owner)

        return take_in

    def _cut(self, found: Found) -> bool:
        """Whether a row was missed, and a cut made."""
        shares, made = self.shares(found), False
        for at in self._chancy:
            told = cut_at(self.rows[at], shares)
            if told is None:
                continue
            held = {
                self.program.at[name]: value
                for name, value in told.items()
                if name in self.program.at
            }
            index = list(held)
            values = [value * self.program.scale[at] for at, value in held.items()]
            for owner, column in self.program.shortfalls:
                if owner == at:
                    index.append(column)
                    values.append(1.0 if self.rows[at].sense == "at least" else -1.0)
            row = self.session.add(index, values, limits=self.program.limits(at))
            self._cuts.append((at, row))
            made = True
        return made

    def _most(self, row: Row) -> Found:
        """The most of a number; of a quotient by raising it as long as there is more to be had."""
        self._quotient = 0.0
        found = self.best(self.cost())
        for _ in range(_MOST_QUOTIENTS):
            if not found.is_there or row.under is None:
                return found
            value = row.value(self.shares(found)) or 0.0
            if value <= self._quotient + ACCURACY * max(1.0, abs(value)):
                return found
            self._quotient = value
            found = self.best(self.cost())
        raise ComputationError(f"the most of {row.about} could not be found")

    def cost(self) -> Floats:
        """What each column costs: by the goal, and by what soft rows miss where it counts too."""
        if self.wishes.soft_beside:
            return self._of_goal() + shortfall_weights(self.program, self.rows)
        return self._of_goal()

    def _of_goal(self) -> Floats:
        if self.wishes.goal is Goal.NEAREST:
            return closeness(self.program)
        if self.wishes.most is None:
            return money(self.program, self.wishes.candidates)
        return less_of(self.program, self.wishes.most, self._quotient)

    def shares(self, found: Found) -> dict[str, float]:
        """The shares of the ingredients that are used."""
        names, program = self.program.names, self.program
        counted = found.columns[: len(names)]
        if program.is_whole:
            counted = np.where(program.whole[: len(names)], np.round(counted), counted)
        told = counted * program.scale
        return {names[at]: float(told[at]) for at in np.flatnonzero(told > USED).tolist()}

    def goal_of(self, found: Found) -> float:
        """What was to be best, as the maker counts it."""
        if self.wishes.most is not None:
            return self.wishes.most.value(self.shares(found)) or 0.0
        if self.wishes.goal is Goal.NEAREST:
            return distance(self.wishes.present or {}, self.shares(found))
        return found.goal

    def duals(self, found: Found) -> dict[int, float]:
        """By row, what its limit raised by 1 does to the goal."""
        shares, total = self.shares(found), 1.0
        if self.wishes.most is not None:
            total = -self.wishes.most.divisor(shares)
        held = {at: found.row_duals[rows[0]] for at, rows in enumerate(self.program.rows_of)}
        for at, cut in self._cuts:
            if cut < len(found.row_duals):
                held[at] += found.row_duals[cut]
        return {
            at: float(dual) * self.rows[at].divisor(shares) / total for at, dual in held.items()
        }

    def reduced(self, found: Found) -> dict[str, float]:
        """By ingredient that is not used, what a share of 1 of it would make the goal worse by."""
        used = self.shares(found)
        return {
            name: float(found.column_duals[at] / self.program.scale[at])
            for at, name in enumerate(self.program.names)
            if name not in used
        }

    def missed(self, found: Found) -> dict[int, float]:
        """By soft row, what it is missed by."""
        shares, told = self.shares(found), {}
        for at in dict.fromkeys(at for at, _ in self.program.shortfalls):
            row = self.rows[at]
            value = row.value(shares)
            far = 0.0 if value is None else row.miss(value)
            if far > _TOLD_FROM * max(1.0, abs(row.asked)):
                told[at] = far
        return told


def distance(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    """How much of a mix has to be exchanged to make another of it, as a share of all of it."""
    names = one.keys() | other.keys()
    gaps = (abs(one.get(name, 0.0) - other.get(name, 0.0)) for name in sorted(names))
    return 0.5 * math.fsum(gaps)


def _slack(goal: float) -> float:
    return _KEPT * max(1.0, abs(goal))
