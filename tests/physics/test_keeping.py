"""Laws of keeping: drier never keeps shorter, warmer never longer; what cannot grow never ends."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.keeping import (
    NO_GROWTH_BELOW,
    Cardinal,
    SquareRootLaw,
    acidity_factor,
    activity_factor,
    cardinal_factor,
    growth_time,
    mould_free_time,
    square_root_rate,
)
from baitwright.terms.errors import RangeError

LAW = SquareRootLaw(slope=0.033 / 60.0, zero=264.97, low=271.15, high=298.15)
MOULD = Cardinal(268.75, 297.05, 305.65)

activities = st.floats(0.0, 1.0)
steps = st.floats(0.0, 0.2)


@given(st.floats(265.0, 310.0), activities, steps)
def test_drier_never_moulds_sooner(kelvin: float, activity: float, step: float) -> None:
    moist = mould_free_time(kelvin, activity, in_cold=MOULD)
    dry = mould_free_time(kelvin, max(0.0, activity - step), in_cold=MOULD)
    assert dry >= moist * (1.0 - 1e-12)


@given(st.floats(265.0, 309.0), st.floats(0.0, 20.0), activities)
def test_warmer_never_stays_free_of_mould_longer(
    kelvin: float, more: float, activity: float
) -> None:
    cold = mould_free_time(kelvin, activity, in_cold=MOULD)
    warm = mould_free_time(min(310.0, kelvin + more), activity, in_cold=MOULD)
    assert warm <= cold * (1.0 + 1e-12)


@given(st.floats(271.15, 298.15), st.floats(0.0, 10.0), st.floats(0.8, 1.0), steps)
def test_bacteria_take_longer_where_it_is_colder_and_drier(
    kelvin: float, more: float, activity: float, step: float
) -> None:
    def days(at: float, water: float) -> float:
        rate = square_root_rate(at, LAW) * activity_factor(water, 0.95)
        return float(growth_time(rate, 4.0))

    warm = min(298.15, kelvin + more)
    assert days(warm, activity) <= days(kelvin, activity)
    assert days(kelvin, activity - step) >= days(kelvin, activity)


@given(st.floats(0.0, 0.95))
def test_what_does_not_grow_never_ends(activity: float) -> None:
    rate = square_root_rate(293.15, LAW) * activity_factor(activity, 0.95)
    assert growth_time(rate, 4.0) == np.inf


@pytest.mark.parametrize("activity", [0.0, 0.3, NO_GROWTH_BELOW - 1e-9])
def test_no_mould_on_what_is_dry(activity: float) -> None:
    assert mould_free_time(293.15, activity, in_cold=MOULD) == np.inf
    assert np.isfinite(mould_free_time(293.15, NO_GROWTH_BELOW, in_cold=MOULD))


def test_no_mould_below_where_it_grows() -> None:
    assert mould_free_time(268.0, 0.95, in_cold=MOULD) == np.inf


def test_the_lines_join_without_a_step() -> None:
    for place in (294.15, 300.15):
        around = mould_free_time(place + np.array([-1e-7, 1e-7]), 0.85, in_cold=MOULD)
        assert around[0] == pytest.approx(around[1], rel=1e-6)


@given(st.floats(1e-8, 1e-3), st.floats(0.5, 6.0), st.floats(1.0, 2.0))
def test_growth_adds_up_in_powers_of_ten(rate: float, decades: float, by: float) -> None:
    assert growth_time(rate, decades * by) == pytest.approx(by * growth_time(rate, decades))
    assert np.exp(rate * growth_time(rate, decades)) == pytest.approx(10.0**decades)


@given(st.floats(268.0, 300.0), st.floats(1.0, 20.0), st.floats(0.5, 1.0))
def test_a_cardinal_factor_has_its_peak_and_its_ends(low: float, span: float, part: float) -> None:
    points = Cardinal(low, low + part * span, low + span)
    inside = np.linspace(low, low + span, 200)[1:-1]
    factors = cardinal_factor(inside, points)
    if part < 1.0:
        assert cardinal_factor(points.best, points) == pytest.approx(1.0)
    assert ((factors >= 0.0) & (factors <= 1.0 + 1e-9)).all()
    assert not cardinal_factor(
        np.array([low, low - 1.0, low + span, low + span + 1.0]), points
    ).any()


def test_a_factor_is_one_where_nothing_hinders() -> None:
    assert activity_factor(1.0, 0.95) == pytest.approx(1.0)
    assert activity_factor(0.95, 0.95) == 0.0
    assert acidity_factor(4.97, 4.97) == 0.0
    assert acidity_factor(7.5, 4.97) > 0.99


def test_draws_broadcast() -> None:
    activity = np.linspace(0.7, 0.99, 12).reshape(3, 4)
    kelvin = np.array([[278.15], [293.15], [303.15]])
    assert mould_free_time(kelvin, activity, in_cold=MOULD).shape == (3, 4)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: square_root_rate(270.0, LAW), "temperature"),
        (lambda: square_root_rate(np.nan, LAW), "temperature"),
        (lambda: activity_factor(1.2, 0.9), "water_activity"),
        (lambda: activity_factor(0.9, 1.0), "driest"),
        (lambda: acidity_factor(9.0, 5.0), "acidity"),
        (lambda: acidity_factor(6.0, 2.0), "sourest"),
        (lambda: cardinal_factor(np.nan, MOULD), "value"),
        (lambda: growth_time(-1e-6, 4.0), "rate"),
        (lambda: growth_time(1e-6, 13.0), "decades"),
        (lambda: mould_free_time(320.0, 0.9, in_cold=MOULD), "temperature"),
        (lambda: mould_free_time(293.0, 1.1, in_cold=MOULD), "water_activity"),
        (lambda: Cardinal(270.0, 275.0, 300.0), "cardinal.best"),
        (lambda: Cardinal(270.0, 310.0, 300.0), "cardinal.best"),
        (lambda: SquareRootLaw(0.5, 265.0, 270.0, 300.0), "law.slope"),
        (lambda: SquareRootLaw(5e-4, 200.0, 270.0, 300.0), "law.zero"),
        (lambda: SquareRootLaw(5e-4, 265.0, 300.0, 290.0), "law.high"),
    ],
)
def test_what_cannot_be_is_refused(call: object, field: str) -> None:
    with pytest.raises(RangeError) as caught:
        call()  # type: ignore[operator]
    assert caught.value.field == field
