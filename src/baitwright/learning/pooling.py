"""Several baits at once: each believed a little less far from the others than it looks.

A bait of few bites looks best or worst by luck. Their spread is learned from all of them together,
and each is drawn towards the middle by as much as its own nights leave open.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from statistics import NormalDist
from typing import ClassVar, Protocol

import numpy as np
from numpy.typing import NDArray

from baitwright.learning.rates import Fished
from baitwright.terms.band import Band
from baitwright.terms.errors import ComputationError
from baitwright.uncertainty.special import halved
from baitwright.uncertainty.spreads import Floats

Places = NDArray[np.intp]
WIDEST_LOG_SPREAD = 1.5
"""Largest spread of log rates that is looked at: about 4.5 times from bait to bait (judgement)."""
_STEPS, _SPREADS, _SETTLED = 60, 41, 1e-7


class Likelihood(Protocol):
    """What data say of several effects: its logarithm, slopes and curvature at a place.

    ``about_mean`` says that effects are told about their own mean.
    """

    about_mean: ClassVar[bool]

    @property
    def count(self) -> int:
        """How many effects there are."""
        ...

    def at(self, effects: Floats) -> tuple[float, Floats, Floats]:
        """Log-likelihood, its gradient, and the negative of its second derivatives."""
        ...


@dataclass(frozen=True, slots=True)
class Measured:
    """Effects that were measured, each with its standard error."""

    about_mean: ClassVar[bool] = False
    values: Floats
    errors: Floats

    @property
    def count(self) -> int:
        """How many effects there are."""
        return len(self.values)

    def at(self, effects: Floats) -> tuple[float, Floats, Floats]:
        """Of a normal distribution."""
        weights = 1.0 / self.errors**2
        off = self.values - effects
        return -0.5 * float(weights @ off**2), weights * off, np.diag(weights)


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Nights on which several of ``count`` baits fished: a row each, a place for each bait on it.

    ``which`` says which bait a place is, ``bites`` and ``rod_hours`` what it did; a place without
    hours is empty. Only the split of a night's bites counts, so that the night itself cancels.
    Scatter beyond chance makes every bite worth less.
    """

    about_mean: ClassVar[bool] = True
    count: int
    which: Places
    bites: Floats
    rod_hours: Floats
    dispersion: float = 1.0
    _told: _Told = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Sum what does not move with the effects; it is asked for at every step."""
        object.__setattr__(self, "_told", _Told.of(self))

    @classmethod
    def of(
        cls, nights: Sequence[Mapping[int, Fished]], *, count: int, dispersion: float = 1.0
    ) -> SideBySide:
        """From nights that tell what each bait did; those without a bite say nothing here."""
        told = [
            one for one in nights if len(one) > 1 and any(fished.bites for fished in one.values())
        ]
        most = max(map(len, told), default=1)
        which = np.zeros((len(told), most), dtype=np.intp)
        bites, hours = np.zeros((len(told), most)), np.zeros((len(told), most))
        for row, one in enumerate(told):
            for place, (bait, fished) in enumerate(one.items()):
                which[row, place] = bait
                bites[row, place], hours[row, place] = fished.bites, fished.rod_hours
        return cls(count, which, bites, hours, dispersion)

    def at(self, effects: Floats) -> tuple[float, Floats, Floats]:
        """Of a multinomial distribution given every night's total.

        Notes
        -----
        p = T exp(e) / sum T exp(e) within a night; sum of k ln p; gradient k - n p; curvature
        sum of n (diag p - p p'), whose rows come to nothing, so that its diagonal is what is
        beside it. Only differences matter: the mean effect is held near nothing.

        Reference: mcfadden-1974.
        """
        told, count = self._told, self.count
        # Places first, nights second: a place is one column of the paper and one row in memory.
        expected = told.rod_hours * np.exp(effects)[told.which]
        whole = expected.sum(axis=0)
        shares = expected / whole
        means = told.totals * shares
        value = told.of_hours + float(told.bites @ effects - told.totals @ np.log(whole))
        both = np.bincount(
            told.pairs,
            weights=(means[told.first] * shares[told.second]).ravel(),
            minlength=count**2,
        ).reshape(count, count)
        both = both + both.T
        curved = np.diag(both.sum(axis=1)) - both
        slope = told.bites - np.bincount(told.which.ravel(), weights=means.ravel(), minlength=count)
        middle, held = effects.sum(), np.ones(count)
        return (
            value / self.dispersion - 0.5 * middle**2,
            slope / self.dispersion - middle * held,
            curved / self.dispersion + np.outer(held, held),
        )


@dataclass(frozen=True, slots=True)
class _Told:
    """What of nights does not move with the effects; rows are places, columns nights.

    ``bites`` are of each bait, ``totals`` of each night, ``of_hours`` is sum k ln T. ``first`` and
    ``second`` are every two places of a night, ``pairs`` where two baits stand in a square of all.
    """

    which: Places
    rod_hours: Floats
    bites: Floats
    totals: Floats
    of_hours: float
    first: Places
    second: Places
    pairs: Places

    @classmethod
    def of(cls, nights: SideBySide) -> _Told:
        """Of nights side by side."""
        which, bites = nights.which.T.copy(), nights.bites.T.copy()
        hours, count = nights.rod_hours.T.copy(), nights.count
        first, second = np.triu_indices(len(which), 1)
        of_bait = np.bincount(which.ravel(), weights=bites.ravel(), minlength=count)
        return cls(
            which,
            hours,
            np.asarray(of_bait),
            bites.sum(axis=0),
            float((bites * np.log(np.where(bites > 0.0, hours, 1.0))).sum()),
            first,
            second,
            (which[first] * count + which[second]).ravel(),
        )


@dataclass(frozen=True, slots=True)
class Apart:
    """Bites and rod-hours of every bait over all its nights, where they seldom share one."""

    about_mean: ClassVar[bool] = True
    bites: Floats
    rod_hours: Floats
    dispersion: float = 1.0

    @classmethod
    def of(cls, baits: Sequence[Fished], *, dispersion: float = 1.0) -> Apart:
        """From what each bait did in all."""
        bites, hours = ([getattr(one, key) for one in baits] for key in ("bites", "rod_hours"))
        return cls(np.array(bites, dtype=float), np.array(hours), dispersion)

    @property
    def count(self) -> int:
        """How many baits there are."""
        return len(self.bites)

    def at(self, effects: Floats) -> tuple[float, Floats, Floats]:
        """Of Poisson distributions, effects being log rates about the pooled one."""
        pooled = max(float(self.bites.sum()), 0.5) / float(self.rod_hours.sum())
        means = pooled * self.rod_hours * np.exp(effects)
        value = float((self.bites * effects - means).sum())
        by = self.dispersion
        return value / by, (self.bites - means) / by, np.diag(means / by)


@dataclass(frozen=True, slots=True)
class Pooled:
    """Effects drawn together: mixtures of normals over the spreads that are possible.

    ``weights`` stand beside ``spreads``; ``means`` and ``errors`` have a row for each.
    """

    spreads: Floats
    weights: Floats
    means: Floats
    errors: Floats

    @property
    def spread(self) -> float:
        """The mean spread from effect to effect."""
        return float(self.weights @ self.spreads)

    @property
    def middles(self) -> Floats:
        """The mean of each effect."""
        return np.asarray(self.weights @ self.means)

    def quantile(self, at: int, share: float) -> float:
        """Below which one effect lies with a chance of ``share``."""
        means, errors = self.means[:, at], self.errors[:, at]
        low, high = (float(end) for end in (np.min(means - 9 * errors), np.max(means + 9 * errors)))
        return halved(lambda x: self._below(x, means, errors) - share, low, high)

    def ratio_band(self, at: int, *, name: str) -> Band:
        """Band of e to one effect: how many times the middle of them all."""
        return Band.of(name, "", lambda share: math.exp(self.quantile(at, share)))

    def _below(self, x: float, means: Floats, errors: Floats) -> float:
        bell = NormalDist()
        rows = zip(self.weights, means, errors, strict=True)
        return math.fsum(w * bell.cdf((x - m) / s) for w, m, s in rows)


def pooled(of: Likelihood, *, widest: float = WIDEST_LOG_SPREAD) -> Pooled:
    """Draw effects together by as much as their own spread tells.

    Parameters
    ----------
    of: what the data say of the effects.
    widest: largest spread that is looked at, in their units; all below are as likely beforehand.

    Notes
    -----
    Effects are normal about a middle of which nothing is known, with a spread tau. For each tau of
    a grid the effects' mode and curvature are found by Newton's method, and tau is weighed by
    Laplace's method, which is exact for normal data: p(tau) ~ tau^-(n-1) |H|^-1/2 exp(height).

    Raises
    ------
    ComputationError: Newton's method did not settle.

    Reference: gelman-bda, section 5.4; rubin-1981; judgement for the widest spread.
    """
    spreads: Floats = np.asarray((np.arange(_SPREADS) + 0.5) * (widest / _SPREADS))
    effects, found = np.zeros(of.count), []
    for spread in spreads:
        effects, height, errors = _settled(of, effects, spread)
        found.append((effects, height - (of.count - 1) * math.log(spread), errors))
    heights = np.array([height for _, height, _ in found])
    weights = np.exp(heights - heights.max())
    means, errors = (
        np.stack(rows) for rows in ([m for m, _, _ in found], [e for _, _, e in found])
    )
    return Pooled(spreads, np.asarray(weights / weights.sum()), means, errors)


def _settled(of: Likelihood, effects: Floats, spread: float) -> tuple[Floats, float, Floats]:
    """The mode for one spread, its weight's logarithm, and each effect's standard error."""
    n = of.count
    drawn = (np.eye(n) - 1.0 / n) / spread**2
    value, slope, curved = of.at(effects)
    height = value - 0.5 * float(effects @ drawn @ effects)
    for _ in range(_STEPS):
        step = np.linalg.solve(curved + drawn, slope - drawn @ effects)
        part = 1.0
        while part > 1e-6:
            tried = effects + part * step
            value, slope, curved = of.at(tried)
            higher = value - 0.5 * float(tried @ drawn @ tried)
            if higher >= height - 1e-12 * (1.0 + abs(height)):
                break
            part *= 0.5
        effects, height = tried, higher
        if np.max(np.abs(step)) < _SETTLED * (1.0 + np.max(np.abs(effects))):
            _, log = np.linalg.slogdet(curved + drawn)
            spreads = np.linalg.inv(curved + drawn)
            if of.about_mean:
                about = np.eye(n) - 1.0 / n
                effects, spreads = about @ effects, about @ spreads @ about
            return effects, height - 0.5 * float(log), np.sqrt(np.diag(spreads))
    raise ComputationError("the baits' rates did not settle")


def are_joined(fished: Sequence[frozenset[int]], count: int) -> bool:
    """Whether every bait meets every other over shared nights, be it by way of a third."""
    groups = [{at} for at in range(count)]
    for night in fished:
        met = [group for group in groups if group & night]
        groups = [group for group in groups if group not in met]
        groups.append(set().union(*met)) if met else None
    return len(groups) == 1
