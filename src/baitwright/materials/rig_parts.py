"""Small parts of a rig, and how a maker measures what a table cannot know."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, find, load


@dataclass(frozen=True, slots=True, kw_only=True)
class RigPart(Row):
    """A stop, swivel, screw or band by its mass in air [kg] and density [kg/m3]."""

    name: str
    mass: float
    low: float
    high: float
    density: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocol(Row):
    """A measurement in steps: what is read, how it becomes the result, and on how many pieces."""

    name: str
    steps: tuple[str, ...]
    reads: str
    formula: str
    sample: int


def rig_parts() -> Mapping[str, RigPart]:
    """Every part by id."""
    return load("rig_parts", RigPart)


def rig_part(name: str, field: str = "parts") -> RigPart:
    """A part by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(rig_parts(), name, field)


def protocols() -> Mapping[str, Protocol]:
    """Every measurement by id."""
    return load("protocols", Protocol)
