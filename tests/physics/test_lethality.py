"""Laws of lethality: it adds up, it grows with heat up to its cap, and it never runs backward."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.lethality import (
    RESISTANCE_CAP,
    decimal_reduction_time,
    equivalent_time,
    log_reduction,
    spore_time,
)
from baitwright.terms.errors import RangeError

HISTORY = st.lists(st.floats(290.0, 372.0), min_size=2, max_size=30).map(np.array)


@given(HISTORY)
def test_decades_only_add_up(kelvin: np.ndarray) -> None:
    decades = log_reduction(np.arange(kelvin.size, dtype=float), kelvin)
    assert decades[0] == 0.0
    assert np.all(np.diff(decades) >= 0.0)


@given(st.floats(325.0, 343.0), st.floats(0.1, 50.0))
def test_one_decimal_time_is_one_decade(kelvin: float, decades: float) -> None:
    times = np.linspace(0.0, decades * float(decimal_reduction_time(kelvin)), 5)
    assert log_reduction(times, np.full(5, kelvin))[-1] == pytest.approx(decades, rel=1e-9)


@given(st.floats(260.0, 420.0), st.floats(0.01, 3.0))
def test_hotter_kills_no_slower_and_the_cap_holds(kelvin: float, step: float) -> None:
    assert decimal_reduction_time(kelvin + step) <= decimal_reduction_time(kelvin)
    assert decimal_reduction_time(max(kelvin, RESISTANCE_CAP)) == decimal_reduction_time(
        RESISTANCE_CAP
    )


@given(st.floats(330.0, 370.0), st.floats(1.0, 600.0), st.floats(4.0, 15.0))
def test_time_at_the_reference_counts_as_itself(kelvin: float, seconds: float, z: float) -> None:
    times = np.linspace(0.0, seconds, 4)
    same = equivalent_time(times, np.full(4, kelvin), reference=kelvin, z=z)
    tenfold = equivalent_time(times, np.full(4, kelvin), reference=kelvin - z, z=z)
    assert same == pytest.approx(times)
    assert tenfold == pytest.approx(10.0 * times)


@given(st.floats(330.0, 400.0), st.floats(0.1, 20.0), st.floats(1.0, 900.0))
def test_spores_feel_hotter_more(kelvin: float, more: float, seconds: float) -> None:
    times = np.linspace(0.0, seconds, 4)
    cool, hot = (spore_time(times, np.full(4, one))[-1] for one in (kelvin, kelvin + more))
    assert cool < hot
    assert spore_time(times, np.full(4, 363.15)) == pytest.approx(times)


def test_a_ramp_meets_its_integral() -> None:
    """F = (z / ln 10) / rate (10^(10/z) - 10^(-10/z)) for 60 to 80 C about 70 C."""
    times = np.linspace(0.0, 100.0, 1001)
    got = equivalent_time(times, 333.15 + 0.2 * times, reference=343.15, z=7.5)[-1]
    exact = 7.5 / np.log(10.0) / 0.2 * (10.0 ** (10.0 / 7.5) - 10.0 ** (-10.0 / 7.5))
    assert got == pytest.approx(exact, rel=1e-5)


def test_columns_are_independent() -> None:
    times = np.arange(0.0, 30.0, 0.5)
    kelvin = np.linspace(320.0, 350.0, times.size)
    block = log_reduction(times, np.column_stack([kelvin, kelvin - 5.0]))
    assert block[:, 1] == pytest.approx(log_reduction(times, kelvin - 5.0))


def test_limits() -> None:
    times, kelvin = np.array([0.0, 1.0]), np.array([340.0, 345.0])
    for wrong in (70.0, np.nan, np.inf):
        with pytest.raises(RangeError):
            decimal_reduction_time(wrong)
        with pytest.raises(RangeError):
            equivalent_time(times, kelvin, reference=wrong, z=7.5)
    with pytest.raises(RangeError, match="z"):
        equivalent_time(times, kelvin, reference=343.15, z=0.0)
