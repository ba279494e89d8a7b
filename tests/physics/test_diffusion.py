"""Laws of diffusion: bounded, ordered, one curve for every size."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.diffusion import (
    HINDRANCE_RANGE,
    at_temperature,
    fraction_leached,
    hayduk_laudie,
    mackie_meares,
    moisture_diffusivity,
    peleg,
    solids_volume,
    wilke_chang,
)
from baitwright.terms.errors import RangeError

DIFFUSIVITY = st.floats(1e-13, 1e-8)
RADIUS = st.floats(1e-3, 2e-2)
TIME = st.floats(0.0, 1e6)
KELVIN = st.floats(274.0, 370.0)
VOLUME = st.floats(2e-5, 5e-4)


@given(DIFFUSIVITY, RADIUS, TIME, st.floats(1.0, 1e5))
def test_what_has_left_is_gone(diffusivity: float, radius: float, time: float, more: float) -> None:
    before = fraction_leached(diffusivity, radius, time)
    after = fraction_leached(diffusivity, radius, time + more)
    assert 0.0 <= before <= after <= 1.0


@given(DIFFUSIVITY, RADIUS, TIME, st.floats(1.1, 3.0))
def test_only_the_ratio_of_time_to_radius_squared_counts(
    diffusivity: float, radius: float, time: float, scale: float
) -> None:
    small = fraction_leached(diffusivity, radius, time)
    large = fraction_leached(diffusivity, radius * scale, time * scale**2)
    assert large == pytest.approx(small, rel=1e-9, abs=1e-12)


def test_both_forms_meet() -> None:
    around = fraction_leached(1e-10, 1e-2, 5e4 * np.array([1.0 - 1e-9, 1.0, 1.0 + 1e-9]))
    assert np.diff(around) == pytest.approx(0.0, abs=2e-9)
    assert fraction_leached(1e-10, 1e-2, 0.0) == 0.0
    assert fraction_leached(1e-10, 1e-2, 1e12) == pytest.approx(1.0)
    assert fraction_leached(0.0, 1e-2, 1e12) == 0.0


def test_leaching_meets_a_numerical_solution() -> None:
    """Explicit finite differences of u = r C on a fine grid: second order, 1e-4 here."""
    cells, fourier = 200, 0.1
    step = 1.0 / cells
    radius = np.linspace(0.0, 1.0, cells + 1)
    u = radius.copy()
    u[-1] = 0.0
    pace = 0.25 * step**2
    for _ in range(round(fourier / pace)):
        u[1:-1] += 0.25 * (u[2:] - 2.0 * u[1:-1] + u[:-2])
    left = 3.0 * step * float(np.sum(u[1:-1] * radius[1:-1]))  # the ends hold nothing
    assert 1.0 - left == pytest.approx(float(fraction_leached(1e-6, 1.0, fourier * 1e6)), abs=1e-4)


@given(VOLUME, KELVIN, st.floats(0.1, 3.0), st.floats(1.05, 2.0))
def test_warm_small_solutes_run_faster(
    volume: float, kelvin: float, step: float, larger: float
) -> None:
    for formula in (hayduk_laudie, wilke_chang):
        assert formula(volume, kelvin + step) > formula(volume, kelvin)
        assert formula(volume * larger, kelvin) < formula(volume, kelvin)
    assert wilke_chang(volume, kelvin, association=2.26) < wilke_chang(volume, kelvin)


@given(DIFFUSIVITY, KELVIN, KELVIN)
def test_going_to_a_temperature_and_back_changes_nothing(
    diffusivity: float, first: float, second: float
) -> None:
    there = at_temperature(diffusivity, second, known_at=first)
    assert at_temperature(there, first, known_at=second) == pytest.approx(diffusivity, rel=1e-12)
    assert (there > diffusivity) == (second > first) or first == second


@given(KELVIN, st.floats(0.1, 3.0), st.floats(1e-12, 1e-9), st.floats(1e3, 5e4))
def test_warm_solids_dry_faster(
    kelvin: float, step: float, reference: float, energy: float
) -> None:
    def pace(at: float) -> float:
        return float(moisture_diffusivity(at, at_20C=reference, activation=energy))

    assert pace(kelvin + step) > pace(kelvin)
    assert pace(293.15) == pytest.approx(reference, rel=1e-12)


@given(st.floats(0.0, 0.99), st.floats(0.001, 0.01))
def test_solids_are_in_the_way(water: float, more: float) -> None:
    wet, dry = solids_volume(min(water + more, 1.0)), solids_volume(water)
    assert 0.0 <= wet < dry <= 1.0
    assert 0.0 <= mackie_meares(dry) < mackie_meares(wet) <= 1.0


def test_hindrance_has_its_ends() -> None:
    assert mackie_meares(0.0) == 1.0
    assert mackie_meares(1.0) == 0.0
    assert solids_volume(0.0) == 1.0
    assert solids_volume(1.0) == 0.0
    low, high = HINDRANCE_RANGE
    assert low < mackie_meares(solids_volume(0.35)) < high


@given(st.floats(0.0, 1e5), st.floats(10.0, 1e4), st.floats(0.5, 5.0), st.floats(0.0, 1.0))
def test_soaking_starts_at_its_rate_and_ends_at_its_capacity(
    time: float, first: float, second: float, initial: float
) -> None:
    def moisture(at: float) -> float:
        return float(peleg(at, rate_constant=first, capacity_constant=second, initial=initial))

    assert moisture(0.0) == initial
    assert initial <= moisture(time) <= initial + 1.0 / second + 1e-12
    assert (moisture(1e-3) - initial) / 1e-3 == pytest.approx(1.0 / first, rel=1e-2)


@pytest.mark.parametrize(
    "call",
    [
        moisture_diffusivity,
        lambda bad: moisture_diffusivity(293.15, at_20C=bad),
        lambda bad: moisture_diffusivity(293.15, activation=bad),
        lambda bad: hayduk_laudie(bad, 293.15),
        lambda bad: hayduk_laudie(1e-4, bad),
        lambda bad: wilke_chang(bad, 293.15),
        lambda bad: wilke_chang(1e-4, 293.15, association=bad),
        lambda bad: at_temperature(1e-9, bad),
        lambda bad: at_temperature(1e-9, 293.15, known_at=bad),
        solids_volume,
        lambda bad: solids_volume(0.4, solids_density=bad),
        mackie_meares,
        lambda bad: fraction_leached(bad, 0.01, 1.0),
        lambda bad: fraction_leached(1e-10, bad, 1.0),
        lambda bad: fraction_leached(1e-10, 0.01, bad),
        lambda bad: peleg(bad, rate_constant=1.0, capacity_constant=1.0),
        lambda bad: peleg(1.0, rate_constant=bad, capacity_constant=1.0),
        lambda bad: peleg(1.0, rate_constant=1.0, capacity_constant=bad),
    ],
)
def test_limits(call) -> None:  # type: ignore[no-untyped-def]
    for wrong in (-1.0, 1e13, np.nan, np.inf):
        with pytest.raises(RangeError):
            call(wrong)
