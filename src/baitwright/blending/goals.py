"""What each column of a program costs, by what is to be best about the mix."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baitwright.blending.candidate import Candidate
from baitwright.blending.program import Floats, Program
from baitwright.blending.rows import Row
from baitwright.blending.wanted import prices


def money(program: Program, candidates: Sequence[Candidate]) -> Floats:
    """What each column costs in money.

    Raises
    ------
    InputError: an ingredient has no price.
    """
    return _of_shares(program, list(prices(candidates).values()))


def less_of(program: Program, row: Row, quotient: float) -> Floats:
    """What each column takes off a number; of a quotient, off what it is beyond a value."""
    under = row.under or {}
    told = [quotient * under.get(name, 0.0) - row.over.get(name, 0.0) for name in program.names]
    return _of_shares(program, told)


def _of_shares(program: Program, per_share: Sequence[float]) -> Floats:
    cost = np.zeros(len(program.whole))
    cost[: len(per_share)] = np.array(per_share) * program.scale
    return cost


def closeness(program: Program) -> Floats:
    """What each column adds to the distance from the present mix."""
    cost = np.zeros(len(program.whole))
    cost[list(program.missed)] = 1.0
    return cost


def shortfall_weights(program: Program, rows: Sequence[Row]) -> Floats:
    """What each shortfall counts: a row's weight for the whole of its limit."""
    cost = np.zeros(len(program.whole))
    for at, column in program.shortfalls:
        cost[column] = rows[at].weight / (abs(rows[at].asked) or 1.0)
    return cost
