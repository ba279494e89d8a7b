"""Control charts, capability and gauge studies against published examples."""

from __future__ import annotations

import numpy as np
import pytest

from baitwright.learning.capability import capability_of
from baitwright.learning.charts import ewma, individuals
from baitwright.learning.gauge import Source, gauge_study, pooled_sd

pytestmark = pytest.mark.published

FLOW = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
SINGLE = (52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5)
SMOOTH = (50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33)
# Three repeats outermost here, then ten parts, then two operators, as its manual lists them.
GAUGE = (
    "23 22 22 22 22 25 23 22 23 22 20 22 22 22 24 25 27 28 23 24 23 24 24 22 22 22 24 23 22 24 "
    "20 20 25 24 22 24 21 20 21 22 21 22 21 21 24 27 25 27 23 22 25 23 23 22 22 23 25 21 24 23"
)


def test_single_values() -> None:
    """nist-handbook, section 6.3.2.2: mean 50.81, mean moving range 1.8778, limits to 1e-4."""
    made = individuals(FLOW)
    assert made.centre == pytest.approx(50.81, abs=1e-9)
    assert made.sd * 1.128 == pytest.approx(1.8778, abs=5e-5)
    assert (made.high[0], made.low[0]) == pytest.approx((55.8041, 45.8159), abs=5e-5)
    assert made.beyond == made.on_one_side == ()


def test_smoothed_values() -> None:
    """nist-handbook, section 6.3.2.4: centre 50, memory 0.3, deviation 2.0539; to two digits."""
    made = ewma(SINGLE, centre=50.0, sd=2.0539, opening=False)
    assert made.values == pytest.approx(SMOOTH, abs=0.006)
    assert (made.high[0], made.low[0]) == pytest.approx((52.5884, 47.4116), abs=5e-5)


def test_sixteen_millimetres_give_or_take_one() -> None:
    """Recomputed: mean 16.2 and deviation 0.35 of 16 +- 1 mm: 0.76, and 1.14 % outside."""
    made = capability_of(16.2, 0.35, count=20, limits=(15.0, 17.0))
    assert made.cpk == pytest.approx(0.76, abs=0.005)
    assert made.outside == pytest.approx(0.0114, abs=5e-5)


def test_ten_parts_three_hands_twice() -> None:
    """quality-tools: sums of squares, variances with the interaction pooled, shares, sizes."""
    table = np.array(GAUGE.split(), dtype=float).reshape(2, 10, 3).transpose(1, 2, 0)
    made = gauge_study(table)
    squares = [one.squares for one in (made.hands, made.things, made.both, made.rest)]
    assert squares == pytest.approx([20.633, 107.067, 22.033, 36.0], abs=5e-4)
    assert made.pooled
    variances = (made.repeat, made.hand, made.gauge, made.thing, made.total)
    assert variances == pytest.approx((1.2090, 0.4554, 1.6644, 1.7812, 3.4456), abs=5e-5)
    assert made.gauge / made.total == pytest.approx(0.483, abs=5e-4)
    assert made.share == pytest.approx(0.695, abs=5e-4)
    assert made.sizes_told_apart == 1


def test_a_pooled_repeatability() -> None:
    """nist-handbook, section 2.4.4: five probes of 60 degrees of freedom each, 0.1029."""
    squares = (0.48115, 0.69209, 0.48483, 1.21752, 0.30076)
    made = pooled_sd([Source(one, 60) for one in squares])
    assert made == pytest.approx(0.1029, abs=5e-5)
