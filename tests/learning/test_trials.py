"""Charts and trials: their own laws."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from baitwright.learning.capability import capability
from baitwright.learning.charts import IN_A_ROW, ewma, individuals
from baitwright.learning.factorial import effects, two_level
from baitwright.learning.gauge import gauge_study
from baitwright.learning.sequential import Standing, sequential_plan
from baitwright.learning.trials import latin_square, nights_for, power_of, swap_plan
from baitwright.terms.errors import InputError, RangeError

# --- steadiness -------------------------------------------------------------------------------


def test_one_far_off_stands_out() -> None:
    values = [10.0, 10.2, 9.9, 10.1, 10.0, 9.8, 10.1, 12.5]
    assert individuals(values, settled=7).beyond == (7,)
    assert individuals(values[:7]).beyond == ()


def test_a_long_run_stands_out() -> None:
    """Eight in a row above the centre, within limits: the eighth and those after it."""
    values = [9.0, 9.4] * 6 + [10.6, 10.9] * 5
    made = individuals(values)
    first = 12 + IN_A_ROW - 1
    assert [at for at in made.on_one_side if at > 12] == list(range(first, len(values)))


@given(st.lists(st.floats(-1e3, 1e3), min_size=1, max_size=30))
def test_a_smoothed_chart_opens_to_its_limits(values: list[float]) -> None:
    opening = ewma(values, centre=0.0, sd=1.0)
    endless = ewma(values, centre=0.0, sd=1.0, opening=False)
    assert opening.high == tuple(sorted(opening.high))
    assert opening.high[0] == pytest.approx(3.0 * 0.3)
    assert all(one <= last for one, last in zip(opening.high, endless.high, strict=True))
    assert opening.on_one_side == ()


def test_false_alarms_of_a_chart() -> None:
    """A value beyond three deviations comes about once in 370, limits being known: 200 too few."""
    dice = np.random.Generator(np.random.PCG64(3))
    made = individuals(dice.normal(50.0, 1.0, 40_000).tolist())
    share = len(made.beyond) / 40_000
    assert share == pytest.approx(0.0027, abs=3.0 * math.sqrt(0.0027 / 40_000))


def test_too_few_and_too_odd_values_are_refused() -> None:
    with pytest.raises(InputError):
        individuals([1.0])
    with pytest.raises(RangeError):
        ewma([1.0], centre=0.0, sd=1.0, memory=0.0)
    with pytest.raises(InputError):
        capability([16.0, 16.0], low=15.0, high=17.0)
    with pytest.raises(InputError):
        capability([16.0, 16.1], low=17.0, high=15.0)
    with pytest.raises(InputError):
        gauge_study(np.zeros((3, 1, 1)))


@given(st.integers(0, 10_000))
def test_a_gauge_study_of_one_hand_is_an_analysis_of_variance(seed: int) -> None:
    """The things' F is scipy's, and the sums of squares add up."""
    dice = np.random.Generator(np.random.PCG64(seed))
    table = dice.normal(0.0, 1.0, (6, 1, 3)) + dice.normal(0.0, 2.0, (6, 1, 1))
    made = gauge_study(table)
    assert made.hand == 0.0
    assert made.things.mean / made.rest.mean == pytest.approx(
        stats.f_oneway(*table[:, 0, :]).statistic, rel=1e-9
    )
    whole = float(((table - table.mean()) ** 2).sum())
    assert made.things.squares + made.rest.squares == pytest.approx(whole)


# --- at the water -----------------------------------------------------------------------------


@given(ratio=st.floats(1.1, 5.0), bites=st.floats(0.05, 3.0))
def test_more_bites_a_night_take_fewer_nights(ratio: float, bites: float) -> None:
    made = nights_for(ratio, bites_a_night=bites)
    assert nights_for(ratio, bites_a_night=2.0 * bites).nights == pytest.approx(made.nights / 2.0)
    assert nights_for(ratio + 0.1, bites_a_night=bites).nights < made.nights


@pytest.mark.parametrize(("ratio", "bites"), [(1.0, 1.0), (0.5, 1.0), (1.5, 0.0), (math.nan, 1.0)])
def test_no_trial_without_a_difference_to_look_for(ratio: float, bites: float) -> None:
    with pytest.raises(RangeError):
        nights_for(ratio, bites_a_night=bites)


def test_two_alike_are_seldom_told_apart() -> None:
    assert 0.02 < power_of(60.0, 60.0) <= 0.05


@given(seed=st.integers(0, 10_000), pairs=st.integers(1, 20))
def test_a_swap_plan_is_fair(seed: int, pairs: int) -> None:
    """In every two nights each bait is once on either side."""
    plan = swap_plan(("A", "B"), nights=2 * pairs, seed=seed)
    for one, other in zip(plan[::2], plan[1::2], strict=True):
        assert {one, other} == {("A", "B"), ("B", "A")}
    assert plan == swap_plan(("A", "B"), nights=2 * pairs, seed=seed)


def test_swap_plans_differ_by_seed() -> None:
    assert len({swap_plan(("A", "B"), nights=10, seed=seed) for seed in range(20)}) > 5


@given(seed=st.integers(0, 10_000), count=st.integers(2, 8))
def test_a_square_is_latin(seed: int, count: int) -> None:
    baits = "ABCDEFGH"[:count]
    square = latin_square(tuple(baits), seed=seed)
    for line in (*square, *zip(*square, strict=True)):
        assert sorted(line) == sorted(baits)


@pytest.mark.parametrize("nights", [0, 3, 402])
def test_an_unfair_plan_is_refused(nights: int) -> None:
    with pytest.raises(InputError):
        swap_plan(("A", "B"), nights=nights)
    with pytest.raises(InputError):
        latin_square(("A", "B", "A"))


def test_a_rule_stops_at_its_bounds() -> None:
    plan = sequential_plan(1.5)
    assert plan.standing([(16, 0)])[0] is Standing.FIRST
    assert plan.standing([(15, 0), (0, 0)])[0] is Standing.GO_ON
    assert plan.standing([(0, 3), (0, 4), (40, 0)])[:2] == (Standing.NO_SUCH, 2)


def test_a_rule_errs_as_seldom_as_it_says() -> None:
    """4,000 trials bite by bite, fixed seed: wrong and missed at most as told, length as told."""
    plan, dice = sequential_plan(2.0), np.random.Generator(np.random.PCG64(11))
    for ratio, ending, told in ((1.0, Standing.FIRST, 0.05), (2.0, Standing.NO_SUCH, 0.20)):
        first = dice.random((4000, 400)) < ratio / (1.0 + ratio)
        sums = np.cumsum(np.where(first, plan.first, plan.second), axis=1)
        out = (sums >= plan.upper) | (sums <= plan.lower)
        assert out.any(axis=1).all()
        at = out.argmax(axis=1)
        ends = sums[np.arange(4000), at] >= plan.upper
        share = np.mean(ends if ending is Standing.FIRST else ~ends)
        assert share <= told + 2.0 * math.sqrt(told * (1.0 - told) / 4000)
        assert np.mean(at + 1) == pytest.approx(plan.bites_expected(ratio), rel=0.15)


# --- recipes ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("count", "half"), [(2, False), (3, True), (4, True), (5, False)])
def test_columns_of_a_design_are_even_and_square(count: int, half: bool) -> None:
    """Each factor is as often high as low, and no two go together."""
    design = two_level(tuple("abcde"[:count]), half=half)
    table = np.array(design.levels)
    assert (table.T @ table == len(table) * np.eye(count)).all()
    assert (table.sum(axis=0) == 0).all()
    assert sorted(design.order) == list(range(len(table)))
    assert len(Counter(design.levels)) == len(table)


@given(st.lists(st.floats(-5.0, 5.0), min_size=4, max_size=4))
def test_effects_are_twice_a_regressions(slopes: list[float]) -> None:
    design = two_level(("a", "b"))
    columns = np.column_stack(
        [np.ones(4), design.column(("a",)), design.column(("b",)), design.column(("a", "b"))]
    )
    made = effects(design, [[one] for one in columns @ np.array(slopes)])
    found = [one.value for one in made]
    assert found == pytest.approx([2.0 * one for one in slopes[1:]], abs=1e-9)
    assert all(one.within is None for one in made)


def test_repeats_tell_what_is_chance() -> None:
    """Two readings of each of four runs, 0.2 apart: s = 0.1414, error 0.1, t of 4 is 2.776."""
    made = effects(two_level(("a", "b")), [[1.0, 1.2], [2.0, 2.2], [1.0, 1.2], [2.0, 2.2]])
    assert made[0].value == pytest.approx(1.0)
    assert made[0].within == pytest.approx(0.1 * 2.7764, abs=1e-4)


def test_a_design_refuses_what_it_cannot_do() -> None:
    for names, half in ((("a",), False), (("a", "b"), True), (("a", "a"), False)):
        with pytest.raises(InputError):
            two_level(names, half=half)
    with pytest.raises(InputError):
        effects(two_level(("a", "b")), [[1.0]])
