"""What a sample proves of a tray and of all such baits: exact bounds, and how many more to test."""

from __future__ import annotations

import math
from dataclasses import dataclass

from baitwright.terms.errors import InputError

CONFIDENCE = 0.95
WANTED_SHARE = 0.10
"""The share of misbehaving baits a maker would like to rule out (judgement)."""
_MOST_MORE = 100_000


@dataclass(frozen=True, slots=True)
class Proof:
    """What so many bad baits among so many tested prove, with 95 % confidence.

    ``all_such`` bounds the share of bad baits in an endless supply; ``in_tray`` their number in the
    tray the sample came from, tested ones included, None where the tray's size is not known.
    ``more`` says how many more would have to be tested, all of them good, until no more than a
    tenth of all such baits can be bad.
    """

    tested: int
    bad: int
    all_such: float
    tray: int | None
    in_tray: int | None
    more: int


def prove(tested: int, bad: int, *, tray: int | None = None) -> Proof:
    """What a sample proves.

    Parameters
    ----------
    tested, bad: baits tested and those among them that did not do what was wanted.
    tray: baits in the tray they came from, None where nobody counted.

    Raises
    ------
    InputError: nothing tested, or more than there are.
    """
    if not tested > 0:
        raise InputError("tested", tested, "at least one bait")
    if not 0 <= bad <= tested:
        raise InputError("bad", bad, f"0 to the {tested} tested")
    if tray is not None and tested > tray:
        raise InputError("tested", tested, f"no more than the {tray} baits in the tray")
    return Proof(
        tested=tested,
        bad=bad,
        all_such=endless_bound(tested, bad),
        tray=tray,
        in_tray=None if tray is None else tray_bound(tested, bad, tray=tray),
        more=how_many_more(tested, bad, share=WANTED_SHARE),
    )


def endless_bound(tested: int, bad: int, *, confidence: float = CONFIDENCE) -> float:
    """Highest share of bad baits in an endless supply that the sample does not rule out.

    Notes
    -----
    The p at which so few bad ones would turn up in 1 - confidence of all samples: the one-sided
    exact binomial limit, 1 - (1 - confidence)^(1/n) where none was bad.

    Reference: clopper-pearson-1934.
    """
    if bad == tested:
        return 1.0
    low, high = bad / tested, 1.0
    for _ in range(100):
        middle = 0.5 * (low + high)
        likely = _binomial_below(bad, tested, middle) > 1.0 - confidence
        low, high = (middle, high) if likely else (low, middle)
    return low


def tray_bound(tested: int, bad: int, *, tray: int, confidence: float = CONFIDENCE) -> int:
    """Most bad baits in the whole tray that the sample does not rule out.

    Notes
    -----
    The largest M at which so few bad ones among those drawn without putting back would turn up in
    more than 1 - confidence of all samples.

    Reference: buonaccorsi-1987, exact limit of the hypergeometric distribution.
    """
    possible = range(bad, tray - tested + bad + 1)
    return max(
        total
        for total in possible
        if total == bad
        or hypergeometric_below(bad, tested, tray=tray, total=total) > 1.0 - confidence
    )


def how_many_more(tested: int, bad: int, *, share: float) -> int:
    """How many more to test, all of them good, until a share of bad baits is ruled out."""
    low, high = 0, 1
    while high < _MOST_MORE and endless_bound(tested + high, bad) > share:
        low, high = high, 2 * high
    while low < high:
        middle = (low + high) // 2
        enough = endless_bound(tested + middle, bad) <= share
        low, high = (low, middle) if enough else (middle + 1, high)
    return low


def hypergeometric_below(bad: int, tested: int, *, tray: int, total: int) -> float:
    """Chance of at most so many bad ones among those tested of a tray that holds a total of bad.

    Parameters
    ----------
    bad: at most so many.
    tested: baits drawn, none put back.
    tray: baits in the tray.
    total: bad ones among them.
    """
    ways = sum(math.comb(total, k) * math.comb(tray - total, tested - k) for k in range(bad + 1))
    return ways / math.comb(tray, tested)


def _binomial_below(bad: int, tested: int, share: float) -> float:
    """Chance of at most so many bad ones in an endless supply's sample."""
    if share >= 1.0:
        return 1.0 if bad >= tested else 0.0
    logs = (
        math.lgamma(tested + 1)
        - math.lgamma(k + 1)
        - math.lgamma(tested - k + 1)
        + (k * math.log(share) if k else 0.0)
        + (tested - k) * math.log1p(-share)
        for k in range(bad + 1)
    )
    return math.fsum(math.exp(log) for log in logs)
