"""A trial before it is started: the nights that it needs, and which rod fishes what on which."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

from baitwright.learning.pairs import Pair, Split
from baitwright.learning.rates import CHANCE_ALONE, Dispersion, Fished
from baitwright.terms.errors import InputError, RangeError
from baitwright.uncertainty.draws import Draws

LEVEL, POWER = 0.05, 0.80
"""A difference that is none is found in 1 trial of 20, one that is there in 4 of 5."""
MOST_NIGHTS, MOST_RODS = 400, 8
_FAR = 8.0


@dataclass(frozen=True, slots=True)
class Needs:
    """What a trial of two baits needs before a true ratio would probably show.

    ``nights`` are nights with a rod on each bait, ``bites`` those on the weaker bait.
    """

    ratio: float
    nights: float
    bites: float


def nights_for(ratio: float, *, bites_a_night: float, scatter: Dispersion = CHANCE_ALONE) -> Needs:
    """Nights until a true ratio shows in four trials of five.

    Parameters
    ----------
    ratio: how many times the better bait's rate is the weaker one's.
    bites_a_night: of the weaker bait on its rod.
    scatter: the maker's own; the variance beyond chance of nights apart (``alpha``), or the ratio
        of chi-squared within pairs.

    Notes
    -----
    n = (z975 + z80)^2 [(1/mu + alpha) + (1/(ratio mu) + alpha)] / (ln ratio)^2; within pairs
    alpha is none, and n is multiplied by the ratio of chi-squared. Without a scatter of one's own
    it is a floor.

    Raises
    ------
    RangeError: a ratio of 1 or less, or no bites at all.

    Reference: recalled, log ratio of two counts; zhu-lakkis-2014 for the negative binomial.
    """
    if not 1.0 < ratio < math.inf:
        raise RangeError("ratio", ratio, low=1.01, high=100.0)
    if not 0.0 < bites_a_night < math.inf:
        raise RangeError("bites a night", bites_a_night, low=0.001, high=1000.0)
    bell = NormalDist()
    z = bell.inv_cdf(1.0 - 0.5 * LEVEL) + bell.inv_cdf(POWER)
    alpha = scatter.contagion
    times = 1.0 if alpha else scatter.widens
    each = times * (1.0 + 1.0 / ratio) / bites_a_night + 2.0 * alpha
    nights = z * z * each / math.log(ratio) ** 2
    return Needs(ratio, nights, nights * bites_a_night)


def power_of(first: float, second: float) -> float:
    """Chance that the exact test of two baits shows a difference, from the bites expected of each.

    Notes
    -----
    Sum over all totals of their Poisson chance, times the chance of a split that the exact
    two-sided test of equal rates calls unlikely. Rods out for as long.

    Reference: gu-2008, conditional test; derived here.
    """
    mean = first + second
    log_mean, spread = math.log(mean), _FAR * math.sqrt(mean)
    found = 0.0
    for total in range(max(1, math.floor(mean - spread)), math.ceil(mean + spread + 10.0)):
        likely = math.exp(total * log_mean - mean - math.lgamma(total + 1.0))
        found += likely * _shows(total, first / second)
    return found


def _shows(total: int, ratio: float) -> float:
    """Chance of a split of so many bites that is unlikely under equal rates."""
    most = fewest_that_show(total)
    if most is None:
        return 0.0
    as_few = Split((Pair(Fished(total - most, 1.0), Fished(most, 1.0)),))
    as_many = Split((Pair(Fished(most, 1.0), Fished(total - most, 1.0)),))
    return as_few.above(ratio) + as_many.below(ratio)


@lru_cache(maxsize=4096)
def fewest_that_show(total: int) -> int | None:
    """Most bites that the weaker bait of two may have of a total, for a difference to show.

    None where no split of the total shows one. Rods out for as long, exact two-sided 5 %.
    """
    weaker, below = None, 0.0
    log = math.lgamma(total + 1.0) - total * math.log(2.0)
    for bites in range(total // 2 + 1):
        below += math.exp(log - math.lgamma(bites + 1.0) - math.lgamma(total - bites + 1.0))
        if 2.0 * below > LEVEL:
            break
        weaker = bites
    return weaker


def swap_plan(baits: Sequence[str], *, nights: int, seed: int = 1) -> tuple[tuple[str, str], ...]:
    """Two baits on two rods, night after night: which is on the left and which on the right.

    In every two nights each bait is once on either side, in an order drawn from the seed.

    Raises
    ------
    InputError: not two baits, or nights that are odd or too many.
    """
    if len(baits) != 2 or baits[0] == baits[1]:
        raise InputError("baits", ", ".join(baits), "two that differ")
    if not 2 <= nights <= MOST_NIGHTS or nights % 2:
        accepted = f"an even number from 2 to {MOST_NIGHTS}, so that both sides are fair"
        raise InputError("nights", nights, accepted)
    one, other = baits
    draws, plan = Draws(seed=seed), []
    for at in range(nights // 2):
        first = draws.shuffled(f"swap/{at}", 2)[0]
        pair = ((one, other), (other, one))
        plan += [pair[first], pair[1 - first]]
    return tuple(plan)


def latin_square(baits: Sequence[str], *, seed: int = 1) -> tuple[tuple[str, ...], ...]:
    """A row for each night, a column for each rod: every bait once on every rod and every night.

    Rows, columns and baits are shuffled by the seed. For more nights draw another by another seed.

    Raises
    ------
    InputError: fewer than two baits, more than eight, or one twice.

    Reference: nist-handbook, section 5.3.3.2.1.
    """
    count = len(baits)
    if not 2 <= count <= MOST_RODS or len(set(baits)) != count:
        raise InputError("baits", ", ".join(baits), f"2 to {MOST_RODS} that differ")
    draws = Draws(seed=seed)
    rows, columns, names = (draws.shuffled(f"square/{of}", count) for of in ("row", "rod", "bait"))
    return tuple(tuple(baits[names[(row + column) % count]] for column in columns) for row in rows)
