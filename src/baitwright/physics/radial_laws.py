"""How readily heat or matter moves through a material, where that depends on how much is there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from baitwright.physics.constants import GAS_CONSTANT
from baitwright.physics.limits import Array, Values, within

Law: TypeAlias = Callable[[Array], Values]
Diffusivity: TypeAlias = Callable[[Array, Array], Values]

_WARM = 293.15  # K


@dataclass(frozen=True, slots=True)
class ExponentialLaw:
    """Conductivity that grows e-fold with so much of the value itself, whatever its unit.

    Conductivity [W/m/K or m2/s] at a reference value, the reference, and the steepness, the growth
    of its logarithm per unit of the value; ``compiled`` knows this law.
    """

    at_reference: Values
    steepness: Values = 0.0
    reference: Values = 0.0

    def __call__(self, value: Array) -> Array:
        """Conductivity [W/m/K or m2/s] at a value [K or kg/kg]."""
        return np.asarray(self.at_reference * np.exp(self.steepness * (value - self.reference)))

    def root(self, value: Array) -> Array:
        """Square root of the conductivity [(W/m/K)^0.5 or m/s^0.5] at a value [K or kg/kg]."""
        half = value - self.reference
        half *= 0.5 * np.asarray(self.steepness)
        np.exp(half, out=half)
        half *= np.sqrt(self.at_reference)
        return half

    def values(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        return [self.at_reference, self.steepness, self.reference]

    def check(self, name: str) -> None:
        """Raise RangeError where a number of the law is none, or beyond all sense."""
        within(f"{name}.at_reference", self.at_reference, low=1e-16, high=1e4)
        within(f"{name}.steepness", self.steepness, low=-50.0, high=50.0)
        within(f"{name}.reference", self.reference, low=-1e3, high=1e3)


@dataclass(frozen=True, slots=True)
class MoistureDiffusivity:
    """Diffusivity of water in moist solids by temperature and water content.

    At 20 C and the reference content [m2/s]; activation energy [J/mol]; steepness, the growth of
    its logarithm per water content [1]; reference content [kg/kg]; ``compiled`` knows this law.

    Notes
    -----
    D = D20 exp(-(E/R)(1/T - 1/293.15) + k (X - X_r)).
    """

    at_20C: Values  # noqa: N815  the unit is written as it is
    activation: Values = 26e3
    steepness: Values = 0.0
    reference: Values = 0.0

    def __call__(self, temperature: Array, content: Array) -> Array:
        """Diffusivity [m2/s] at a temperature [K] and a water content [kg/kg]."""
        return np.asarray(self.warmed(temperature) * self.by_content()(content))

    def by_content(self) -> ExponentialLaw:
        """The part that follows the content, over the diffusivity at the reference."""
        return ExponentialLaw(1.0, self.steepness, self.reference)

    def warmed(self, temperature: Array) -> Array:
        """Diffusivity [m2/s] at the reference content and a temperature [K]."""
        colder = 1.0 / temperature - 1.0 / _WARM
        return np.asarray(
            self.at_20C * np.exp(-np.asarray(self.activation) / GAS_CONSTANT * colder)
        )

    def values(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        return [self.at_20C, self.activation, self.steepness, self.reference]

    def check(self, name: str) -> None:
        """Raise RangeError where a number of the law is none, or beyond all sense."""
        within(f"{name}.at_20C", self.at_20C, low=1e-14, high=3e-9, unit="m2/s")
        within(f"{name}.activation", self.activation, low=0.0, high=1e5, unit="J/mol")
        within(f"{name}.steepness", self.steepness, low=-50.0, high=50.0)
        within(f"{name}.reference", self.reference, low=0.0, high=20.0, unit="kg/kg")


def face_means(law: Law, value: Array) -> Array:
    """Mean conductivity between neighbours.

    Parameters
    ----------
    law: conductivity from the value [function]
    value: of the cells and the surface, (cells + 1, draws), which it may overwrite [K or kg/kg]

    Returns
    -------
    Means over the value, (cells, draws) [W/m/K or m2/s]

    Notes
    -----
    Simpson's rule; between two ends of an exponential the middle is the product of their roots.
    """
    if isinstance(law, ExponentialLaw):
        root = law.root(value)
        means = root[1:] * root[:-1]
        root *= root
        ends = root
    else:
        ends = np.asarray(law(value))
        value[1:] += value[:-1]
        value *= 0.5
        means = np.array(law(value[1:]))
    means *= 4.0
    means += ends[1:]
    means += ends[:-1]
    means *= 1.0 / 6.0
    return means
