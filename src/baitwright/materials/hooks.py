"""Hooks, shot, putty and line: what hangs on the bait and what holds it down."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import MICROGRAM_DIGITS, Row, find, load
from baitwright.terms.errors import InputError

LEAD_LIMITS_GB = (0.06e-3, 28.35e-3)  # kg, uk-si-1986-1992; heavier than the first counts


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight(Row):
    """A material by density [kg/m3]."""

    name: str
    density: float
    low: float
    high: float
    non_toxic: bool

    def submerged(self, mass: float, water_density: float) -> float:
        """What a mass of it weighs under water.

        Parameters
        ----------
        mass: in air [kg]
        water_density: of the lake [kg/m3]

        Returns
        -------
        The mass a scale would show under water [kg].
        """
        return mass * (1.0 - water_density / self.density)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hook(Row):
    """A hook by the wire it is bent from, in metres; ``mass_spread`` is relative."""

    name: str
    size: int
    wire: float
    length: float
    mass_spread: float

    @property
    def mass(self) -> float:
        """Mass of the wire in air [kg]."""
        return math.pi / 4.0 * self.wire**2 * self.length * weight("steel").density


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot(Row):
    """A split shot by its trade name and mass in air [kg]."""

    name: str
    mass: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Row):
    """A hook-link material by density [kg/m3]."""

    name: str
    density: float
    low: float
    high: float


def weights() -> Mapping[str, Weight]:
    """Every material of hooks and counterweights by id."""
    return load("weights", Weight)


def weight(name: str, field: str = "rig.counterweight") -> Weight:
    """A material by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(weights(), name, field)


def hooks() -> Mapping[str, Hook]:
    """Every hook by id."""
    return load("hooks", Hook)


def hook(size: int | str, field: str = "rig.hook") -> Hook:
    """A hook by its size.

    Raises
    ------
    InputError: there is no such size on the shelf.
    """
    wanted = str(size).lower().removeprefix("size").strip(" -")
    for each in hooks().values():
        if str(each.size) == wanted:
            return each
    sizes = ", ".join(str(each.size) for each in hooks().values())
    raise InputError(field, size, f"a size of {sizes}, or the weight of one hook in grams")


def shots() -> Mapping[str, Shot]:
    """Every split shot by id, heaviest first."""
    return load("shot", Shot)


def lines() -> Mapping[str, Line]:
    """Every hook-link material by id."""
    return load("lines", Line)


def line(name: str, field: str = "rig.hook_link") -> Line:
    """A hook-link material by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(lines(), name, field)


def lead_limited_in_britain(mass: float) -> bool:
    """Whether a lead weight of this mass [kg] falls under the British limits."""
    low, high = LEAD_LIMITS_GB
    return low < round(mass, MICROGRAM_DIGITS) <= high
