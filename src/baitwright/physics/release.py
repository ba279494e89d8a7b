"""A solute leaving many balls at once, by the exact series, and how fat holds it back."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from baitwright.physics.half_space import scaled_erfc
from baitwright.physics.limits import Array, Values, within

_UNFELT = 1.0 / 12.0
"""Up to this share of the shell's thickness squared the loss has not felt the wall of the core."""
_MODES = 8
"""From there on the ninth mode has decayed below one part in 1e25."""
_WALL_UNFELT = 1.0 / 48.0
"""The same for a solute that starts in a layer only: its own way to the wall and back is longer."""
_LAYER_MODES = 13
"""From there on the fourteenth mode has decayed below one part in 1e17."""
_FAR = 30.0
"""Of a layer this many diffusion lengths deep the far side feels nothing of the surface."""
_HALVINGS = 60


def shell_remaining(diffused: Values, *, outer_radius: Values, core_radius: Values = 0.0) -> Array:
    """Share of a solute still in a ball, solid or round a sealed core, whose surface is bare.

    Parameters
    ----------
    diffused: diffusivity times time, not negative [m2]
    outer_radius: radius of the ball [m]
    core_radius: radius of the sealed core, 0 for a solid ball [m]

    Returns
    -------
    Share that is left, 1 at first and 0 at last [1]

    Raises
    ------
    RangeError: a radius or time is not possible, or no shell is left.

    Notes
    -----
    With thickness l = b - a and roots tan(m l) = -a m, the sum of 3 b^2 exp(-m^2 D t) /
    (m^2 (b^3 - a^3) (l/2 - sin(2 m l)/(4 m))); below D t = l^2 / 12 its short-time form
    1 - 3 b^2 / (b^3 - a^3) (2 sqrt(D t / pi) - D t / b). They meet within one part in a million.
    The same series as ``leached_share``, for a thousand balls in one call.

    Reference: crank-1975, p. 91 (solid ball); derived here for the sealed core.
    """
    spread = within("diffused", diffused, low=0.0, high=np.inf, unit="m2")
    outer = within("outer_radius", outer_radius, low=1e-9, high=1e9, unit="m")
    within("core_radius / outer_radius", np.divide(core_radius, outer), low=0.0, high=1.0 - 1e-9)
    outer, inner = np.broadcast_arrays(outer, np.asarray(core_radius, dtype=np.float64))
    thickness = outer - inner
    reach = spread / thickness**2
    shell = outer**3 - inner**3
    early = np.minimum(reach, _UNFELT) * thickness**2
    short = 1.0 - 3.0 * outer**2 / shell * (2.0 * np.sqrt(early / np.pi) - early / outer)
    # Everything per thickness: m l is the root, a / l the wall's place, b / l the surface's.
    wall, edge = inner / thickness, outer / thickness
    late = np.zeros_like(reach)
    fourier = np.maximum(reach, _UNFELT)
    for root in _roots(wall):
        norm = 0.5 - np.sin(2.0 * root) / (4.0 * root)
        weight = 3.0 * edge**2 / (root**2 * (edge**3 - wall**3) * norm)
        late = late + weight * np.exp(-(root**2) * fourier)
    return np.asarray(np.where(reach > _UNFELT, late, short))


def layer_remaining(
    diffused: Values, *, layer: Values, outer_radius: Values, core_radius: Values = 0.0
) -> Array:
    """Share left of a solute that lay evenly in the outermost layer of a ball with a bare surface.

    Parameters
    ----------
    diffused: diffusivity times time, not negative [m2]
    layer: thickness of what holds it at first, up to the whole shell [m]
    outer_radius: radius of the ball [m]
    core_radius: radius of the sealed core, 0 for a solid ball [m]

    Returns
    -------
    Share that is left, 1 at first and 0 at last; some of it on its way inwards [1]

    Raises
    ------
    RangeError: a radius, thickness or time is not possible, or no shell is left.

    Notes
    -----
    With l = b - a and u = r c, the early share is the integral of (b - x) (b erf(x / 2 sqrt(D t))
    - x) over the layer, x from the surface, as in half of all space; the wall is felt by no more
    than one part in a million before D t = l^2 / 48. Later it is the series of `shell_remaining`
    with each mode's share of what lay in the layer. Both meet within one part in a million, and a
    layer as thick as the shell is `shell_remaining`.

    Reference: crank-1975, sec. 3.4.5 (extended initial distribution) and 6.3.1 (r c in a sphere);
    derived here for the layer and the sealed core.
    """
    spread = within("diffused", diffused, low=0.0, high=np.inf, unit="m2")
    outer = within("outer_radius", outer_radius, low=1e-9, high=1e9, unit="m")
    within("core_radius / outer_radius", np.divide(core_radius, outer), low=0.0, high=1.0 - 1e-9)
    outer, inner = np.broadcast_arrays(outer, np.asarray(core_radius, dtype=np.float64))
    thickness = outer - inner
    share = within("layer / shell", np.divide(layer, thickness), low=1e-9, high=1.0 + 1e-9)
    reach = spread / thickness**2
    wall, edge = inner / thickness, outer / thickness
    held = (edge**3 - (edge - share) ** 3) / 3.0
    early = _half_space(np.minimum(reach, _WALL_UNFELT), edge, share) / held
    late = np.zeros_like(early)
    fourier = np.maximum(reach, _WALL_UNFELT)
    for root in _roots(wall, _LAYER_MODES):
        norm = 0.5 - np.sin(2.0 * root) / (4.0 * root)
        cosine, sine = np.cos(root * share), np.sin(root * share)
        lay = (edge * (1.0 - cosine) + share * cosine - sine / root) / root
        late = late + lay * edge / root / norm / held * np.exp(-(root**2) * fourier)
    return np.asarray(np.where(reach > _WALL_UNFELT, late, early))


def _half_space(reach: Array, edge: Array, depth: Array) -> Array:
    """What is left of a layer in a half space, in cubed thicknesses."""
    span = 2.0 * np.sqrt(reach)
    far = depth / np.maximum(span, depth / _FAR)
    there = np.exp(-(far**2))
    inside = 1.0 - there * scaled_erfc(far)  # the error function
    zeroth = depth * inside - span / np.sqrt(np.pi) * (1.0 - there)
    first = (0.5 * depth**2 - 0.25 * span**2) * inside + 0.5 * depth * span / np.sqrt(np.pi) * there
    left = edge**2 * zeroth - 0.5 * edge * depth**2 - edge * first + depth**3 / 3.0
    return np.asarray(left)


def _roots(wall: Array, modes: int = _MODES) -> Array:
    """The first roots x of sin x + wall x cos x, one in each ((n - 1/2) pi, n pi], as rows."""
    return _roots_at(wall.tobytes(), wall.shape, modes)


@lru_cache(maxsize=4)
def _roots_at(walls: bytes, shape: tuple[int, ...], modes: int) -> Array:
    """The roots, kept: the same balls lose one liquid after the other."""
    wall = np.frombuffer(walls).reshape(shape)
    number = np.arange(1, modes + 1, dtype=np.float64).reshape(-1, *(1 for _ in wall.shape))
    sign = np.where(number % 2 > 0, -1.0, 1.0)
    high = np.broadcast_to(number * np.pi, (modes, *wall.shape))
    low = high - 0.5 * np.pi
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        above = sign * (np.sin(middle) + wall * middle * np.cos(middle)) > 0.0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return np.asarray(0.5 * (low + high))


def held_in_fat(partition: Values, *, fat: Values, water: Values) -> Array:
    """How many times more slowly a solute moves because fat holds part of it.

    Parameters
    ----------
    partition: its concentration in fat over that in water, at rest [1]
    fat: share of the material's volume that is fat [m3/m3]
    water: share of the material's volume that is water, above none [m3/m3]

    Returns
    -------
    Diffusivity without fat over that with it, 1 or more [1]

    Raises
    ------
    RangeError: a value that cannot be.

    Notes
    -----
    1 + K fat / water: fat and water in the material are taken to be at rest with each other
    everywhere, and what lies in the fat does not move.

    Reference: crank-1975, sec. 14.4.1 (diffusion with a linear, immobilising sorption).
    """
    ratio = within("partition", partition, low=0.0, high=1e7)
    fatty = within("fat", fat, low=0.0, high=np.inf)
    moist = within("water", water, low=1e-12, high=np.inf)
    return 1.0 + ratio * fatty / moist
