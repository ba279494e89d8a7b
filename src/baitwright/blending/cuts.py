"""Rows that are to hold with a chance, for lots as they come, kept exactly by straight cuts.

A mix's number scatters by the root of the sum of squares of what each ingredient scatters, which no
straight row can say. Wherever a mix misses it, one straight row is added that this mix breaks and
no mix that keeps the wish does; a few of them and the wish is kept.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from statistics import NormalDist

from baitwright.blending.rows import Row, Sense
from baitwright.terms.errors import InputError


def sigmas(chance: float) -> float:
    """How many standard deviations the middle has to stay on the right side.

    Raises
    ------
    InputError: a chance under one half, or certainty.
    """
    if not 0.5 <= chance < 1.0:
        got = f"{100.0 * chance:g} %"
        raise InputError("chance", got, "50 % or more, and less than 100 %")
    return NormalDist().inv_cdf(chance)


def scatter(row: Row, shares: Mapping[str, float]) -> float:
    """Standard deviation of a row's number, ingredients scattering each for itself (judgement)."""
    return math.hypot(*(row.spread.get(name, 0.0) * share for name, share in shares.items()))


def cut_at(row: Row, shares: Mapping[str, float]) -> Mapping[str, float] | None:
    """Coefficients of the straight row that a mix breaks; None where it keeps the wish.

    Its limit is the row's own.

    Notes
    -----
    The standard deviation s(x) lies over each of its tangents, s(x) >= sum(s_i^2 z_i x_i) / s(z),
    with equality at z.
    """
    if row.chance is None or row.sense is Sense.EXACTLY:
        return None
    held, k = scatter(row, shares), sigmas(row.chance)
    if held == 0.0 or k == 0.0:
        return None
    sign = 1.0 if row.sense is Sense.AT_LEAST else -1.0
    told = row.coefficients
    side = math.fsum(told.get(name, 0.0) * share for name, share in shares.items())
    if sign * (side - row.limit) - k * held >= -_CLOSE:
        return None
    return {
        name: value - sign * k * row.spread.get(name, 0.0) ** 2 * shares.get(name, 0.0) / held
        for name, value in told.items()
    }


_CLOSE = 1e-8
"""How far a chance row may be missed, in its own numbers: a millionth of a point."""


def chance_of(row: Row, shares: Mapping[str, float]) -> float:
    """Chance that a row holds for a mix of lots as they come."""
    told = row.coefficients
    room = math.fsum(told.get(name, 0.0) * share for name, share in shares.items()) - row.limit
    if row.sense is Sense.AT_MOST:
        room = -room
    held = scatter(row, shares)
    if held == 0.0:
        return 1.0 if room >= -_CLOSE else 0.0
    return NormalDist().cdf(room / held)
