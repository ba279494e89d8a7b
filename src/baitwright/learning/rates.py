"""Bites in rod-hours: what one bait's rate may be, and how much its nights scatter.

A bite is an event, the rod-hours in the water its exposure. A blank counts as much as any: so many
hours without a bite.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.terms.band import Band
from baitwright.terms.errors import InputError
from baitwright.uncertainty.special import beta_below, chi_squared_above, gamma_quantile

BITES_TO_RANK = 10
"""No chances and no order are told where a bait had fewer bites (judgement)."""
JEFFREYS = 0.5
"""Bites that the prior of a rate is worth, in no hours at all."""
OVERDISPERSED = 1.5
"""Scatter above this multiple of chance widens what is told (judgement)."""
NIGHTS_TO_TELL = 5
"""Nights from which a scatter is told at all (judgement)."""


@dataclass(frozen=True, slots=True)
class Fished:
    """Bites in so many rod-hours; of one night, or of all of them.

    Raises
    ------
    InputError: fewer bites than none, hours that are no number above nothing.
    """

    bites: int
    rod_hours: float

    def __post_init__(self) -> None:
        """Refuse what cannot have been fished."""
        if self.bites < 0:
            raise InputError("bites", self.bites, "none or more")
        if not 0.0 < self.rod_hours < math.inf:
            raise InputError("rod-hours", self.rod_hours, "more than none")


def together(nights: Sequence[Fished]) -> Fished:
    """Every night as one."""
    return Fished(sum(one.bites for one in nights), math.fsum(one.rod_hours for one in nights))


@dataclass(frozen=True, slots=True)
class GammaRate:
    """What is believed of a rate per rod-hour: a gamma distribution of ``shape`` and ``hours``."""

    shape: float
    hours: float

    @property
    def mean(self) -> float:
        """Bites per rod-hour."""
        return self.shape / self.hours

    def after(self, fished: Fished) -> GammaRate:
        """The same after more fishing.

        Notes
        -----
        Gamma(a, b) and k bites in T rod-hours give Gamma(a + k, b + T).

        Reference: gelman-bda, section 2.6.
        """
        return GammaRate(self.shape + fished.bites, self.hours + fished.rod_hours)

    def quantile(self, share: float) -> float:
        """The rate below which it lies with a chance of ``share``, per rod-hour."""
        return gamma_quantile(share, self.shape) / self.hours

    def band(self, *, per: float = 24.0) -> Band:
        """Its band in bites per so many rod-hours."""
        unit = f"bites per {per:g} rod-hours"
        return Band.of("rate", unit, lambda share: per * self.quantile(share))


def rate_after(fished: Fished) -> GammaRate:
    """What is believed of a rate that nothing was known of, with Jeffreys's prior."""
    return GammaRate(JEFFREYS, 0.0).after(fished)


def chance_greater(first: GammaRate, second: GammaRate) -> float:
    """Chance that the first of two rates is the greater, given nothing else.

    Notes
    -----
    With gammas (a, b), P(first > second) is the chance that Beta(a1, a2) lies above b1 / (b1 + b2).

    Reference: gelman-bda, section 2.6; derived here for two.
    """
    share = first.hours / (first.hours + second.hours)
    return 1.0 - beta_below(share, first.shape, second.shape)


def highest_of_a_blank(rod_hours: float, *, confidence: float = 0.95) -> float:
    """Highest rate per rod-hour that so many hours without a bite do not rule out.

    Reference: recalled, the rule of three: -ln(1 - confidence) / hours.
    """
    return -math.log1p(-confidence) / rod_hours


@dataclass(frozen=True, slots=True)
class Dispersion:
    """How much nights scatter beyond chance.

    ``ratio`` is Pearson's chi-squared by its ``degrees``, 1 where chance is all there is;
    ``chance`` how often chance alone scatters as much; ``alpha`` the variance beyond chance as a
    share of the squared mean.
    """

    ratio: float
    degrees: int
    chance: float
    alpha: float

    @property
    def is_told(self) -> bool:
        """Whether there are nights enough to tell."""
        return self.degrees + 1 >= NIGHTS_TO_TELL

    @property
    def widens(self) -> float:
        """By what the variance is multiplied: its ratio where that is large, else 1."""
        return self.ratio if self.is_told and self.ratio > OVERDISPERSED else 1.0

    @property
    def contagion(self) -> float:
        """The same as variance beyond chance by the squared mean; nothing where it is small."""
        return self.alpha if self.widens > 1.0 else 0.0


CHANCE_ALONE = Dispersion(1.0, 0, 1.0, 0.0)


def dispersion_of(baits: Sequence[Sequence[Fished]]) -> Dispersion:
    """How much the nights of baits scatter about each bait's own rate.

    Parameters
    ----------
    baits: the nights of each bait.

    Notes
    -----
    chi2 = sum (k - mu)^2 / mu with mu = rate x hours; ratio = chi2 / (nights - baits); alpha =
    sum((k - mu)^2 - mu) / sum mu^2, by moments, of mean mu and variance mu + alpha mu^2.

    Reference: recalled, Pearson's dispersion and the negative binomial by moments.
    """
    squares = weighted = beyond = 0.0
    degrees = 0
    for nights in baits:
        if not nights or (whole := together(nights)).bites == 0:
            continue
        rate = whole.bites / whole.rod_hours
        means = [rate * one.rod_hours for one in nights]
        off = [(one.bites - mean) ** 2 for one, mean in zip(nights, means, strict=True)]
        squares += math.fsum(mean * mean for mean in means)
        weighted += math.fsum(one / mean for one, mean in zip(off, means, strict=True))
        beyond += math.fsum(one - mean for one, mean in zip(off, means, strict=True))
        degrees += len(nights) - 1
    if degrees <= 0:
        return CHANCE_ALONE
    chance = chi_squared_above(weighted, degrees)
    return Dispersion(weighted / degrees, degrees, chance, max(beyond / squares, 0.0))
