"""Equal balls side by side: the smallest ball that holds a few of them."""

from __future__ import annotations

import math

from baitwright.terms.errors import RangeError

MOST_BALLS = 6

_ROUND = (
    1.0,
    2.0,
    1.0 + 2.0 / math.sqrt(3.0),
    1.0 + math.sqrt(1.5),
    1.0 + math.sqrt(2.0),
    1.0 + math.sqrt(2.0),
)


def cluster_diameter(count: int, diameter: float) -> float:
    """Diameter of the smallest ball that holds equal balls which touch.

    Parameters
    ----------
    count: how many, 1 to 6 [1]
    diameter: of one [m]

    Returns
    -------
    The diameter round all of them [m]

    Raises
    ------
    RangeError: a count outside these limits.

    Notes
    -----
    The middles lie at the corners of a segment, triangle, tetrahedron or octahedron of edge d, so
    that D = d + twice its circumradius; five take up as much as six.

    Reference: pfoertner-2008.
    """
    if not 1 <= count <= MOST_BALLS:
        raise RangeError("count", count, low=1, high=MOST_BALLS)
    return _ROUND[count - 1] * diameter
