"""Laws of set: between nothing and all, faster when hotter, found when first reached."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.protein_set import (
    RATE_CAP,
    albumen_rate,
    running_integral,
    set_extent,
    starch_extent,
    time_to_reach,
    whey_rate,
    yolk_rate,
)
from baitwright.terms.errors import InputError, RangeError

HISTORY = st.lists(st.floats(290.0, 372.0), min_size=2, max_size=30).map(np.array)


@given(HISTORY)
def test_what_has_set_stays_set(kelvin: np.ndarray) -> None:
    extent = set_extent(np.arange(kelvin.size, dtype=float), kelvin, albumen_rate)
    assert extent[0] == 0.0
    assert np.all(np.diff(extent) >= 0.0)
    assert np.all((extent >= 0.0) & (extent <= 1.0))


@given(HISTORY, st.floats(0.1, 20.0))
def test_a_hotter_history_sets_more(kelvin: np.ndarray, more: float) -> None:
    times = np.arange(kelvin.size, dtype=float)
    cool = set_extent(times, kelvin, yolk_rate)
    hot = set_extent(times, kelvin + more, yolk_rate)
    assert np.all(hot >= cool)


@given(st.floats(330.0, 362.0), st.floats(1.0, 500.0))
def test_one_temperature_gives_the_exponential(kelvin: float, seconds: float) -> None:
    times = np.linspace(0.0, seconds, 7)
    extent = set_extent(times, np.full(7, kelvin), albumen_rate)
    expected = 1.0 - np.exp(-np.asarray(albumen_rate(kelvin)) * times)
    assert extent == pytest.approx(expected, abs=1e-12)


@given(st.floats(260.0, 420.0), st.floats(0.01, 3.0))
def test_rates_rise_up_to_the_cap_and_stay_there(kelvin: float, step: float) -> None:
    for rate in (albumen_rate, yolk_rate, whey_rate):
        assert rate(kelvin + step) >= rate(kelvin)
        assert rate(max(kelvin, RATE_CAP)) == rate(RATE_CAP)
        assert rate(RATE_CAP - 1.0) < rate(RATE_CAP)


@given(st.floats(320.0, 362.0), st.floats(1.0, 3000.0), st.floats(1.001, 3.0))
def test_one_temperature_gives_the_power_law(kelvin: float, seconds: float, order: float) -> None:
    times = np.linspace(0.0, seconds, 7)
    extent = set_extent(times, np.full(7, kelvin), whey_rate, order=order)
    driven = float(np.asarray(whey_rate(kelvin))) * times
    expected = 1.0 - (1.0 + (order - 1.0) * driven) ** (1.0 / (1.0 - order))
    assert extent == pytest.approx(expected, abs=1e-12)


@given(HISTORY)
def test_an_order_next_to_one_is_the_first_order(kelvin: np.ndarray) -> None:
    times = np.arange(kelvin.size, dtype=float)
    first = set_extent(times, kelvin, whey_rate)
    assert set_extent(times, kelvin, whey_rate, order=1.0 + 1e-7) == pytest.approx(first, abs=1e-5)


@given(st.floats(300.0, RATE_CAP))
def test_yolk_sets_before_albumen(kelvin: float) -> None:
    assert yolk_rate(kelvin) > albumen_rate(kelvin)


@given(st.floats(0.05, 0.95))
def test_first_crossing_undoes_a_straight_line(target: float) -> None:
    times = np.linspace(0.0, 100.0, 11)
    assert time_to_reach(times, times / 100.0, target) == pytest.approx(100.0 * target)


def test_first_crossing_of_many_columns() -> None:
    times = np.array([0.0, 10.0, 20.0, 30.0])
    rising = np.array([0.0, 0.4, 0.8, 0.9])
    there_and_back = np.array([0.0, 0.6, 0.2, 1.0])
    already = np.array([0.7, 0.7, 0.7, 0.7])
    never = np.array([0.0, 0.1, 0.2, 0.3])
    series = np.column_stack([rising, there_and_back, already, never])
    got = time_to_reach(times, series, 0.5)
    assert got[:3] == pytest.approx([12.5, 10.0 * 0.5 / 0.6, 0.0])
    assert np.isnan(got[3])
    own = time_to_reach(times, series, np.array([0.4, 0.3, 0.7, 0.15]))
    assert own == pytest.approx([10.0, 5.0, 0.0, 15.0])


def test_columns_are_independent() -> None:
    times = np.arange(0.0, 60.0, 0.5)
    kelvin = np.linspace(300.0, 360.0, times.size)
    block = set_extent(times, np.column_stack([kelvin, kelvin - 10.0]), albumen_rate)
    assert block[:, 0] == pytest.approx(set_extent(times, kelvin, albumen_rate))
    assert block[:, 1] == pytest.approx(set_extent(times, kelvin - 10.0, albumen_rate))


@given(st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_the_integral_of_a_line_is_exact(level: float, slope: float) -> None:
    times = np.array([0.0, 0.5, 2.0, 7.0])
    expected = level * times + 0.5 * slope * times**2
    assert running_integral(times, level + slope * times) == pytest.approx(expected, abs=1e-12)


def test_halving_the_steps_quarters_the_error() -> None:
    def error(steps: int) -> float:
        times = np.linspace(0.0, 1.0, steps + 1)
        return abs(float(running_integral(times, np.exp(times))[-1]) - (np.e - 1.0))

    assert error(20) / error(40) == pytest.approx(4.0, rel=0.01)


def test_starch_is_half_swollen_in_the_middle() -> None:
    assert starch_extent(333.15) == pytest.approx(0.05)
    assert starch_extent(350.65) == pytest.approx(0.5)
    assert starch_extent(368.15) == pytest.approx(0.95)


@pytest.mark.parametrize(
    ("times", "values"),
    [
        ([0.0, 1.0, 1.0], [1.0, 2.0, 3.0]),
        ([0.0, 2.0, 1.0], [1.0, 2.0, 3.0]),
        ([0.0, np.nan, 2.0], [1.0, 2.0, 3.0]),
        ([0.0, 1.0], [1.0, 2.0, 3.0]),
        ([], []),
    ],
)
def test_histories_that_make_no_sense_are_refused(times: list[float], values: list[float]) -> None:
    with pytest.raises(InputError):
        running_integral(np.array(times), np.array(values))


def test_a_temperature_in_celsius_is_refused() -> None:
    for formula in (albumen_rate, yolk_rate, starch_extent):
        for wrong in (80.0, np.nan, np.inf):
            with pytest.raises(RangeError):
                formula(wrong)
