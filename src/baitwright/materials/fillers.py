"""Light grains that are worked into paste to lift it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, find, load


@dataclass(frozen=True, slots=True, kw_only=True)
class Filler(Row):
    """A filler in SI: density of its grains with the range that 19 in 20 lie in."""

    name: str
    density: float
    density_low: float
    density_high: float
    conductivity: float
    heat_capacity: float
    airborne_glass: bool


def fillers() -> Mapping[str, Filler]:
    """Every filler by id."""
    return load("fillers", Filler)


def filler(name: str, field: str = "bait.fillers") -> Filler:
    """A filler by id or name.

    Raises
    ------
    InputError: there is no such filler.
    """
    return find(fillers(), name, field)
