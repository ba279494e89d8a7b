"""A few equal balls in the smallest ball that holds them, against the table of the densest known.

Read in an excerpt of the table: the largest radius of 1 to 6 spheres in a sphere of radius 1, cut
off after four digits.
"""

from __future__ import annotations

import pytest

from baitwright.physics.packing import MOST_BALLS, cluster_diameter
from baitwright.terms.errors import RangeError

# pfoertner-2008
LARGEST = {1: 1.0, 2: 0.5, 3: 0.4641, 4: 0.4494, 5: 0.4142, 6: 0.4142}


@pytest.mark.parametrize(("count", "radius"), LARGEST.items())
def test_balls_that_touch_fill_the_smallest_ball(count: int, radius: float) -> None:
    assert 0.0 <= 1.0 / cluster_diameter(count, 1.0) - radius < 1e-4


def test_it_scales() -> None:
    assert cluster_diameter(4, 0.005) == pytest.approx(0.005 * cluster_diameter(4, 1.0))


@pytest.mark.parametrize("count", [0, MOST_BALLS + 1])
def test_more_than_the_table_has_are_refused(count: int) -> None:
    with pytest.raises(RangeError, match="count"):
        cluster_diameter(count, 0.005)
