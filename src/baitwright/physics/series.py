"""Exact series for a ball or hollow ball that exchanges heat or matter through its outer surface.

They are the oracle of the radial engine, and the quick answer where its constants are constant.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from baitwright.physics.limits import Array, Values, within

_SHORT_TIME = 0.05  # below it the short-time form of the uptake is exact to 1e-10


@dataclass(frozen=True, slots=True)
class SphereSeries:
    """The excess that is left of a uniform start, 1 at first and 0 at last, as a sum of modes.

    A core, where there is one, is sealed: nothing passes the wall at ``core_radius``. Every method
    takes the diffusivity times the time, which for a solid ball of radius 1 is the Fourier number.

    Radii [m], Biot number [1], roots mu [1/m] and coefficients C [m].

    Notes
    -----
    theta(r, t) = sum C U(r)/r exp(-mu^2 D t), U = sin mu(r-a) + a mu cos mu(r-a).
    """

    outer_radius: float
    core_radius: float
    biot: float
    roots: Array
    coefficients: Array

    def _sum(self, weights: Array, diffused: Values) -> Array:
        decay = np.exp(-np.multiply.outer(np.asarray(diffused, dtype=np.float64), self.roots**2))
        return np.asarray(decay @ weights)

    def innermost(self, diffused: Values) -> Array:
        """Excess at the wall of the core, or at the centre of a solid ball.

        Parameters
        ----------
        diffused: diffusivity times time, one or many [m2]

        Returns
        -------
        Excess over the surroundings per excess at the start [1]

        Reference: carslaw-jaeger-1959, ch. 9; derived here for the sealed core.
        """
        return self._sum(self.coefficients * self.roots, diffused)

    def local(self, diffused: Values, radius: float) -> Array:
        """Excess at one radius.

        Parameters
        ----------
        diffused: diffusivity times time, one or many [m2]
        radius: distance from the centre, inside the shell [m]

        Returns
        -------
        Excess over the surroundings per excess at the start [1]

        Raises
        ------
        RangeError: the radius lies outside the shell.

        Reference: carslaw-jaeger-1959, ch. 9.
        """
        within("radius", radius, low=self.core_radius, high=self.outer_radius, unit="m")
        if radius == 0.0:
            return self.innermost(diffused)
        shape, _ = _mode(self.roots, self.core_radius, radius)
        return self._sum(self.coefficients * shape / radius, diffused)

    def surface(self, diffused: Values) -> Array:
        """Excess at the outer surface [1] after a diffusivity times time [m2]."""
        return self.local(diffused, self.outer_radius)

    def mean(self, diffused: Values) -> Array:
        """Excess averaged over the volume: the fraction of heat or matter not yet exchanged.

        Parameters
        ----------
        diffused: diffusivity times time, one or many [m2]

        Returns
        -------
        Mean excess per excess at the start [1]

        Reference: crank-1975, p. 91 and 96 (solid ball); derived here for the sealed core.
        """
        weights = 3.0 * self.coefficients * _first_moment(self)
        return self._sum(weights / (self.outer_radius**3 - self.core_radius**3), diffused)


def sphere_series(
    outer_radius: float,
    core_radius: float = 0.0,
    *,
    biot: float = math.inf,
    terms: int = 100,
) -> SphereSeries:
    """Roots and coefficients of a ball, solid or with a sealed core, behind a film or none.

    Parameters
    ----------
    outer_radius: radius of the ball [m]
    core_radius: radius of the sealed core, 0 for a solid ball [m]
    biot: film coefficient times ``outer_radius`` over conductivity, infinite for no film [1]
    terms: number of modes [1]

    Returns
    -------
    The series [SphereSeries]

    Raises
    ------
    RangeError: no shell is left, the Biot number is not positive, or no term is asked for.

    Notes
    -----
    Roots of b U'(b) = (1 - Bi) U(b), or of U(b) = 0 without a film, in their sine-cosine form,
    which has no poles. Each lies between two neighbouring roots without a film, and those between
    (n - 1/2) pi / L and n pi / L. The coefficient [U(b) - b U'(b)] / (mu^2 N), N the integral of
    U^2, holds for every Biot number, while the usual form with Bi U(b) is infinity times zero.

    Reference: crank-1975, p. 91 and 96 (solid ball); derived here for the sealed core.
    """
    within("outer_radius", outer_radius, low=1e-9, high=1e9, unit="m")
    within("core_radius", core_radius, low=0.0, high=outer_radius * (1.0 - 1e-9), unit="m")
    within("biot", biot, low=1e-9, high=math.inf)
    within("terms", terms, low=1, high=100_000)
    a, b = core_radius, outer_radius
    span = b - a
    number = np.arange(1, terms + 1, dtype=np.float64)
    sign = np.where(number % 2 > 0, -1.0, 1.0)  # of both functions at the upper end of a bracket

    def held(mu: Array) -> Array:
        return _mode(mu, a, b)[0] * sign

    def film(mu: Array) -> Array:
        value, slope = _mode(mu, a, b)
        return (b * slope - (1.0 - biot) * value) * sign

    upper: Array = number * np.pi / span
    roots: Array = upper if a == 0.0 else _bisect(held, (number - 0.5) * np.pi / span, upper)
    if math.isfinite(biot):
        roots = _bisect(film, np.concatenate(([0.0], roots[:-1])), roots)
    value, slope = _mode(roots, a, b)
    angle = roots * span
    norm = (
        0.5 * span * (1.0 + (a * roots) ** 2)
        + ((a * roots) ** 2 - 1.0) * np.sin(2.0 * angle) / (4.0 * roots)
        + a * np.sin(angle) ** 2
    )
    return SphereSeries(b, a, biot, roots, (value - b * slope) / (roots**2 * norm))


def first_term(biot: float) -> tuple[float, float]:
    """First root and coefficient of a solid ball behind a film, as handbooks tabulate them.

    Parameters
    ----------
    biot: film coefficient times radius over conductivity [1]

    Returns
    -------
    lambda_1 and A_1, so that the centre's excess is about A_1 exp(-lambda_1^2 Fo) [1]

    Raises
    ------
    RangeError: the Biot number is not positive.

    Reference: cengel-ghajar, table 4-2.
    """
    series = sphere_series(1.0, biot=biot, terms=1)
    return float(series.roots[0]), float(series.coefficients[0] * series.roots[0])


def sphere_uptake(fourier: Values) -> Array:
    """Share of the final uptake (or loss) of a solid ball whose surface is held.

    Parameters
    ----------
    fourier: diffusivity times time over radius squared, not negative [1]

    Returns
    -------
    Uptake per final uptake [1]

    Raises
    ------
    RangeError: the Fourier number is negative.

    Notes
    -----
    1 - 6/pi^2 sum exp(-n^2 pi^2 Fo)/n^2, and 6 sqrt(Fo/pi) - 3 Fo where Fo is below 0.05.

    Reference: crank-1975, p. 91.
    """
    fo = within("fourier", fourier, low=0.0, high=math.inf)
    squares = np.arange(1, 31, dtype=np.float64) ** 2
    long = 1.0 - 6.0 / np.pi**2 * (
        np.exp(-np.multiply.outer(fo, np.pi**2 * squares)) @ (1 / squares)
    )
    return np.where(fo < _SHORT_TIME, 6.0 * np.sqrt(fo / np.pi) - 3.0 * fo, long)


def _mode(mu: Array, core_radius: float, radius: float) -> tuple[Array, Array]:
    """The mode U and its slope U' at a radius."""
    angle = mu * (radius - core_radius)
    sine, cosine = np.sin(angle), np.cos(angle)
    value = sine + core_radius * mu * cosine
    return value, mu * (cosine - core_radius * mu * sine)


def _first_moment(series: SphereSeries) -> Array:
    """Integral of r U(r) over the shell, from U'' = -mu^2 U."""
    value, slope = _mode(series.roots, series.core_radius, series.outer_radius)
    return (value - series.outer_radius * slope) / series.roots**2


def _bisect(function: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """The root in each bracket of functions that are negative below it and positive above."""
    for _ in range(80):
        middle = 0.5 * (low + high)
        above = function(middle) > 0.0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return 0.5 * (low + high)
