"""Baits compared: what intervals hold, what cancels, and how baits are drawn together."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from baitwright.learning.pairs import Pair, Split, dispersion_within, rate_ratio
from baitwright.learning.pooling import Apart, SideBySide, are_joined, pooled
from baitwright.learning.rate_tests import e_test
from baitwright.learning.rates import (
    Fished,
    dispersion_of,
    highest_of_a_blank,
    rate_after,
    together,
)
from baitwright.terms.errors import InputError

HOURS = st.floats(1.0, 48.0)
NIGHTS = st.lists(
    st.builds(
        Pair,
        st.builds(Fished, st.integers(0, 6), HOURS),
        st.builds(Fished, st.integers(0, 6), HOURS),
    ),
    min_size=1,
    max_size=6,
)
TWELVE = 12.0


def both(first: int, second: int, hours: float = TWELVE) -> Pair:
    return Pair(Fished(first, hours), Fished(second, hours))


# --- pairs ------------------------------------------------------------------------------------


@given(first=st.integers(0, 30), second=st.integers(0, 30), odds=st.floats(0.2, 5.0))
def test_one_night_is_clopper_and_pearsons(first: int, second: int, odds: float) -> None:
    """The interval of the share, by scipy, turned into one of the ratio."""
    total = first + second
    made = Split((Pair(Fished(first, TWELVE * odds), Fished(second, TWELVE)),)).interval(0.95)
    if not total:
        assert (made.low, made.high) == (0.0, math.inf)
        return
    share = stats.binomtest(first, total).proportion_ci(0.95, method="exact")
    low = share.low / (1.0 - share.low) / odds
    high = share.high / (1.0 - share.high) / odds if share.high < 1.0 else math.inf
    assert (made.low, made.high) == pytest.approx((low, high), rel=1e-6)


@pytest.mark.parametrize("ratio", [0.5, 1.0, 1.5, 3.0])
@pytest.mark.parametrize("total", [3, 12, 25])
def test_exact_intervals_hold_what_they_say(total: int, ratio: float) -> None:
    """Summed over every split: exact ones hold 95 % at least, mid ones about that."""
    share = ratio / (1.0 + ratio)
    held = {False: 0.0, True: 0.0}
    for first in range(total + 1):
        split = Split((both(first, total - first),))
        for mid in held:
            made = split.interval(0.95, mid=mid)
            if made.low <= ratio <= made.high:
                held[mid] += stats.binom.pmf(first, total, share)
    assert held[False] >= 0.95
    assert 0.90 <= held[True] <= held[False]


@given(nights=NIGHTS, fish=st.integers(1, 5))
def test_what_both_rods_share_cancels(nights: list[Pair], fish: int) -> None:
    """A night out for longer, both rods alike, says the same of the ratio."""
    longer = [
        Pair(
            Fished(one.first.bites, one.first.rod_hours * fish),
            Fished(one.second.bites, one.second.rod_hours * fish),
        )
        for one in nights
    ]
    made, same = Split(nights).interval(0.8), Split(longer).interval(0.8)
    assert (made.low, made.high) == pytest.approx((same.low, same.high), rel=1e-6)


@given(nights=NIGHTS)
def test_the_other_way_round_is_one_over(nights: list[Pair]) -> None:
    made = Split(nights)
    turned = Split([Pair(one.second, one.first) for one in nights])
    for mid in (False, True):
        there, back = made.interval(0.95, mid=mid), turned.interval(0.95, mid=mid)
        low = 1.0 / back.high if back.high else math.inf
        high = 1.0 / back.low if back.low else math.inf
        assert (there.low, there.high) == pytest.approx((low, high), rel=1e-6)


@given(nights=NIGHTS)
def test_mid_limits_lie_within_exact_ones(nights: list[Pair]) -> None:
    made = rate_ratio(nights)
    for exact, mid in zip(made.exact, made.mid, strict=True):
        assert exact.low <= mid.low * (1.0 + 1e-9)
        assert mid.high <= exact.high * (1.0 + 1e-9)


def test_nights_that_swing_widen_the_interval() -> None:
    """All on one rod, then all on the other: more than the split of a bite can do."""
    nights = [both(6, 0), both(0, 6)] * 4
    made = rate_ratio(nights)
    assert made.dispersion.ratio == pytest.approx(6.0 * 8 / 7)
    assert made.widened.low < made.mid[-1].low
    assert made.widened.high > made.mid[-1].high


def test_single_bites_tell_no_scatter() -> None:
    nights = [both(1, 0), both(0, 1)] * 10
    assert not dispersion_within(nights, 1.0).is_told
    assert rate_ratio(nights).widened == rate_ratio(nights).mid[-1]


@pytest.mark.parametrize(
    ("first", "second", "hours"), [(1, 1, 6), (0, 7, 7), (5, 2, 20), (3, 9, 12)]
)
def test_the_e_test_keeps_what_is_exactly_as_far_off(first: int, second: int, hours: int) -> None:
    """Summed in fractions: scipy leaves out splits that rounding takes just below the one seen."""

    def off(x1: int, x2: int) -> Fraction:
        difference = Fraction(x1, 12) - Fraction(x2, hours)
        return (
            difference**2 / (Fraction(x1, 144) + Fraction(x2, hours**2)) if x1 + x2 else difference
        )

    rate = (first + second) / (TWELVE + hours)
    one, other = stats.poisson(TWELVE * rate), stats.poisson(hours * rate)
    summed = sum(
        one.pmf(x1) * other.pmf(x2)
        for x1 in range(32)
        for x2 in range(32)
        if off(x1, x2) >= off(first, second)
    )
    assert e_test(Fished(first, TWELVE), Fished(second, hours)) == pytest.approx(summed, abs=1e-9)


# --- rates ------------------------------------------------------------------------------------


@given(bites=st.integers(0, 80), hours=st.floats(1.0, 2000.0))
def test_a_rates_band_is_scipys(bites: int, hours: float) -> None:
    band = rate_after(Fished(bites, hours)).band()
    low, high = stats.gamma.ppf((0.025, 0.975), bites + 0.5, scale=24.0 / hours)
    assert (band.low95, band.high95) == pytest.approx((low, high), rel=1e-7)


@pytest.mark.parametrize(("hours", "one_in"), [(24.0, 8.0), (96.0, 32.0), (240.0, 80.0)])
def test_a_blank_still_tells(hours: float, one_in: float) -> None:
    """Three over the hours, to a hundredth."""
    assert 1.0 / highest_of_a_blank(hours) == pytest.approx(one_in, rel=0.01)


def test_nights_alike_scatter_less_than_chance() -> None:
    assert dispersion_of([[Fished(2, 12.0)] * 8]).ratio == 0.0
    assert dispersion_of([[Fished(0, 12.0)] * 8]).degrees == 0


def test_feast_and_famine_scatter_more() -> None:
    made = dispersion_of([[Fished(0, 12.0), Fished(6, 12.0)] * 6])
    assert made.ratio == pytest.approx(3.0 * 12 / 11)
    assert made.alpha == pytest.approx((9.0 - 3.0) / 9.0)
    assert made.chance < 0.001
    assert made.widens == made.ratio


@pytest.mark.parametrize(("bites", "hours"), [(-1, 12.0), (1, 0.0), (1, math.inf), (1, math.nan)])
def test_what_cannot_be_fished_is_refused(bites: int, hours: float) -> None:
    with pytest.raises(InputError):
        Fished(bites, hours)


# --- several ----------------------------------------------------------------------------------

SEASON = [
    {0: Fished(3, 12.0), 1: Fished(1, 12.0)},
    {1: Fished(0, 12.0), 2: Fished(0, 12.0)},
    {0: Fished(4, 12.0), 2: Fished(0, 12.0)},
    {1: Fished(2, 12.0), 2: Fished(1, 12.0)},
] * 3


def test_each_is_drawn_towards_the_others() -> None:
    """Less far from the middle than its own nights look, in the same order; a blank too."""
    own = [together([night[at] for night in SEASON if at in night]) for at in range(3)]
    raw = [math.log(one.bites / one.rod_hours) for one in own]
    made = pooled(SideBySide.of(SEASON, count=3)).middles
    assert made[0] > made[1] > made[2]
    assert made[0] - made[2] < raw[0] - raw[2]


def test_a_good_night_of_all_says_nothing_of_one() -> None:
    """Ten times the fish for both, and the likelihood's slopes at no difference are nothing."""
    night = [{0: Fished(10, 12.0), 1: Fished(10, 12.0)}, {0: Fished(1, 12.0), 1: Fished(1, 12.0)}]
    _, slopes, _ = SideBySide.of(night, count=2).at(np.zeros(2))
    assert slopes == pytest.approx([0.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("of", ["nights", "totals"])
def test_slopes_and_curvature_are_those_of_the_likelihood(of: str) -> None:
    totals = [together([night[at] for night in SEASON if at in night]) for at in range(3)]
    made = SideBySide.of(SEASON, count=3, dispersion=1.4) if of == "nights" else Apart.of(totals)
    place, step = np.array([0.3, -0.2, 0.1]), 1e-5
    _, slopes, curved = made.at(place)
    for at in range(3):
        off = step * np.eye(3)[at]
        above, below = made.at(place + off), made.at(place - off)
        assert slopes[at] == pytest.approx((above[0] - below[0]) / (2 * step), rel=1e-5, abs=1e-6)
        assert -curved[at] == pytest.approx((above[1] - below[1]) / (2 * step), rel=1e-5, abs=1e-6)


def test_a_band_of_one_bait_is_the_mixtures() -> None:
    made = pooled(SideBySide.of(SEASON, count=3))
    band = made.ratio_band(0, name="first")
    for share, value in ((0.025, band.low95), (0.5, band.median), (0.975, band.high95)):
        below = made.weights @ stats.norm.cdf(math.log(value), made.means[:, 0], made.errors[:, 0])
        assert below == pytest.approx(share, abs=1e-9)


def test_joined_by_way_of_a_third() -> None:
    chain = [frozenset({0, 1}), frozenset({1, 2})]
    assert are_joined(chain, 3)
    assert not are_joined(chain, 4)
    assert not are_joined([frozenset({0, 1}), frozenset({2, 3})], 4)


def test_intervals_hold_at_their_rate(sample_size: Callable[[int, int], int]) -> None:
    """Makers with four baits each, truths from the prior's own kind, fixed seed.

    80 % of bands of 80 % hold; two standard errors are allowed, of makers and not of baits, since
    the four of one maker hang together.
    """
    dice = np.random.Generator(np.random.PCG64(8))
    makers = sample_size(60, 1000)
    held = 0
    for _ in range(makers):
        truths = dice.normal(0.0, 0.5, 4)
        rates = 0.08 * np.exp(truths)
        nights = []
        for _ in range(30):
            out, fish = dice.permutation(4)[:2], dice.gamma(1.0, 1.0)
            nights.append(
                {int(at): Fished(int(dice.poisson(12.0 * fish * rates[at])), 12.0) for at in out}
            )
        made = pooled(SideBySide.of(nights, count=4))
        off = truths - truths.mean()
        below = made.weights @ stats.norm.cdf((off - made.means) / made.errors)
        held += int(((below >= 0.1) & (below <= 0.9)).sum())
    assert held / (4 * makers) == pytest.approx(0.80, abs=2.0 * math.sqrt(0.8 * 0.2 / (2 * makers)))
