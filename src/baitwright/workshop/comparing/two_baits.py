"""Two baits of the notebook against each other, and the nights that are still needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.learning.pairs import Pair, RateRatio, rate_ratio
from baitwright.learning.rates import (
    BITES_TO_RANK,
    Dispersion,
    Fished,
    GammaRate,
    chance_greater,
    rate_after,
    together,
)
from baitwright.learning.trials import Needs, nights_for
from baitwright.terms.band import Band
from baitwright.workshop.nights.fished_nights import Night

RATIOS = (1.5, 2.0)


@dataclass(frozen=True, slots=True)
class BaitFished:
    """One bait over all its nights: how many, how many of them blank, and its rate."""

    name: str
    nights: tuple[Fished, ...]
    rate: Band

    @property
    def blanks(self) -> int:
        """Nights without a bite on it."""
        return sum(one.bites == 0 for one in self.nights)

    @property
    def fished(self) -> Fished:
        """All nights as one."""
        return together(self.nights)


@dataclass(frozen=True, slots=True)
class TwoBaits:
    """The first of two baits against the second.

    ``shared`` counts the nights on which both fished; where there is none, all nights are one.
    ``chance`` that the first's rate is the greater is told from ten bites of each on, else None.
    ``more`` are nights still needed, with the scatter they rest on.
    """

    shared: int
    first: Fished
    second: Fished
    ratio: RateRatio
    chance: float | None
    more: tuple[Needs, ...]
    scatter: Dispersion
    same_side: bool


def two_baits(
    all_nights: Sequence[Night],
    baits: Sequence[BaitFished],
    *,
    scatter: Dispersion,
    hours: float,
) -> TwoBaits:
    """Two baits against each other: on the nights they shared, or by all nights of both.

    Parameters
    ----------
    all_nights: those that count.
    baits: the two.
    scatter: of all nights, for baits that share none.
    hours: of one rod on one night.
    """
    one, other = (bait.name for bait in baits)
    nights = [night for night in all_nights if has_bait(night, one) and has_bait(night, other)]
    pairs = [Pair(night.by_bait()[one], night.by_bait()[other]) for night in nights]
    totals = [bait.fished for bait in baits]
    if pairs:
        totals = [
            together([pair.first for pair in pairs]),
            together([pair.second for pair in pairs]),
        ]
    ratio = rate_ratio(pairs or [Pair(*totals)])
    scatter = ratio.dispersion if pairs else scatter
    rates = [rate_of(fished, scatter) for fished in totals]
    enough = min(fished.bites for fished in totals) >= BITES_TO_RANK
    weaker = min(rates, key=lambda rate: rate.mean)
    bites = max(weaker.shape - 0.5, 0.5) / weaker.hours * hours
    needed = (nights_for(times, bites_a_night=bites, scatter=scatter) for times in RATIOS)
    had = len(pairs) or min(len(bait.nights) for bait in baits)
    sides = [
        {rod.position for night in nights for rod in night.rods if rod.bait == name}
        for name in (one, other)
    ]
    return TwoBaits(
        shared=len(pairs),
        first=totals[0],
        second=totals[1],
        ratio=ratio,
        chance=chance_greater(*rates) if enough else None,
        more=tuple(Needs(one.ratio, max(one.nights - had, 0.0), one.bites) for one in needed),
        scatter=scatter,
        same_side=bool(pairs) and sides[0].isdisjoint(sides[1]),
    )


def has_bait(night: Night, name: str) -> bool:
    """Whether a rod fished a bait on a night."""
    return any(rod.bait == name for rod in night.rods)


def rate_of(fished: Fished, scatter: Dispersion) -> GammaRate:
    """A rate, every bite worth less where nights scatter beyond chance."""
    plain, by = rate_after(fished), scatter.widens
    return GammaRate(fished.bites / by + plain.shape - fished.bites, plain.hours / by)
