"""The shapes an unknown can have, each as its quantile function."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from baitwright.terms.band import log_sd

Floats = NDArray[np.float64]

_STANDARD = NormalDist()


def standard_normal(probability: Floats) -> Floats:
    """Standard normal quantiles (algorithm AS 241, as the standard library implements it).

    Reference: wichura-1988.
    """
    flat = np.fromiter(map(_STANDARD.inv_cdf, probability.ravel()), float, probability.size)
    return flat.reshape(probability.shape)


class Spread(Protocol):
    """What a source of draws needs of a distribution."""

    def quantile(self, probability: Floats) -> Floats:
        """The value below which the given share of draws falls."""
        ...


@dataclass(frozen=True, slots=True)
class Normal:
    """Bell-shaped about a mean."""

    mean: float
    sd: float

    def quantile(self, probability: Floats) -> Floats:
        """Mean plus so many standard deviations."""
        return self.mean + self.sd * standard_normal(probability)


@dataclass(frozen=True, slots=True)
class LogNormal:
    """Bell-shaped in the logarithm: never negative, as likely doubled as halved."""

    median: float
    log_sd: float

    @classmethod
    def between(cls, low: float, high: float, *, median: float) -> LogNormal:
        """Within a range in 19 cases of 20."""
        return cls(median, log_sd(low, high))

    def quantile(self, probability: Floats) -> Floats:
        """Median times e to so many standard deviations of the log."""
        return np.asarray(self.median * np.exp(self.log_sd * standard_normal(probability)))


@dataclass(frozen=True, slots=True)
class Uniform:
    """Anywhere between two limits alike."""

    low: float
    high: float

    def quantile(self, probability: Floats) -> Floats:
        """The limits, shared out evenly."""
        return self.low + (self.high - self.low) * probability
