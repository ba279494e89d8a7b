"""The first moments of a ball in new surroundings, while its middle does not know of them yet.

Until then the ball is a half space in r times the value, whatever lies inside, and the answer is
closed; the modes of ``modes`` would need their hundreds.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import gamma, pi, sqrt

import numpy as np

from baitwright.physics.limits import Array

# Diffusivity times time over the shell's thickness squared, up to which nothing of the wall or the
# centre shows at the surface, nor the other way: exp(-1 / (4 x 0.012)) is 1e-9.
REACHED = 0.012

_TERMS = 32  # of the rational approximation: relative error below 1e-12
_NEAR = 0.5  # below it power series stand for differences that would cancel
_POWERS = 24


@cache
def _weideman() -> tuple[float, Array]:
    """Scale and coefficients, highest power first, of the approximation of erfcx."""
    scale = sqrt(_TERMS / sqrt(2.0))
    angles = np.arange(-2 * _TERMS + 1, 2 * _TERMS) * pi / (2 * _TERMS)
    at = scale * np.tan(0.5 * angles)
    values = np.append(0.0, np.exp(-(at**2)) * (scale**2 + at**2))
    transform = np.real(np.fft.fft(np.fft.fftshift(values))) / (4 * _TERMS)
    return scale, transform[_TERMS:0:-1]


def scaled_erfc(x: Array) -> Array:
    """exp(x^2) erfc(x) [1] of any x above -5 [1].

    Notes
    -----
    A polynomial in (L - x)/(L + x), on the imaginary axis of the Faddeeva function, and the
    reflection 2 exp(x^2) - f(-x) below zero.

    Reference: weideman-1994.
    """
    scale, coefficients = _weideman()
    size = np.abs(x)
    shared = 1.0 / (scale + size)
    place = (scale - size) * shared
    total = np.full_like(size, coefficients[0])
    for coefficient in coefficients[1:]:
        total *= place
        total += coefficient
    value = shared * (2.0 * shared * total + 1.0 / sqrt(pi))
    if (x < 0.0).any():
        value = np.where(x < 0.0, 2.0 * np.exp(np.minimum(size, 5.0) ** 2) - value, value)
    return np.asarray(value)


@dataclass(frozen=True, slots=True)
class HalfSpace:
    """A ball whose middle is still as it was at first, per excess 1 over its surroundings.

    Outer radius and radius of the wall [m]; Biot number on the outer radius [1]; diffusivity times
    time [m2]; all broadcast. The Biot number is finite.

    Notes
    -----
    w = r (1 - theta) obeys the plane equation with w' + (Bi - 1)/b w = Bi at the surface:
    w = Bi b/(Bi - 1) (erfc(x/2s) - exp(y x/s + y^2) erfc(x/2s + y)), s = sqrt(D t),
    y = (Bi - 1) s/b, x the depth.

    Reference: carslaw-jaeger-1959, sec. 2.7, with r times the value for the value.
    """

    outer_radius: Array
    inner_radius: Array
    biot: Array
    diffused: Array

    def _y(self) -> Array:
        return (self.biot - 1.0) * np.sqrt(self.diffused) / self.outer_radius

    def surface_and_mean(self) -> tuple[Array, Array]:
        """Excess at the surface, and averaged over the shell [1] and [1]."""
        y, gone = self._y(), self.diffused
        outer, biot = self.outer_radius, self.biot
        near = np.abs(y) < _NEAR
        erfc = scaled_erfc(y)
        away = np.where(near, 1.0, biot - 1.0)
        # 1 - Bi/(Bi - 1) (1 - E), and its integral, with what cancels taken together
        surface = (biot * erfc - 1.0) / away
        second = (erfc - 1.0 + 2.0 / sqrt(pi) * y) / np.where(near, 1.0, y) ** 2
        passed = gone * (biot * second - 1.0) / away
        if near.any():
            taken = biot * np.sqrt(gone) / outer
            surface = np.where(near, 1.0 + taken * _power_series(y, skip=1), surface)
            passed = np.where(near, gone * (1.0 + taken * _power_series(y, skip=3)), passed)
        share = 3.0 * outer / (outer**3 - self.inner_radius**3)
        return surface, 1.0 - share * biot * passed

    def local(self, radius: Array) -> Array:
        """Excess at a radius inside the shell [1], the radius in [m]."""
        y = self._y()
        reach = 0.5 * (self.outer_radius - radius) / np.sqrt(self.diffused)
        small = np.abs(y) < 1e-4
        apart = np.where(small, 1.0, y)
        middle = reach + 0.5 * y
        slope = 2.0 / sqrt(pi) - 2.0 * middle * scaled_erfc(middle)
        rise = np.where(small, slope, (scaled_erfc(reach) - scaled_erfc(reach + y)) / apart)
        taken = self.biot * np.sqrt(self.diffused) * np.exp(-(reach**2)) * rise
        return 1.0 - taken / radius


def _power_series(y: Array, *, skip: int) -> Array:
    """exp(y^2) erfc(y) without its first ``skip`` terms, over y^skip; for small y only."""
    small = np.where(np.abs(y) < _NEAR, y, 0.0)
    total = np.zeros_like(small)
    for power in range(_POWERS, skip - 1, -1):
        total = total * small + (-1.0) ** power / gamma(0.5 * power + 1.0)
    return total
