"""What a pack may lack, and what a sample of packs says; published values stand elsewhere."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.advice.net_quantity import check_packs, limits_for
from baitwright.materials.prepackages import prepackages
from baitwright.terms.errors import InputError


def test_ranges_meet_and_so_do_their_errors() -> None:
    rows = list(prepackages().values())
    for one, following in pairwise(rows):
        assert one.high == following.low
        ends = [row.mass or (row.share or 0.0) * one.high for row in (one, following)]
        assert ends[0] == pytest.approx(ends[1])


@given(st.floats(0.005, 25.0))
def test_limits_lie_below_what_is_stated_and_are_rounded_up(nominal: float) -> None:
    found = limits_for(nominal)
    assert found.exact <= found.error + 1e-12
    assert found.error - found.exact < 1e-4
    assert 0 < found.lowest < found.low < nominal


@given(st.lists(st.floats(0.08, 0.12), min_size=1, max_size=30))
def test_heavier_packs_never_fail_where_lighter_ones_passed(packs: list[float]) -> None:
    found, heavier = check_packs(0.1, packs), check_packs(0.1, [one + 0.001 for one in packs])
    assert heavier.mean > found.mean
    assert heavier.short <= found.short
    assert heavier.far_short <= found.far_short
    assert heavier.holds or not found.holds


@pytest.mark.parametrize("nominal", [0.0049, 25.1])
def test_beyond_the_table_is_refused(nominal: float) -> None:
    with pytest.raises(InputError, match="5 g to 25 kg"):
        limits_for(nominal)


@pytest.mark.parametrize("packs", [[], [0.0], [float("nan")]])
def test_packs_that_cannot_be_are_refused(packs: list[float]) -> None:
    with pytest.raises(InputError, match="weighed"):
        check_packs(0.1, packs)
