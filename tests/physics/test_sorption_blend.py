"""Laws of a blend: additive while dry, a solution when moist, rising throughout and below 1."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from baitwright.physics.sorption import (
    GLYCEROL,
    PROPYLENE_GLYCOL,
    SALT,
    SUCROSE,
    Gab,
    Solute,
    chung_pfost,
    gab,
    henderson,
    norrish,
)
from baitwright.physics.sorption_blend import (
    MOST_ACTIVE,
    POWDERS_TO,
    Powder,
    blend,
    dilution,
    saturation,
)
from baitwright.terms.errors import InputError, RangeError

SOLUTES = st.sampled_from([GLYCEROL, PROPYLENE_GLYCOL, SALT, SUCROSE])


def wheat(activity: np.ndarray) -> np.ndarray:
    return np.asarray(chung_pfost(activity, 293.15, a=610.34, b=0.15526, c=93.213))


def maize(activity: np.ndarray) -> np.ndarray:
    return np.asarray(henderson(activity, 293.15, k=8.6541e-5, n=1.8634, c=49.810))


def protein(layer: float, surface: float, multilayer: float) -> Powder:
    constants = Gab(layer, surface, multilayer)
    return Powder(0.4, lambda activity: gab(activity, constants))


PROTEINS = st.builds(protein, st.floats(0.03, 0.09), st.floats(3.0, 40.0), st.floats(0.65, 0.95))
BLENDS = st.builds(
    lambda one, cereal, extra: blend(
        [one, Powder(cereal, wheat, 0.1), Powder(0.1, maize, 0.1)], extra
    ),
    PROTEINS,
    st.floats(0.0, 0.3),
    st.lists(st.tuples(st.floats(0.0, 0.05), SOLUTES), max_size=3),
)


@given(BLENDS, st.floats(0.0, 1.5), st.floats(1e-3, 1.0))
def test_more_water_is_never_less_active_and_never_free(
    made: object, moisture: float, more: float
) -> None:
    less, greater = made.water_activity(np.array([moisture, moisture + more]))  # type: ignore[attr-defined]
    assert 0.0 <= less <= greater < 1.0


@given(BLENDS)
def test_a_fresh_paste_and_a_soaked_one_are_within_its_reach(made) -> None:  # type: ignore[no-untyped-def]
    """A sum of powders' isotherms would end below either, and nothing would ever dry."""
    assert made.moistures[-1] > 5.0
    assert np.all(np.diff(made.moistures) > 0.0)
    assert np.all(np.diff(made.activities) > 0.0)


@given(PROTEINS, st.floats(0.0, 0.6), st.floats(0.1, POWDERS_TO))
def test_below_the_joint_powders_add_by_mass(one: Powder, cereal: float, activity: float) -> None:
    """What holds nothing, here a fifth and more, only dilutes."""
    made = blend([one, Powder(cereal, wheat, 0.1)])
    expected = 0.4 * one.isotherm(np.asarray(activity)) + cereal * wheat(np.asarray(activity))
    assert made.moisture(activity) == pytest.approx(float(expected), rel=1e-12)


@given(PROTEINS, st.floats(0.05, 0.6))
def test_the_two_branches_meet_without_a_step_or_a_kink(one: Powder, cereal: float) -> None:
    made = blend([one, Powder(cereal, wheat, 0.1)])
    step = 1e-5
    below, at, above = (made.moisture(POWDERS_TO + by) for by in (-step, 0.0, step))
    assert above - at == pytest.approx(at - below, rel=1e-3)
    assert made.moisture(POWDERS_TO + 1e-12) == pytest.approx(float(at), abs=1e-10)


@given(PROTEINS, st.floats(0.85, 0.999), st.floats(0.85, 0.999))
def test_above_the_joint_the_free_water_obeys_raoult(
    one: Powder, first: float, second: float
) -> None:
    """Free water a / (1 - a) is as the water beyond the bound, whatever the strength."""
    made = blend([one])
    free = (made.moisture(np.array([first, second])) - made.bound) / made.strength
    odds = np.array([first / (1.0 - first), second / (1.0 - second)])
    np.testing.assert_allclose(free, odds, rtol=1e-9)


@given(BLENDS, st.floats(1e-3, MOST_ACTIVE - 1e-4))
def test_the_table_undoes_the_formula(made, activity: float) -> None:  # type: ignore[no-untyped-def]
    assume(all(abs(activity - saturation(solute)) > 1e-6 for _, solute in made.solutes))
    assert made.water_activity(made.moisture(activity)) == pytest.approx(activity, abs=2e-4)


@given(SOLUTES, st.floats(0.05, MOST_ACTIVE))
def test_dilution_undoes_norrish(solute: Solute, activity: float) -> None:
    water = float(dilution(activity, solute))
    if activity < saturation(solute):
        assert water < 0.1 + 1e-9 or water == 0.0
    else:
        assert norrish(1.0 / water, solute) == pytest.approx(activity, abs=1e-9)


@given(PROTEINS, SOLUTES, st.floats(0.01, 0.3), st.floats(0.05, 1.0))
def test_a_humectant_in_place_of_what_holds_nothing_lowers_activity(
    one: Powder, solute: Solute, share: float, moisture: float
) -> None:
    plain, moist = blend([one]), blend([one], [(share, solute)])
    lower, higher = moist.water_activity(moisture), plain.water_activity(moisture)
    assert lower <= higher + 2e-4
    if higher > 0.9:
        assert lower < higher


@given(PROTEINS, st.floats(0.05, 0.95))
def test_solutes_alone_are_as_strong_as_norrish_says(one: Powder, activity: float) -> None:
    """In a blend that is nearly all glycerol the water is the glycerol's."""
    trace = Powder(1e-9, one.isotherm)
    made = blend([trace], [(0.9, GLYCEROL)])
    ratio = 0.9 / float(made.moisture(activity))
    if ratio < 10.0:
        assert norrish(ratio, GLYCEROL) == pytest.approx(activity, rel=1e-6)


def test_dry_salt_lies_as_crystals_until_the_air_is_damp() -> None:
    powders = [Powder(0.8, wheat, 0.1)]
    plain, salted = blend(powders), blend(powders, [(0.1, SALT)])
    dry, damp = saturation(SALT) - 0.01, saturation(SALT) + 0.01
    assert salted.moisture(dry) == plain.moisture(dry)
    assert salted.moisture(damp) > plain.moisture(damp) + 0.2


def test_below_its_driest_point_an_isotherm_goes_straight_to_none() -> None:
    powder = Powder(1.0, wheat, 0.1)
    at = powder.moisture(np.array([0.0, 0.05, 0.1]))
    assert at[0] == 0.0
    assert at[1] == pytest.approx(0.5 * at[2])


@pytest.mark.parametrize("wrong", [-0.1, 1e6, np.nan, np.inf])
def test_limits(wrong: float) -> None:
    made = blend([Powder(0.8, wheat, 0.1)])
    for call in (
        made.moisture,
        made.water_activity,
        lambda bad: dilution(bad, SALT),
        lambda bad: blend([Powder(bad, wheat, 0.1)]),
        lambda bad: blend([Powder(0.5, wheat, 0.1)], joint=bad),
    ):
        with pytest.raises(RangeError):
            call(wrong)


def test_shares_beyond_the_whole_are_refused() -> None:
    with pytest.raises(RangeError):
        blend([Powder(0.6, wheat, 0.1), Powder(0.6, maize, 0.1)])


@pytest.mark.parametrize("powders", [[], [Powder(0.0, wheat, 0.1)]])
def test_something_must_hold_water(powders: list[Powder]) -> None:
    with pytest.raises(InputError, match="holds water"):
        blend(powders, [(0.1, GLYCEROL)])
