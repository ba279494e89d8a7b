"""What is made held against what is wanted: how much of it lies outside, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev

from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Capability:
    """Mean, spread and how they fit between the limits that are wanted.

    ``cp`` is the width wanted by six standard deviations, ``cpk`` the room on the nearer side by
    three of them, with what nine samples of ten would hold; ``outside`` the share beyond a limit
    if sizes are normal.
    """

    count: int
    mean: float
    sd: float
    cp: float
    cpk: float
    cpk_low: float
    cpk_high: float
    outside: float


def capability(values: Sequence[float], *, low: float, high: float) -> Capability:
    """How baits that were measured fit between two limits.

    Raises
    ------
    InputError: fewer than two values, values all alike, or limits in the wrong order.
    """
    if len(values) < 2:
        raise InputError("values", len(values), "two at least")
    return capability_of(fmean(values), stdev(values), count=len(values), limits=(low, high))


def capability_of(mean: float, sd: float, *, count: int, limits: tuple[float, float]) -> Capability:
    """The same from a mean and a standard deviation of so many.

    Notes
    -----
    cpk = min(high - mean, mean - low) / (3 sd); its interval is cpk +- z sqrt(1 / (9 n) +
    cpk^2 / (2 (n - 1))).

    Raises
    ------
    InputError: no spread, or limits in the wrong order.

    Reference: nist-handbook, section 7.1.6; bissell-1990 for the interval, recalled.
    """
    low, high = limits
    if not sd > 0.0:
        raise InputError("spread", sd, "more than none, with a finer gauge if need be")
    if not low < high:
        raise InputError("limits", limits, "the smaller one first")
    cpk = min(high - mean, mean - low) / (3.0 * sd)
    off = NormalDist().inv_cdf(0.95) * math.sqrt(1.0 / (9.0 * count) + cpk**2 / (2.0 * (count - 1)))
    bell = NormalDist(mean, sd)
    outside = bell.cdf(low) + bell.cdf(2.0 * mean - high)
    return Capability(
        count, mean, sd, (high - low) / (6.0 * sd), cpk, cpk - off, cpk + off, outside
    )
