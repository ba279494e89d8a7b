"""How sure it is that a mix holds what it must, from the spread of what goes into it."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import PERCENT, Unit


@declared(
    "chance_of_floor",
    label="chance that it holds",
    unit=PERCENT,
    equation="share of the lots drawn that hold at least the floor",
    source="jcgm-101-2008",
    note="how far lots spread is judged, but for the figures that a table gives; weigh a label in",
)
def chance_of_floor(figure: Any, floor: Any) -> float:
    """Share of all lots that hold as much."""
    return _share(np.asarray(figure) >= floor)


@declared(
    "chance_of_ceiling",
    label="chance that it holds",
    unit=PERCENT,
    equation="share of the lots drawn that hold the ceiling at most",
    source="jcgm-101-2008",
    note="how far lots spread is judged, but for the figures that a table gives; weigh a label in",
)
def chance_of_ceiling(figure: Any, ceiling: Any) -> float:
    """Share of all lots that hold no more."""
    return _share(np.asarray(figure) <= ceiling)


def _share(holds: NDArray[np.bool_]) -> float:
    """Share of lots; of lots drawn never none and never all, for the next one may be otherwise."""
    if holds.size == 1:
        return float(holds.all())
    return (float(holds.sum()) + 0.5) / (holds.size + 1.0)


def chance(
    figure: Quantity, *, at_least: float | None = None, at_most: float | None = None
) -> Quantity:
    """The chance that a figure holds a floor or a ceiling, one of the two.

    Raises
    ------
    InputError: neither or both are told.
    """
    if (at_least is None) == (at_most is None):
        raise InputError(figure.label, None, "a floor or a ceiling, one of both")
    unit = Unit(figure.unit, figure.shown)
    if at_least is not None:
        floor = given("floor", at_least, label=f"{figure.label}, at least", unit=unit)
        return chance_of_floor(figure=figure, floor=floor)
    ceiling = given("ceiling", at_most, label=f"{figure.label}, at most", unit=unit)
    return chance_of_ceiling(figure=figure, ceiling=ceiling)
