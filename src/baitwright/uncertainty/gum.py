"""Propagation of small errors in closed form, in plain floats, for the quick answers.

Reference: gum-2008, clauses 4.3.7 (rectangular limits) and 5.1.2 (combined uncertainty).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measured:
    """A value and its standard uncertainty, in one unit."""

    value: float
    u: float = 0.0

    @property
    def relative(self) -> float:
        """Standard uncertainty as a share of the value."""
        return self.u / abs(self.value) if self.value else math.inf


def rectangular(half_width: float) -> float:
    """Standard uncertainty of something known only to lie within plus or minus a limit."""
    return half_width / math.sqrt(3.0)


def combine(model: Callable[..., float], inputs: Mapping[str, Measured]) -> Measured:
    """Value and combined standard uncertainty of a model of independent inputs.

    The sensitivity of each input is taken over plus and minus one standard uncertainty (gum-2008,
    5.1.3, note 2), so the model needs no derivative.
    """
    centre = {name: measured.value for name, measured in inputs.items()}
    variance = 0.0
    for name, measured in inputs.items():
        if measured.u == 0.0:
            continue
        up = model(**{**centre, name: measured.value + measured.u})
        down = model(**{**centre, name: measured.value - measured.u})
        variance += ((up - down) / 2.0) ** 2
    return Measured(model(**centre), math.sqrt(variance))
