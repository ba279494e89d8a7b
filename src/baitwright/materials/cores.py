"""Buoyant cores."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, find, load

NO_CORE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Core(Row):
    """A kind of core in SI; spreads are standard deviations, ``diameters`` what is sold."""

    name: str
    density: float
    density_batch_spread: float
    density_ball_spread: float
    conductivity: float
    heat_capacity: float
    diameters: tuple[float, ...]
    diameter_spread: float


def cores() -> Mapping[str, Core]:
    """Every kind of core by id."""
    return load("cores", Core)


def core(name: str, field: str = "bait.core") -> Core | None:
    """A kind of core by id or name; nothing for ``"none"``.

    Raises
    ------
    InputError: there is no such core.
    """
    return None if name.strip().lower() == NO_CORE else find(cores(), name, field)
