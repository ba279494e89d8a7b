"""Laws of leaching: nothing at first, all at last, and the two forms meet where they change."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.leaching import leached_share
from baitwright.physics.series import sphere_series, sphere_uptake
from baitwright.terms.errors import RangeError

OUTER = 8.5e-3
CORES = st.floats(0.0, 0.95).map(lambda share: share * OUTER)


@given(CORES, st.floats(1e-4, 3.0))
def test_it_is_the_exact_series(core: float, part: float) -> None:
    """Part is the diffused area in shell thicknesses squared; the forms change at a twelfth."""
    diffused = part * (OUTER - core) ** 2
    exact = 1.0 - float(sphere_series(OUTER, core, terms=600).mean(diffused))
    assert leached_share(diffused, outer_radius=OUTER, core_radius=core) == pytest.approx(
        exact, abs=2e-6
    )


@given(st.floats(0.0, 5.0))
def test_a_core_of_nothing_is_a_solid_ball(fourier: float) -> None:
    solid = leached_share(fourier * OUTER**2, outer_radius=OUTER)
    assert solid == pytest.approx(sphere_uptake(fourier), abs=1e-6)


@given(CORES, st.floats(0.0, 3.0), st.floats(1e-4, 1.0))
def test_more_time_leaches_more(core: float, part: float, more: float) -> None:
    square = (OUTER - core) ** 2
    before, after = (
        float(leached_share(one * square, outer_radius=OUTER, core_radius=core))
        for one in (part, part + more)
    )
    assert 0.0 <= before < after <= 1.0


def test_many_balls_at_once() -> None:
    diffused = np.array([[1e-8], [2e-6]])
    cores = np.array([[0.0, 4e-3, 8e-3]])
    got = leached_share(diffused, outer_radius=OUTER, core_radius=cores)
    assert got.shape == (2, 3)
    for (row, column), share in np.ndenumerate(got):
        one = leached_share(
            float(diffused[row, 0]), outer_radius=OUTER, core_radius=float(cores[0, column])
        )
        assert share == one


@pytest.mark.parametrize(
    ("diffused", "outer", "core"),
    [(-1e-9, OUTER, 0.0), (np.nan, OUTER, 0.0), (1e-8, 0.0, 0.0), (1e-8, OUTER, OUTER)],
)
def test_limits(diffused: float, outer: float, core: float) -> None:
    with pytest.raises(RangeError):
        leached_share(diffused, outer_radius=outer, core_radius=core)
