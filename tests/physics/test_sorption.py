"""Laws of sorption: inverses, order, an activity that never reaches 1."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.sorption import (
    GLYCEROL,
    JUDGED,
    PROPYLENE_GLYCOL,
    SALT,
    SOLUTION_FROM,
    SUCROSE,
    Gab,
    chung_pfost,
    equilibrium_moisture,
    gab,
    gab_inverse,
    henderson,
    humectant_factor,
    norrish,
    oswin,
    oswin_inverse,
    water_activity,
)
from baitwright.terms.errors import RangeError

SOLUTES = st.sampled_from([GLYCEROL, PROPYLENE_GLYCOL, SALT, SUCROSE])
PARAMETERS = st.builds(
    Gab,
    st.floats(0.02, 0.12),
    st.one_of(st.just(1.0), st.just(2.0), st.floats(0.3, 200.0)),
    st.floats(0.6, 0.97),
)
MOIST = st.builds(Gab, st.floats(0.03, 0.08), st.floats(3.0, 30.0), st.floats(0.90, 0.97))


@given(PARAMETERS, st.floats(1e-4, 1.0))
def test_gab_inverse_undoes_gab(parameters: Gab, activity: float) -> None:
    """At C = 1 too, where the usual quadratic divides by zero."""
    assert gab_inverse(gab(activity, parameters), parameters) == pytest.approx(activity, rel=1e-9)


@given(st.floats(1.0 - 1e-9, 1.0 + 1e-9))
def test_gab_inverse_passes_smoothly_through_one(surface: float) -> None:
    near, at = Gab(0.05, surface, 0.9), Gab(0.05, 1.0, 0.9)
    assert gab_inverse(0.2, near) == pytest.approx(gab_inverse(0.2, at), rel=1e-7)


@given(MOIST, st.floats(0.0, 3.0), st.floats(1e-3, 0.5))
def test_more_water_is_freer_water_and_never_quite_free(
    parameters: Gab, moisture: float, more: float
) -> None:
    less = water_activity(moisture, parameters)
    greater = water_activity(moisture + more, parameters)
    assert 0.0 <= less < greater < 1.0


@given(PARAMETERS, st.floats(0.0, 3.0), st.floats(1e-3, 0.5))
def test_a_powder_isotherm_too_lets_a_moist_solid_dry(
    parameters: Gab, moisture: float, more: float
) -> None:
    """An additive isotherm that passes 1 below a fresh solid's moisture would never dry it."""
    less = water_activity(moisture, parameters)
    assert 0.0 <= less <= water_activity(moisture + more, parameters) < 1.0


@given(MOIST, st.floats(0.0, 0.999))
def test_equilibrium_moisture_undoes_water_activity(parameters: Gab, activity: float) -> None:
    moisture = equilibrium_moisture(activity, parameters)
    if moisture <= 5.0:
        assert water_activity(moisture, parameters) == pytest.approx(activity, abs=1e-10)


@given(MOIST, st.floats(SOLUTION_FROM, 0.9999))
def test_so_it_does_where_dilution_rules(parameters: Gab, activity: float) -> None:
    moisture = equilibrium_moisture(activity, parameters)
    assert moisture >= gab(SOLUTION_FROM, parameters) * (1.0 - 1e-12)
    if moisture <= 5.0:
        assert water_activity(moisture, parameters) == pytest.approx(activity, abs=1e-10)


@given(MOIST)
def test_the_two_branches_meet_without_a_step_or_a_kink(parameters: Gab) -> None:
    joint = float(gab(SOLUTION_FROM, parameters))
    step = 1e-5 * joint
    below, at, above = (water_activity(joint + by, parameters) for by in (-step, 0.0, step))
    assert at == pytest.approx(SOLUTION_FROM, abs=1e-12)
    assert (above - at) / step == pytest.approx((at - below) / step, rel=2e-3)


def test_the_default_is_gab_where_baits_dry() -> None:
    dry = np.linspace(0.01, 0.56, 12)
    assert water_activity(dry) == pytest.approx(gab_inverse(dry), rel=1e-12)
    assert water_activity(0.0) == 0.0
    assert gab_inverse(1.0) > 1.0 > water_activity(1.0)


def test_parameters_broadcast() -> None:
    many = Gab(np.array([0.04, 0.045, 0.065]), 10.0, np.array([0.90, 0.95, 0.97]))
    moisture = np.array([[0.1], [0.6], [1.5]])
    values = water_activity(moisture, many)
    assert values.shape == (3, 3)
    assert values[1, 1] == pytest.approx(water_activity(0.6, JUDGED), rel=1e-12)
    assert np.all(values < 1.0)
    assert np.asarray(equilibrium_moisture(0.8, many)).shape == (3,)


@given(st.floats(0.01, 0.95), st.floats(0.05, 0.3), st.floats(0.1, 1.0))
def test_oswin_inverse_undoes_oswin(activity: float, scale: float, exponent: float) -> None:
    moisture = oswin(activity, scale=scale, exponent=exponent)
    assert oswin_inverse(moisture, scale=scale, exponent=exponent) == pytest.approx(activity)
    assert oswin(0.5, scale=scale, exponent=exponent) == pytest.approx(scale)


@given(st.floats(0.1, 0.94), st.floats(275.0, 330.0))
def test_grain_isotherms_undo_their_printed_form(activity: float, kelvin: float) -> None:
    celsius = kelvin - 273.15
    wheat = chung_pfost(activity, kelvin, a=610.34, b=0.15526, c=93.213)
    printed = np.exp(-610.34 / (celsius + 93.213) * np.exp(-0.15526 * 100.0 * wheat))
    assert printed == pytest.approx(activity)
    maize = henderson(activity, kelvin, k=8.6541e-5, n=1.8634, c=49.810)
    printed = 1.0 - np.exp(-8.6541e-5 * (celsius + 49.810) * (100.0 * maize) ** 1.8634)
    assert printed == pytest.approx(activity)


@given(st.floats(0.1, 0.9), st.floats(275.0, 325.0), st.floats(0.5, 5.0))
def test_warmer_grain_holds_less(activity: float, kelvin: float, step: float) -> None:
    wheat = {"a": 610.34, "b": 0.15526, "c": 93.213}
    maize = {"k": 8.6541e-5, "n": 1.8634, "c": 49.810}
    assert chung_pfost(activity, kelvin + step, **wheat) < chung_pfost(activity, kelvin, **wheat)
    assert henderson(activity, kelvin + step, **maize) < henderson(activity, kelvin, **maize)


@given(SOLUTES, st.floats(0.0, 2.0), st.floats(1e-3, 1.0))
def test_more_solute_binds_more_water_until_it_is_saturated(solute, ratio, more) -> None:  # type: ignore[no-untyped-def]
    weak, strong = norrish(ratio, solute), norrish(ratio + more, solute)
    assert 0.0 < strong <= weak <= 1.0
    if ratio + more < solute.solubility:
        assert strong < weak
    if ratio > solute.solubility:
        assert strong == weak


@given(st.lists(st.tuples(SOLUTES, st.floats(0.0, 1.0)), max_size=4))
def test_solutes_multiply(parts) -> None:  # type: ignore[no-untyped-def]
    assert humectant_factor([]) == 1.0
    expected = np.prod([norrish(ratio, solute) for solute, ratio in parts])
    assert humectant_factor(parts) == pytest.approx(expected, rel=1e-12)
    assert humectant_factor(parts) <= 1.0


@given(SOLUTES)
def test_a_trace_of_solute_follows_raoult(solute) -> None:  # type: ignore[no-untyped-def]
    ratio = 1e-6
    molality = solute.particles * ratio / solute.molar_mass
    assert 1.0 - norrish(ratio, solute) == pytest.approx(0.018015268 * molality, rel=1e-4)


@pytest.mark.parametrize(
    "call",
    [
        gab,
        equilibrium_moisture,
        water_activity,
        gab_inverse,
        lambda bad: oswin(bad, scale=0.1, exponent=0.4),
        lambda bad: oswin_inverse(bad, scale=0.1, exponent=0.4),
        lambda bad: chung_pfost(bad, 293.15, a=610.0, b=0.155, c=93.0),
        lambda bad: chung_pfost(0.5, bad, a=610.0, b=0.155, c=93.0),
        lambda bad: henderson(bad, 293.15, k=9e-5, n=1.9, c=50.0),
        lambda bad: henderson(0.5, bad, k=9e-5, n=1.9, c=50.0),
        lambda bad: norrish(bad, GLYCEROL),
        lambda bad: Gab(bad, 10.0, 0.95),
        lambda bad: Gab(0.045, bad, 0.95),
        lambda bad: Gab(0.045, 10.0, bad),
    ],
)
def test_limits(call) -> None:  # type: ignore[no-untyped-def]
    for wrong in (-0.1, 1e6, np.nan, np.inf):
        with pytest.raises(RangeError):
            call(wrong)
