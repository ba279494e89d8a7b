"""All factors anew from everything the maker's batches have shown, each with where it came from.

Several mixes, or egg grades, or kinds of core share a kitchen, and lots share a thing. Half of what
is not known of a factor is taken to be the kitchen's, a quarter each thing's own and a quarter each
lot's (judgement), so that a new mix begins where the maker's others are, a new lot where those
before it were, and none is believed as far off as its own few batches look.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from baitwright.learning.change import Change, changes, standard_score
from baitwright.learning.update import MEMORY
from baitwright.materials.factors import prior_of
from baitwright.terms.factors import Factor, FactorSet, of_lot

FIRST = 3
"""Batches that only say where a kitchen is; from then on a change of it is told (judgement)."""
RECENT = 5
"""A change is told for so many batches."""
FAR = 3.0
"""A batch so many standard scores off is pointed at: 1 in 370 of a steady kitchen; it counts."""
MAKER = "maker"


class Seen(NamedTuple):
    """What one batch showed of one factor: its log ratio, and the variance of what blurs that.

    ``about`` is the thing it speaks of, such as a base mix, ``lot`` which lot or whose it was,
    nothing where nobody said; ``batch`` the batch or the record that told it.
    """

    batch: str
    key: str
    about: str
    log_ratio: float
    blur: float = 0.0
    lot: str = ""


class Step(NamedTuple):
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
    """The factors of a kitchen, and how each came to be.

    ``general`` are for a thing that is new, and for a new lot of a thing whose lots are told apart.
    """

    grown: tuple[Grown, ...]
    general: tuple[Factor, ...]

    @property
    def factors(self) -> tuple[Factor, ...]:
        """All that a plan may ask for: of each thing and lot, and of those that are new.

        Where lots of a thing are told apart, batches whose lot nobody told speak of no lot to come.
        """
        own = {(one.now.key, one.now.about): one.now for one in self.grown}
        told = {(one.key, one.about): one for one in self.general}
        new = {place: one for place, one in told.items() if place[1] or place not in own}
        return tuple({**own, **new}.values())


@dataclass(slots=True)
class _Lot:
    """What the batches of one lot have shown themselves: what they are worth, and their mean."""

    worth: float = 0.0
    mean: float = 0.0
    batches: int = 0


@dataclass(slots=True)
class _Thing:
    """What the lots of one thing tell of it: with what precision together, and that times their
    mean.
    """

    lots: dict[str, _Lot] = field(default_factory=dict)
    told: float = 0.0
    total: float = 0.0


class _Kitchen:
    """One factor over all things that it speaks of, and their lots.

    In units of the variance between batches: the kitchen's part has the precision 2 kappa, a
    thing's own part and a lot's own part 4 kappa each. Parts are told by those below them through
    their own spread, and one is left out of what tells it: belief goes up and down a tree.
    """

    def __init__(self, prior: Factor) -> None:
        self.prior, self.nu, self.sigma2 = prior, prior.nu, prior.sigma2
        self.things: dict[str, _Thing] = {}
        self._part = 1.0 / (4.0 * prior.kappa)
        self._told = 2.0 * prior.kappa
        self._total = self._told * prior.mu

    def believed(self, about: str, lot: str | None = None) -> Factor:
        """The factor for a thing, or for one lot of it; for a new lot where none is told."""
        thing = self.things.get(about, _Thing())
        own = _Lot() if lot is None else thing.lots.get(lot, _Lot())
        middle, kappa = self._middle(thing, own)
        return replace(
            self.prior,
            about=of_lot(about, lot or ""),
            mu=middle,
            kappa=min(kappa, MEMORY),
            nu=self.nu,
            sigma2=self.sigma2,
            source=MAKER,
            batches=own.batches if lot is not None else _batches(thing),
        )

    def learn(self, seen: Seen) -> Step:
        """One more batch; how far it lay from what was believed before it.

        Of a batch that is seen through a blur counts what `update.with_one_batch` counts.
        """
        thing = self.things.get(seen.about)
        if thing is None:
            thing = self.things[seen.about] = _Thing()
        own = thing.lots.get(seen.lot)
        if own is None:
            own = thing.lots[seen.lot] = _Lot()
        middle, kappa = self._middle(thing, own)
        distance = seen.log_ratio - middle
        clear = self.sigma2 * (1.0 + 1.0 / kappa)
        share = clear / (clear + seen.blur)
        score = standard_score(distance, scale=math.sqrt(clear / share), nu=self.nu)
        worth = kappa * share / (kappa + 1.0 - share)
        squares = kappa * (worth * distance) ** 2 / (kappa + worth)
        self.sigma2 = (self.nu * self.sigma2 + squares) / (self.nu + worth)
        self.nu = min(self.nu + worth, MEMORY)
        self._take_in(thing, own, seen.log_ratio, worth=worth)
        return Step(seen, score)

    def _middle(self, thing: _Thing, own: _Lot) -> tuple[float, float]:
        """The middle of a lot's factor, and the batches that it is worth."""
        part, up = self._part, self._up(thing)
        kitchen = self._told - up
        mean = (self._total - up * thing.total / thing.told) / kitchen if up else self.prior_mean
        told = 1.0 / (1.0 / kitchen + part)
        weight = 1.0 / (part + 1.0 / own.worth) if own.worth else 0.0
        others = told + thing.told - weight
        mean = (told * mean + thing.total - weight * own.mean) / others
        start = 1.0 / (1.0 / others + part)
        kappa = start + own.worth
        return (start * mean + own.worth * own.mean) / kappa, kappa

    @property
    def prior_mean(self) -> float:
        """The kitchen's part as all things tell it."""
        return self._total / self._told

    def _up(self, thing: _Thing) -> float:
        """With what precision a thing tells the kitchen's part."""
        return 1.0 / (self._part + 1.0 / thing.told) if thing.told else 0.0

    def _take_in(self, thing: _Thing, own: _Lot, value: float, *, worth: float) -> None:
        """A batch of a lot tells the lot, that the thing, and that the kitchen."""
        part, up = self._part, self._up(thing)
        if up:
            self._told -= up
            self._total -= up * thing.total / thing.told
        if own.worth:
            weight = 1.0 / (part + 1.0 / own.worth)
            thing.told -= weight
            thing.total -= weight * own.mean
        own.mean += (value - own.mean) * worth / (own.worth + worth)
        own.worth = min(own.worth + worth, MEMORY - self.prior.kappa)
        own.batches += 1
        weight = 1.0 / (part + 1.0 / own.worth)
        thing.told += weight
        thing.total += weight * own.mean
        up = 1.0 / (part + 1.0 / thing.told)
        self._told += up
        self._total += up * thing.total / thing.told


def _batches(thing: _Thing) -> int:
    return sum(one.batches for one in thing.lots.values())


def history_of(every: Iterable[Seen], *, prior: FactorSet) -> History:
    """Work all factors out anew.

    Parameters
    ----------
    every: what batches showed, the first batch first.
    prior: what is believed before any batch.

    Reference: hoff-2009, section 5.3; gelman-bda, section 5.4, known ratio of variances.
    """
    kitchens: dict[str, _Kitchen] = {}
    begun: dict[tuple[str, str, str], Factor] = {}
    steps: dict[tuple[str, str, str], list[Step]] = {}
    for seen in every:
        kitchen = kitchens.get(seen.key)
        if kitchen is None:
            kitchen = kitchens[seen.key] = _Kitchen(_prior(seen.key, prior))
        place = seen.key, seen.about, seen.lot
        told = steps.get(place)
        if told is None:
            begun[place] = replace(kitchen.prior, about=of_lot(seen.about, seen.lot))
            told = steps[place] = []
        told.append(kitchen.learn(seen))
    grown = tuple(
        _grown(begun[place], kitchens[place[0]].believed(*place[1:]), told)
        for place, told in steps.items()
    )
    return History(grown, tuple(_general(kitchens.values())))


def _prior(key: str, prior: FactorSet) -> Factor:
    return prior.find(key) if prior.has(key) else prior_of(key)


def _general(kitchens: Iterable[_Kitchen]) -> Iterator[Factor]:
    """What a new thing begins with, and a new lot of a thing whose lots are told apart."""
    for kitchen in kitchens:
        yield kitchen.believed("")
        for about, thing in kitchen.things.items():
            if any(thing.lots):
                yield kitchen.believed(about)


def _grown(before: Factor, now: Factor, steps: Sequence[Step]) -> Grown:
    told = changes(one.score for one in steps[FIRST:])
    moved = (Change(one.told + FIRST, one.began + FIRST, one.goes_up) for one in told)
    return Grown(before, now, tuple(steps), tuple(moved))
