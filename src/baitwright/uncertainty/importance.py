"""Belief after data, by adaptive importance sampling: fresh draws where the data put the belief.

Weighing the draws of a plan anew would leave only the few that fit; here the draws are made anew.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from baitwright.terms.band import Band
from baitwright.terms.errors import ComputationError
from baitwright.uncertainty.spreads import Floats

EFFECTIVE = 1000
"""Draws a posterior must be worth at least (judgement)."""
_SIZE = 8192
_ROUNDS = 40
_FROM_PRIOR = 0.2
"""Share of each round that comes from the prior, so that no weight grows without limit."""
_NU = 5.0
_STEP = 16.0
"""The data are let in so fast that one draw in so many still counts."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing not known: ``mu`` plus ``scale`` times a Student t with ``nu`` degrees of freedom.

    An infinite ``nu`` makes it normal.
    """

    name: str
    mu: float
    scale: float
    nu: float = math.inf


@dataclass(frozen=True, slots=True)
class Posterior:
    """Weighted draws: ``values`` [draw, unknown] and ``weights`` that add up to 1."""

    values: Floats
    weights: Floats

    @property
    def effective(self) -> float:
        """How many independent draws of equal weight these are worth (kish-1965)."""
        return float(1.0 / np.sum(self.weights**2))


LogLikelihood = Callable[[Floats], Floats]


class Chart(Protocol):
    """Other coordinates of the same draws, in which the data speak along one axis.

    Where data tie several unknowns to one number, the belief after them is a thin, bent sheet that
    no bell fits; with that number as a coordinate it is a slab.
    """

    def drawn(self, values: Floats) -> Floats:
        """Coordinates of draws given in units of the unknowns' scales."""
        ...

    def back(self, places: Floats) -> tuple[Floats, Floats]:
        """The draws at some coordinates, and the log of how much volume they take up there.

        Places that no draw leads to take up none: minus infinity, beside any draw.
        """
        ...


class AsDrawn:
    """The unknowns themselves as coordinates."""

    def drawn(self, values: Floats) -> Floats:
        """As they are."""
        return values

    def back(self, places: Floats) -> tuple[Floats, Floats]:
        """As they are."""
        return places, np.zeros(len(places))


def posterior(
    unknowns: tuple[Unknown, ...],
    log_likelihood: LogLikelihood,
    *,
    seed: int,
    chart: Chart | None = None,
) -> Posterior:
    """Draws of independent unknowns after data.

    Parameters
    ----------
    unknowns: what is believed before the data.
    log_likelihood: of the data, for draws as rows, one column per unknown.
    seed: of the generator; the same seed gives the same draws.
    chart: coordinates to draw in, the unknowns themselves where none is given.

    Raises
    ------
    ComputationError: no sample worth a thousand draws was found.

    Notes
    -----
    Each round draws from a Student t about the belief so far, mixed with the prior, and lets the
    data in as far as the weights bear (likelihood to a power beta that climbs to 1). The last
    round's weights are prior x likelihood / proposal, so its draws are independent.

    Reference: cappe-2004, population Monte Carlo.
    """
    generator = np.random.Generator(np.random.PCG64(seed))
    prior = _Prior(unknowns, chart or AsDrawn())
    places = prior.draw(generator, _SIZE)
    mean, spread = _moments(places, np.full(_SIZE, 1.0 / _SIZE))
    for _ in range(_ROUNDS):
        proposal = _Proposal(prior, mean, np.asarray(np.linalg.cholesky(spread), dtype=np.float64))
        places = proposal.draw(generator, _SIZE)
        values, density = prior.at(places)
        ratio = density - proposal.log_density(places, density)
        likelihood = log_likelihood(values)
        beta = _bearable(ratio, likelihood)
        found = Posterior(values, _normalised(ratio + beta * likelihood))
        if beta == 1.0 and found.effective >= EFFECTIVE:
            return found
        mean, spread = _moments(places, found.weights)
    raise ComputationError("the belief after the test could not be drawn: too few draws count")


def prior_draws(unknowns: tuple[Unknown, ...], *, seed: int) -> Posterior:
    """Draws of the unknowns before any data, all of one weight."""
    generator = np.random.Generator(np.random.PCG64(seed))
    prior = _Prior(unknowns, AsDrawn())
    values, _ = prior.at(prior.draw(generator, _SIZE))
    return Posterior(values, np.full(_SIZE, 1.0 / _SIZE))


def weighted_quantiles(values: Floats, weights: Floats, probabilities: tuple[float, ...]) -> Floats:
    """Values below which the given shares of the weight lie."""
    order = np.argsort(values)
    below = np.cumsum(weights[order]) - 0.5 * weights[order]
    return np.interp(probabilities, below, values[order])


def weighted_band(values: Floats, found: Posterior, *, name: str, unit: str) -> Band:
    """The band of something computed from every draw; its draws are the effective ones."""
    levels = (0.5, 0.25, 0.75, 0.1, 0.9, 0.025, 0.975)
    ends = map(float, weighted_quantiles(values, found.weights, levels))
    median, low50, high50, low80, high80, low95, high95 = ends
    draws = int(found.effective)
    return Band(name, unit, median, low50, high50, low80, high80, low95, high95, draws)


@dataclass(frozen=True, slots=True)
class _Prior:
    """Independent unknowns, each in units of its own scale, at the coordinates of a chart."""

    unknowns: tuple[Unknown, ...]
    chart: Chart

    def draw(self, generator: np.random.Generator, count: int) -> Floats:
        """Places drawn from the prior."""
        columns = [
            generator.standard_normal(count)
            if math.isinf(one.nu)
            else generator.standard_t(one.nu, count)
            for one in self.unknowns
        ]
        return self.chart.drawn(np.stack(columns, axis=1))

    def at(self, places: Floats) -> tuple[Floats, Floats]:
        """The unknowns at some places, and the log density of the prior there."""
        values, density = self.chart.back(places)
        for column, one in zip(values.T, self.unknowns, strict=True):
            density = density + _log_student(column**2, one.nu, dimensions=1)
        mu = np.array([one.mu for one in self.unknowns])
        return mu + values * np.array([one.scale for one in self.unknowns]), density


@dataclass(frozen=True, slots=True)
class _Proposal:
    """Where the next draws come from: a Student t about the belief so far, and the prior."""

    prior: _Prior
    mean: Floats
    root: Floats

    def draw(self, generator: np.random.Generator, count: int) -> Floats:
        """Places drawn from the mixture, so many in all."""
        first = int(_FROM_PRIOR * count)
        rest = generator.standard_normal((count - first, len(self.mean)))
        rest *= np.sqrt(_NU / generator.chisquare(_NU, count - first))[:, None]
        return np.concatenate([self.prior.draw(generator, first), self.mean + rest @ self.root.T])

    def log_density(self, places: Floats, prior: Floats) -> Floats:
        """Of the mixture, from the prior's log density at the same places."""
        away = np.linalg.solve(self.root, (places - self.mean).T)
        student = _log_student(np.sum(away**2, axis=0), _NU, dimensions=len(self.mean))
        student = student - np.log(np.diag(self.root)).sum()
        return np.asarray(
            np.logaddexp(math.log(_FROM_PRIOR) + prior, math.log1p(-_FROM_PRIOR) + student)
        )


def _log_student(squared: Floats, nu: float, *, dimensions: int) -> Floats:
    """Log density of a Student t at a squared distance, in units of its own scale."""
    if math.isinf(nu):
        return np.asarray(-0.5 * (squared + dimensions * math.log(2.0 * math.pi)))
    half = 0.5 * (nu + dimensions)
    constant = math.lgamma(half) - math.lgamma(0.5 * nu) - 0.5 * dimensions * math.log(nu * math.pi)
    return np.asarray(constant - half * np.log1p(squared / nu))


def _bearable(ratio: Floats, likelihood: Floats) -> float:
    """The highest power of the likelihood at which one draw in a few still counts."""
    wanted = len(ratio) / _STEP

    def bears(beta: float) -> bool:
        return float(1.0 / np.sum(_normalised(ratio + beta * likelihood) ** 2)) >= wanted

    if bears(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if bears(middle) else (low, middle)
    return low


def _normalised(log_weights: Floats) -> Floats:
    weights = np.exp(log_weights - log_weights.max())
    return np.asarray(weights / weights.sum())


def _moments(values: Floats, weights: Floats) -> tuple[Floats, Floats]:
    """Mean and covariance of weighted places, a little widened so that it has a root."""
    mean = weights @ values
    away = values - mean
    spread = (weights[:, None] * away).T @ away
    return mean, np.asarray(spread + 1e-9 * np.eye(len(mean)))
