"""All factors anew from everything the maker's batches have shown, each with where it came from.

Several mixes, or egg grades, or lots of cores share a kitchen. Half of what is not known of a
factor is taken to be the kitchen's, the other half each thing's own (judgement), so that a new mix
begins where the maker's others are, and none is believed as far off as its own few batches look.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from baitwright.learning.change import Change, changes, standard_score
from baitwright.learning.update import MEMORY
from baitwright.terms.factors import Factor, FactorSet

FIRST = 3
"""Batches that only say where a kitchen is; from then on a change of it is told (judgement)."""
RECENT = 5
"""A change is told for so many batches."""
FAR = 3.0
"""A batch so many standard scores off is pointed at: 1 in 370 of a steady kitchen; it counts."""
MAKER = "maker"


@dataclass(frozen=True, slots=True)
class Seen:
    """What one batch showed of one factor: its log ratio, and the variance of what blurs that."""

    batch: str
    key: str
    about: str
    log_ratio: float
    blur: float = 0.0


@dataclass(frozen=True, slots=True)
class Step:
    """One batch in a factor's history, and how surprising it was, as a standard score."""

    seen: Seen
    score: float

    @property
    def is_far(self) -> bool:
        """Whether it lies far from all that was believed before it."""
        return abs(self.score) > FAR


@dataclass(frozen=True, slots=True)
class Grown:
    """A factor from its beginning to today, batch by batch, and the changes that are told of it."""

    before: Factor
    now: Factor
    steps: tuple[Step, ...]
    changes: tuple[Change, ...]

    @property
    def is_recent(self) -> bool:
        """Whether the last change is of the last batches, and so told."""
        return bool(self.changes) and self.changes[-1].told >= len(self.steps) - RECENT

    @property
    def width(self) -> float:
        """Width of what the next batch may show, beside that before the first."""
        return self.now.scale / self.before.scale


@dataclass(frozen=True, slots=True)
class History:
    """The factors of a kitchen, and how each came to be."""

    grown: tuple[Grown, ...]
    general: tuple[Factor, ...]

    def into(self, prior: FactorSet) -> tuple[Factor, ...]:
        """All factors that differ from the table's: of each thing, and for a thing that is new."""
        own = tuple(one.now for one in self.grown)
        named = {(one.key, one.about) for one in own}
        known = {(one.key, one.about) for one in prior.factors}
        return (*own, *(one for one in self.general if (one.key, one.about) in known - named))


@dataclass(slots=True)
class _Own:
    """What the batches of one thing have shown themselves: what they are worth, and their mean."""

    worth: float = 0.0
    mean: float = 0.0
    batches: int = 0


class _Kitchen:
    """One factor over all things that it speaks of.

    In units of the variance between batches: the kitchen's part and a thing's own part have the
    precision 2 kappa each; a thing whose batches are worth w tells the kitchen's part with the
    precision g = 1 / (1 / (2 kappa) + 1 / w).
    """

    def __init__(self, prior: Factor) -> None:
        self.prior, self.nu, self.sigma2 = prior, prior.nu, prior.sigma2
        self.own: dict[str, _Own] = {}
        self._half = 2.0 * prior.kappa
        self._told, self._sum = self._half, self._half * prior.mu

    def believed(self, about: str) -> Factor:
        """The factor for a thing, by its own batches and by those of the others."""
        own = self.own.get(about, _Own())
        middle, kappa = self._middle(own)
        return replace(
            self.prior,
            about=about,
            mu=middle,
            kappa=min(kappa, MEMORY),
            nu=self.nu,
            sigma2=self.sigma2,
            source=MAKER,
            batches=own.batches,
        )

    def learn(self, seen: Seen) -> Step:
        """One more batch; how far it lay from what was believed before it.

        Of a batch that is seen through a blur counts what `update.with_one_batch` counts.
        """
        own = self.own.setdefault(seen.about, _Own())
        middle, kappa = self._middle(own)
        distance = seen.log_ratio - middle
        clear = self.sigma2 * (1.0 + 1.0 / kappa)
        share = clear / (clear + seen.blur)
        score = standard_score(distance, scale=math.sqrt(clear / share), nu=self.nu)
        worth = kappa * share / (kappa + 1.0 - share)
        squares = kappa * (worth * distance) ** 2 / (kappa + worth)
        self.sigma2 = (self.nu * self.sigma2 + squares) / (self.nu + worth)
        self.nu = min(self.nu + worth, MEMORY)
        self._tell(own, sign=-1.0)
        own.mean += (seen.log_ratio - own.mean) * worth / (own.worth + worth)
        own.worth = min(own.worth + worth, MEMORY - self.prior.kappa)
        own.batches += 1
        self._tell(own, sign=1.0)
        return Step(seen, score)

    def _middle(self, own: _Own) -> tuple[float, float]:
        """The middle of a thing's factor, and the batches that it is worth."""
        weight = self._weight(own)
        told = self._told - weight
        start = 1.0 / (1.0 / told + 1.0 / self._half)
        kappa = start + own.worth
        others = (self._sum - weight * own.mean) / told
        return (start * others + own.worth * own.mean) / kappa, kappa

    def _weight(self, own: _Own) -> float:
        return 1.0 / (1.0 / self._half + 1.0 / own.worth) if own.worth else 0.0

    def _tell(self, own: _Own, *, sign: float) -> None:
        weight = sign * self._weight(own)
        self._told += weight
        self._sum += weight * own.mean


def history_of(every: Iterable[Seen], *, prior: FactorSet) -> History:
    """Work all factors out anew.

    Parameters
    ----------
    every: what batches showed, the first batch first.
    prior: what is believed before any batch.

    Reference: hoff-2009, section 5.3; gelman-bda, section 5.4, known ratio of variances.
    """
    kitchens: dict[str, _Kitchen] = {}
    begun: dict[tuple[str, str], Factor] = {}
    steps: dict[tuple[str, str], list[Step]] = {}
    for seen in every:
        kitchen = kitchens.get(seen.key)
        if kitchen is None:
            kitchen = kitchens[seen.key] = _Kitchen(prior.find(seen.key))
        place = seen.key, seen.about
        if place not in begun:
            begun[place] = replace(kitchen.prior, about=seen.about)
        steps.setdefault(place, []).append(kitchen.learn(seen))
    grown = tuple(
        _grown(begun[place], kitchens[place[0]].believed(place[1]), told)
        for place, told in steps.items()
    )
    return History(grown, tuple(one.believed("") for one in kitchens.values()))


def _grown(before: Factor, now: Factor, steps: Sequence[Step]) -> Grown:
    told = changes(one.score for one in steps[FIRST:])
    moved = (Change(one.told + FIRST, one.began + FIRST, one.goes_up) for one in told)
    return Grown(before, now, tuple(steps), tuple(moved))
