"""Eggs in the bowl in plain floats, with their standard error in closed form."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.quantities import tidy
from baitwright.recipe.eggs import Eggs
from baitwright.terms.errors import RangeError
from baitwright.terms.factors import FactorSet
from baitwright.uncertainty.gum import Measured, combine
from baitwright.workshop.levels.quick_lines import line_of

_HENS_EGG = (5.0, 150.0)
"""Liquid of one egg in ml, from a small yolk to the largest egg."""


@dataclass(frozen=True, slots=True)
class Bowl:
    """What is in the bowl: volume [m3] with its standard error, weight [kg] and number of eggs.

    ``counted`` tells whether the number was stated; otherwise it is that of usual eggs.
    """

    volume: Measured
    mass: float
    count: float
    counted: bool

    @property
    def per_egg(self) -> float:
        """One egg of these [m3]."""
        return self.volume.value / self.count


def bowl_of(lots: Sequence[Eggs], factors: FactorSet) -> Bowl:
    """The bowl from what was measured, weighed in the shell or told by grade, in that order.

    Parameters
    ----------
    lots: lines of eggs.
    factors: the maker's own; the factor of egg contents is one for all lines of a grade.

    Raises
    ------
    InputError: shells of something that does not come in shells, or eggs no hen lays.
    """
    lines = [line_of(eggs, place, factors) for place, eggs in enumerate(lots)]
    inputs = {name: value for line in lines for name, value in line.inputs.items()}
    volume = combine(lambda **values: math.fsum(line.volume(values) for line in lines), inputs)
    bowl = Bowl(
        volume=volume,
        mass=math.fsum(line.middle * line.density for line in lines),
        count=math.fsum(line.count for line in lines),
        counted=all(line.counted for line in lines),
    )
    low, high = _HENS_EGG
    if not low <= bowl.per_egg * 1e6 <= high:
        got = tidy(bowl.per_egg * 1e6)
        raise RangeError("eggs", f"{got} ml an egg", low=low, high=high, unit="ml of one egg")
    return bowl
