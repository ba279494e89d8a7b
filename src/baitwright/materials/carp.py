"""What is published of a carp's food, figure by figure; a bait is not a complete feed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class CarpFigure(Row):
    """A published figure from ``low`` to ``high`` in ``unit``.

    ``figure`` and ``basis`` say which figure of a bait it can be set beside; none where it only
    tells something of carp.
    """

    label: str
    figure: str = one_of("protein", "fat", "carbohydrate", "energy to protein", "none")
    basis: str = ""
    low: float
    high: float
    unit: str
    locator: str = ""


def carp_figures() -> Mapping[str, CarpFigure]:
    """Every figure by id."""
    return load("carp_nutrition", CarpFigure)
