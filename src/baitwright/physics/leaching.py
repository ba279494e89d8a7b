"""How much of what is dissolved in a ball leaves it into a large bath around it."""

from __future__ import annotations

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.series import sphere_series

# Up to this share of the shell's thickness squared the loss has not yet felt the core's wall:
# the first reflection then adds under one part in a million.
_UNFELT = 1.0 / 12.0
_TERMS = 40


def leached_share(diffused: Values, *, outer_radius: Values, core_radius: Values = 0.0) -> Array:
    """Share of a solute that has left a ball, solid or round a sealed core, whose surface is bare.

    Parameters
    ----------
    diffused: diffusivity times time, not negative [m2]
    outer_radius: radius of the ball [m]
    core_radius: radius of the sealed core, 0 for a solid ball [m]

    Returns
    -------
    Share that has left, 0 to 1 [1]

    Raises
    ------
    RangeError: a radius or time is not possible, or no shell is left.

    Notes
    -----
    3 b^2 / (b^3 - a^3) (2 sqrt(D t / pi) - D t / b) while it has not felt the wall, D t below
    (b - a)^2 / 12, and the exact series from there on; they meet within one part in a million.

    Reference: crank-1975, p. 91 (solid ball); derived here for the sealed core.
    """
    spread = within("diffused", diffused, low=0.0, high=np.inf, unit="m2")
    outer = within("outer_radius", outer_radius, low=1e-9, high=1e9, unit="m")
    within("core_radius / outer_radius", np.divide(core_radius, outer), low=0.0, high=1.0 - 1e-9)
    spread, outer, inner = np.broadcast_arrays(spread, outer, core_radius)
    shell = outer**3 - inner**3
    share = 3.0 * outer**2 / shell * (2.0 * np.sqrt(spread / np.pi) - spread / outer)
    felt = spread > _UNFELT * (outer - inner) ** 2
    share = np.atleast_1d(share)
    for at in zip(*np.nonzero(np.atleast_1d(felt)), strict=True):
        b, a, reached = (float(np.atleast_1d(one)[at]) for one in (outer, inner, spread))
        share[at] = 1.0 - float(sphere_series(b, a, terms=_TERMS).mean(reached))
    return np.asarray(share.reshape(spread.shape))
