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


WIDEST = 5.0
"""How many scales a factor known from few batches may lie from its middle (judgement).

The tails of a Student t variable hold kitchens that cannot be, and more draws would reach further
into them. With four degrees of freedom 1 draw in 130 lies further out, and is put there.
"""


def kept_student(nu: float) -> float:
    """Standard deviation, in scales, of a Student t variable kept within ``WIDEST``.

    By Simpson's rule over the inside, with the tails' share at the edge.
    """
    norm = math.exp(math.lgamma((nu + 1.0) / 2.0) - math.lgamma(nu / 2.0)) / math.sqrt(nu * math.pi)
    step = WIDEST / _PANELS
    inside = second = 0.0
    for at in range(_PANELS + 1):
        t = at * step
        weight = (1.0 if at in (0, _PANELS) else 4.0 if at % 2 else 2.0) * step / 3.0
        density = norm * (1.0 + t * t / nu) ** (-(nu + 1.0) / 2.0)
        inside += weight * density
        second += weight * density * t * t
    return math.sqrt(2.0 * (second + (0.5 - inside) * WIDEST**2))


_PANELS = 200


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
