"""Laws of floating: Archimedes, shells and cores, and that ideal shrinkage changes no lift."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from baitwright.physics.buoyancy import (
    cored_mass,
    flooding,
    lift,
    lift_force,
    lift_gained,
    neutral_core_diameter,
    neutral_shell_density,
    shell_volume,
    sphere_diameter,
    sphere_volume,
    submerged_mass,
    void_ratio,
    volume_after_loss,
)
from baitwright.terms.errors import InputError, RangeError

DIAMETER = st.floats(0.008, 0.03)
SHARE = st.floats(0.0, 0.95)  # of the diameter
SHELL = st.floats(1010.0, 1400.0)
CORE = st.floats(100.0, 400.0)
WATER = st.floats(990.0, 1030.0)


def lift_of_sphere(
    diameter: float, core: float, *, shell_density: float, core_density: float, water: float
) -> float:
    mass = cored_mass(diameter, core, shell_density=shell_density, core_density=core_density)
    return float(lift(sphere_volume(diameter), mass, water_density=water))


@given(DIAMETER, SHARE, CORE, WATER)
def test_neutral_shell_makes_a_sphere_hang(
    diameter: float, share: float, core_density: float, water: float
) -> None:
    core = share * diameter
    shell = neutral_shell_density(diameter, core, core_density=core_density, water_density=water)
    left = lift_of_sphere(
        diameter, core, shell_density=float(shell), core_density=core_density, water=water
    )
    assert abs(left) < 1e-12 * water * sphere_volume(diameter) + 1e-18


@given(DIAMETER, SHELL, CORE, WATER, st.floats(-1e-4, 1e-3))
def test_neutral_core_carries_just_the_weight(
    diameter: float, shell: float, core_density: float, water: float, carried: float
) -> None:
    core = float(
        neutral_core_diameter(
            diameter,
            shell_density=shell,
            core_density=core_density,
            water_density=water,
            carried=carried,
        )
    )
    assume(np.isfinite(core))
    left = lift_of_sphere(
        diameter, core, shell_density=shell, core_density=core_density, water=water
    )
    assert left == pytest.approx(carried, abs=1e-14)


@given(DIAMETER, SHELL, CORE, WATER)
def test_no_core_does_what_no_core_can(
    diameter: float, shell: float, core_density: float, water: float
) -> None:
    best = sphere_volume(diameter) * (water - core_density)
    too_much = {"shell_density": shell, "core_density": core_density, "water_density": water}
    assert np.isnan(neutral_core_diameter(diameter, carried=1.01 * best, **too_much))
    assert np.isnan(neutral_core_diameter(diameter, carried=-1.0, **too_much))
    if shell > water:
        assert neutral_core_diameter(diameter, carried=0.99 * best, **too_much) < diameter


@given(DIAMETER, SHARE, SHELL, CORE, WATER)
def test_lift_rises_with_core_and_water_and_falls_with_shell(
    diameter: float, share: float, shell: float, core_density: float, water: float
) -> None:
    common = {"shell_density": shell, "core_density": core_density, "water": water}
    core = share * diameter
    start = lift_of_sphere(diameter, core, **common)
    assert lift_of_sphere(diameter, min(core + 1e-4, diameter), **common) > start
    assert lift_of_sphere(diameter, core, **{**common, "shell_density": shell + 5.0}) < start
    assert lift_of_sphere(diameter, core, **{**common, "core_density": core_density + 5.0}) <= start
    assert lift_of_sphere(diameter, core, **{**common, "water": water + 5.0}) > start


@given(
    st.floats(1e-6, 5e-6), st.floats(1e-3, 5e-3), WATER, st.floats(-1e-3, 8e-4), st.floats(0.0, 1.0)
)
def test_only_water_whose_place_air_takes_adds_lift(
    volume: float, mass: float, water: float, lost: float, shrinkage: float
) -> None:
    """Under ideal shrinkage lift stays: volume and mass fall by the same water."""
    before = lift(volume, mass, water_density=water)

    def after(share: float) -> float:
        shrunk = volume_after_loss(volume, lost, shrinkage=share, water_density=water)
        return float(lift(shrunk, mass - lost, water_density=water))

    assert after(1.0) == pytest.approx(before, abs=1e-12 * mass)
    gain = lift_gained(lost, shrinkage=shrinkage)
    assert after(shrinkage) - before == pytest.approx(gain, abs=1e-12 * mass)
    assert lift_gained(lost, shrinkage=1.0) == 0.0


@given(DIAMETER, SHARE)
def test_shell_and_core_fill_the_sphere(diameter: float, share: float) -> None:
    core = share * diameter
    whole = shell_volume(diameter, core) + sphere_volume(core)
    assert whole == pytest.approx(sphere_volume(diameter), rel=1e-12)
    assert sphere_diameter(sphere_volume(diameter)) == pytest.approx(diameter, rel=1e-12)


@given(st.floats(1e-5, 0.05), st.floats(1001.0, 20_000.0), WATER)
def test_what_is_left_under_water_is_the_negative_lift(
    mass: float, density: float, water: float
) -> None:
    down = submerged_mass(mass, density, water_density=water)
    assert down == pytest.approx(-lift(mass / density, mass, water_density=water), abs=1e-15)
    assert submerged_mass(mass, water, water_density=water) == pytest.approx(0.0, abs=1e-18)


@given(st.floats(0.0, 1e5), st.floats(1.0, 1e5))
def test_flooding_ends_with_all_voids_full(time: float, more: float) -> None:
    common = {"time_constant": 3600.0, "water_density": 1000.0}
    early, late = flooding(1e-7, time, **common), flooding(1e-7, time + more, **common)
    assert 0.0 <= early <= late <= 1e-4
    assert flooding(1e-7, np.inf, **common) == pytest.approx(1e-4, rel=1e-12)
    assert flooding(1e-7, 3600.0, **common) == pytest.approx(1e-4 * (1.0 - np.exp(-1.0)))


@given(st.floats(0.0, 90.0), st.floats(0.01, 10.0))
def test_deep_air_is_small(depth: float, more: float) -> None:
    assert void_ratio(0.0, water_density=1000.0) == 1.0
    assert void_ratio(depth + more, water_density=1000.0) < void_ratio(depth, water_density=1000.0)


def test_lift_becomes_force() -> None:
    assert lift_force(np.array([1.0, -0.5])) == pytest.approx([9.80665, -4.903325])


def test_draws_broadcast() -> None:
    diameter, core = np.array([0.016, 0.017]), np.array([[0.009], [0.010], [0.011]])
    mass = cored_mass(diameter, core, shell_density=1170.0, core_density=200.0)
    assert np.shape(lift(sphere_volume(diameter), mass, water_density=999.7)) == (3, 2)
    needed = neutral_core_diameter(
        diameter,
        shell_density=np.array([[900.0], [1200.0]]),
        core_density=200.0,
        water_density=999.7,
    )
    assert np.isnan(needed).tolist() == [[True, True], [False, False]]


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(RangeError, match=r"core\.diameter"):
        shell_volume(0.010, np.array([0.009, 0.012]))
    with pytest.raises(RangeError, match=r"core\.diameter"):
        shell_volume(0.010, np.nan)
    with pytest.raises(InputError, match="smaller than the sphere"):
        neutral_shell_density(0.01, 0.01, core_density=200.0, water_density=1000.0)
    with pytest.raises(InputError, match="denser than its core"):
        neutral_core_diameter(0.01, shell_density=200.0, core_density=200.0, water_density=1000.0)
    with pytest.raises(RangeError, match=r"body\.volume"):
        volume_after_loss(1e-6, 2e-3, shrinkage=1.0, water_density=1000.0)


@pytest.mark.parametrize(
    "call",
    [
        sphere_volume,
        sphere_diameter,
        lambda bad: lift(bad, 1e-3, water_density=1000.0),
        lambda bad: lift(1e-6, bad, water_density=1000.0),
        lambda bad: lift(1e-6, 1e-3, water_density=bad),
        lambda bad: cored_mass(0.02, 0.01, shell_density=bad, core_density=200.0),
        lambda bad: submerged_mass(1e-3, bad, water_density=1000.0),
        lambda bad: volume_after_loss(1e-6, 0.0, shrinkage=bad, water_density=1000.0),
        lambda bad: lift_gained(1e-4, shrinkage=bad),
        lambda bad: flooding(bad, 1.0, time_constant=60.0, water_density=1000.0),
        lambda bad: flooding(1e-6, bad, time_constant=60.0, water_density=1000.0),
        lambda bad: flooding(1e-6, 1.0, time_constant=bad, water_density=1000.0),
        lambda bad: void_ratio(bad, water_density=1000.0),
    ],
)
def test_limits(call) -> None:  # type: ignore[no-untyped-def]
    for wrong in (-1.0, np.nan, -np.inf):
        with pytest.raises(RangeError):
            call(wrong)


def test_no_core_and_nothing_but_core_are_still_cores() -> None:
    """A shell as dense as the water needs none; a core as dense as it leaves no room for a shell.

    Densities a power of two apart, so that the sums are exact.
    """
    none = neutral_core_diameter(0.015, shell_density=1000.0, core_density=200.0, water_density=1e3)
    whole = neutral_core_diameter(
        0.015, shell_density=2000.0, core_density=976.0, water_density=976.0
    )
    assert none == 0.0
    assert whole == pytest.approx(0.015, rel=1e-12)
