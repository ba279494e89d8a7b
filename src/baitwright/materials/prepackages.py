"""How much a pack may lack of its stated weight, by weight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepackage(Row):
    """A range of stated weights [kg], and what one pack may lack: a share of it, or a mass [kg]."""

    low: float
    high: float
    share: float | None
    mass: float | None


def prepackages() -> Mapping[str, Prepackage]:
    """Every range by id, the lightest first."""
    return load("prepackages", Prepackage)
