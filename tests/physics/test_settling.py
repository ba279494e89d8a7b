"""Laws of settling: forces balance, heavier falls faster, and no sign slips through."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.settling import (
    REYNOLDS_LIMIT,
    clift_gauvin,
    haider_levenspiel,
    karamanev,
    rising_velocity,
    terminal_velocity,
)
from baitwright.terms.errors import RangeError

LAKE = {"water_density": 999.7, "water_viscosity": 1.3059e-3}
DIAMETER = st.floats(0.002, 0.03)
DIFFERENCE = st.floats(0.01, 300.0)
DRAG = st.sampled_from([haider_levenspiel, clift_gauvin])


@given(DIAMETER, DIFFERENCE, DRAG)
def test_drag_carries_the_weight(diameter: float, excess: float, drag) -> None:  # type: ignore[no-untyped-def]
    speed = terminal_velocity(diameter, excess, drag=drag, **LAKE)
    reynolds = 999.7 * speed * diameter / 1.3059e-3
    push = drag(reynolds) * np.pi / 4.0 * diameter**2 * 0.5 * 999.7 * speed**2
    weight = np.pi / 6.0 * diameter**3 * excess * 9.80665
    assert push == pytest.approx(weight, rel=1e-9)


@given(DIAMETER, DIFFERENCE, st.floats(1.01, 3.0))
def test_heavier_and_larger_go_faster(diameter: float, difference: float, by: float) -> None:
    start = terminal_velocity(diameter, difference, **LAKE)
    assert terminal_velocity(diameter, difference * by, **LAKE) > start
    assert terminal_velocity(diameter * by, difference, **LAKE) > start


@given(st.floats(1e-5, 4e-5), st.floats(1.0, 20.0))
def test_dust_follows_stokes(diameter: float, excess: float) -> None:
    stokes = 9.80665 * diameter**2 * excess / (18.0 * 1.3059e-3)
    assert terminal_velocity(diameter, excess, **LAKE) == pytest.approx(stokes, rel=0.01)
    rise = rising_velocity(diameter, excess, **LAKE)
    assert rise.slow == pytest.approx(stokes, rel=0.01)
    assert rise.fast == pytest.approx(stokes, rel=0.01)


@given(DIAMETER, DIFFERENCE)
def test_rise_is_a_range_below_the_settling_curve(diameter: float, missing: float) -> None:
    rise = rising_velocity(diameter, missing, **LAKE)
    assert 0.0 < rise.slow <= rise.fast
    assert rise.fast <= 1.02 * terminal_velocity(diameter, missing, **LAKE)


def test_what_hangs_does_not_move() -> None:
    assert terminal_velocity(0.017, 0.0, **LAKE) == 0.0
    assert rising_velocity(0.017, 0.0, **LAKE) == (0.0, 0.0)


@given(st.floats(1e-3, 1e5), st.floats(1.01, 1.9))
def test_drag_force_rises_with_speed(reynolds: float, by: float) -> None:
    for drag in (haider_levenspiel, clift_gauvin):
        faster = reynolds * by
        assert drag(faster) * faster**2 > drag(reynolds) * reynolds**2


def test_draws_broadcast() -> None:
    diameter, excess = np.array([0.014, 0.017]), np.array([[0.0], [20.0], [200.0]])
    block = np.asarray(terminal_velocity(diameter, excess, **LAKE))
    assert block.shape == (3, 2)
    assert block[1, 1] == pytest.approx(terminal_velocity(0.017, 20.0, **LAKE), rel=1e-12)
    assert np.shape(rising_velocity(diameter, excess, **LAKE).slow) == (3, 2)


@given(st.floats(-300.0, -1e-6))
def test_a_sign_the_other_way_is_refused_and_told(difference: float) -> None:
    """A library was seen to answer minus six metres a second here, without a word."""
    with pytest.raises(RangeError, match="rising_velocity"):
        terminal_velocity(0.017, difference, **LAKE)
    with pytest.raises(RangeError, match="terminal_velocity"):
        rising_velocity(0.017, difference, **LAKE)
    with pytest.raises(RangeError):
        terminal_velocity(0.017, np.array([5.0, difference]), **LAKE)


def test_limits() -> None:
    for wrong in (0.0, -1.0, np.nan, np.inf, 10.0 * REYNOLDS_LIMIT):
        for drag in (haider_levenspiel, clift_gauvin):
            with pytest.raises(RangeError):
                drag(wrong)
    with pytest.raises(RangeError):
        karamanev(np.nan)
    with pytest.raises(RangeError, match="Too fast"):
        terminal_velocity(0.1, 20_000.0, **LAKE)
    for field, wrong in (("water_density", 1.0), ("water_viscosity", 1.0)):
        with pytest.raises(RangeError):
            terminal_velocity(0.017, 5.0, **{**LAKE, field: wrong})
    with pytest.raises(RangeError):
        terminal_velocity(17.0, 5.0, **LAKE)
