"""Granules, bubbles and a few small corks: what goes in is in the baits, and how it lifts them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil import paste_layer
from baitwright.batch.boil_table import Asked, boil_table
from baitwright.batch.cores import NO_CORE, size_core, sizes
from baitwright.batch.fillers import filled_density
from baitwright.batch.plan import PlanRequest, plan
from baitwright.batch.rig_balance import balance_rig
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.materials.fillers import fillers
from baitwright.physics.food import maxwell_eucken
from baitwright.recipe.model import BaitKind, Core, Filler, Recipe
from baitwright.recipe.rig import Hole, Rig
from baitwright.sheets.bench_steps import stages
from baitwright.sheets.text import plan_text
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, FEW, RECIPE, planned, with_bait

GRANULES = Filler("cork-granules", 0.10)
BUBBLES = Filler("glass-bubbles", 0.05)
THREE = Core("cork-ball", 0.005, 3)


def values(quantity: Quantity) -> NDArray[np.float64]:
    return np.asarray(unwrap(quantity.value), dtype=float)


def filled(*more: Filler, core: Core | None = RECIPE.bait.core) -> Recipe:
    return with_bait(fillers=more, core=core)


def lift(made: BatchPlan) -> float:
    return median_of(made.water.dried)


# --- fillers ---------------------------------------------------------------------------------


def test_what_is_worked_in_is_in_the_baits() -> None:
    rolled = planned(filled(GRANULES, BUBBLES)).rolled
    paste = values(rolled.paste)
    per_bait = values(rolled.pinch)
    for all_of_it, one in zip(rolled.fillers, rolled.bait.fillers, strict=True):
        in_paste = values(all_of_it) / paste
        np.testing.assert_allclose(values(one.mass) / per_bait, in_paste * np.ones_like(per_bait))


def test_a_filler_takes_the_room_it_is_given() -> None:
    rolled = planned(filled(GRANULES)).rolled
    room = values(rolled.paste) / values(rolled.density)
    (grains,) = rolled.fillers
    share = values(grains) / room / values(rolled.bait.fillers[0].mass)
    share = share * values(rolled.bait.fillers[0].volume)
    np.testing.assert_allclose(share, 0.10, rtol=1e-12)


def test_the_paste_is_the_plain_one_and_what_is_in_it() -> None:
    bare, made = planned().rolled, planned(filled(GRANULES, BUBBLES)).rolled
    np.testing.assert_allclose(
        values(made.paste),
        values(bare.paste) + sum(values(one) for one in made.fillers),
        rtol=1e-12,
    )
    np.testing.assert_array_equal(values(made.plain_density), values(bare.density))
    assert bare.plain_density is bare.density
    assert bare.fillers == bare.bait.inclusions == ()


def test_a_bait_is_what_it_is_made_of() -> None:
    bait = planned(filled(GRANULES, BUBBLES, core=THREE)).rolled.bait
    parts = [bait.solids, bait.water, bait.core_mass, bait.solute_mass]
    parts += [one.mass for one in bait.inclusions]
    assert len(bait.inclusions) == 3
    np.testing.assert_allclose(values(bait.mass), sum(values(one) for one in parts), rtol=1e-12)


def test_more_baits_from_the_same_eggs() -> None:
    bare, made = (median_of(planned(one).rolled.baits) for one in (RECIPE, filled(GRANULES)))
    assert made / bare == pytest.approx(1.0 / 0.9, rel=1e-3)


def test_the_more_filler_the_more_lift() -> None:
    lifts = [lift(planned(filled(Filler("cork-granules", s)))) for s in (0.05, 0.1, 0.2, 0.3)]
    assert [lift(planned()), *lifts] == sorted([lift(planned()), *lifts])


def test_what_lies_in_the_paste_keeps_its_room_and_weight_to_the_end_of_the_night() -> None:
    made = planned(filled(GRANULES, core=THREE))
    rolled, soaked = made.rolled.bait, made.soak.bait
    for first, last in zip(rolled.inclusions, soaked.inclusions, strict=True):
        np.testing.assert_array_equal(values(first.mass), values(last.mass))
        np.testing.assert_array_equal(values(first.volume), values(last.volume))


def test_air_is_in_the_paste_and_not_in_the_cork() -> None:
    bait = planned(filled(GRANULES, core=THREE)).rolled.bait
    room = np.pi / 6.0 * values(bait.diameter) ** 3
    for one in bait.inclusions:
        room = room - values(one.volume)
    np.testing.assert_allclose(values(bait.air) / room, 0.05, rtol=1e-12)


@given(st.floats(1000.0, 1300.0), st.floats(0.0, 0.2), st.floats(0.001, 0.1))
def test_more_filler_makes_lighter_paste(paste: float, share: float, more: float) -> None:
    light, lighter = (
        filled_density.function(paste, room, grains=room * 200.0) for room in (share, share + more)
    )
    assert lighter < light <= paste


# --- a few small corks -----------------------------------------------------------------------


def test_one_core_is_as_it_was() -> None:
    core = RECIPE.bait.core
    assert core is not None
    sized = size_core(core, Unknowns(FEW, prior_factors()))
    assert sized.room is sized.diameter
    assert size_core(None, Unknowns(FEW, prior_factors())) is NO_CORE


def test_three_corks_lift_as_one_of_their_room() -> None:
    one = Core("cork-ball", 0.005 * 3.0 ** (1.0 / 3.0))
    three, alike = (planned(with_bait(core=core)) for core in (THREE, one))
    assert lift(three) == pytest.approx(lift(alike), abs=0.02e-3)
    assert median_of(three.rolled.baits) == pytest.approx(median_of(alike.rolled.baits), rel=2e-3)


def test_a_few_corks_scatter_less_than_one() -> None:
    many = Draws(batches=64, baits=64)
    spreads = []
    for count in (1, 4):
        sized = size_core(Core("cork-ball", 0.005, count), Unknowns(many, prior_factors()))
        spreads.append(values(sized.density).std(axis=1).mean())
    assert spreads[0] / spreads[1] == pytest.approx(2.0, rel=1e-9)


def test_corks_spread_through_the_paste_slow_the_heat_to_its_middle() -> None:
    solid, corked = (planned(with_bait(core=core)) for core in (None, THREE))
    assert median_of(corked.boil.set_seconds) > median_of(solid.boil.set_seconds)


def test_heat_goes_round_what_lies_in_the_paste() -> None:
    """Maxwell-Eucken, and heat held by weight, done here once more from the parts."""
    plain = unwrap(paste_layer(planned().rolled.bait).value)
    made = unwrap(paste_layer(planned(filled(GRANULES)).rolled.bait).value)
    cork = fillers()["cork-granules"]
    share = median_of(planned(filled(GRANULES)).rolled.bait.fillers[0].volume)
    share /= float(np.median(_shell(planned(filled(GRANULES)))))
    held = maxwell_eucken(plain.conductivity, cork.conductivity, fraction=share)
    assert made.conductivity == pytest.approx(float(held), rel=2e-3)
    assert made.density == pytest.approx(
        (1.0 - share) * plain.density + share * cork.density, rel=2e-3
    )
    capacity = (1.0 - share) * plain.density * plain.heat_capacity
    capacity += share * cork.density * cork.heat_capacity
    assert made.density * made.heat_capacity == pytest.approx(capacity, rel=2e-3)


def _shell(made: BatchPlan) -> NDArray[np.float64]:
    bait = made.rolled.bait
    return np.asarray(np.pi / 6.0 * (values(bait.diameter) ** 3 - values(bait.core_diameter) ** 3))


def test_a_boiling_table_is_of_paste_without_corks() -> None:
    asked = Asked(sizes=(0.015,), cores=(0.0, 0.009), material="cork-ball")
    unknowns = Unknowns(FEW, prior_factors())
    solid = plan(PlanRequest(with_bait(core=None), BENCH, prior_factors(), FEW)).rolled.bait
    corked = planned().rolled.bait
    tables = [
        boil_table(one, RECIPE, asked=asked, bench=BENCH, unknowns=unknowns)
        for one in (solid, corked)
    ]
    for one, other in zip(tables[0].cells, tables[1].cells, strict=True):
        assert median_of(one.middle) == pytest.approx(median_of(other.middle), rel=1e-9)


# --- on the rig, and by design ---------------------------------------------------------------


@pytest.mark.parametrize("core", [RECIPE.bait.core, THREE, None])
@pytest.mark.parametrize("fillers", [(), (GRANULES,), (GRANULES, BUBBLES)])
def test_the_planned_bait_is_among_those_weighed_up(
    core: Core | None, fillers: tuple[Filler, ...]
) -> None:
    recipe = replace(RECIPE, bait=replace(RECIPE.bait, core=core, fillers=fillers))
    kind = BaitKind.SINKER if lift(planned(recipe)) < -0.02e-3 else BaitKind.POP_UP
    recipe = replace(recipe, bait=replace(recipe.bait, kind=kind))
    made = planned(recipe)
    share = sum(one.share for one in fillers if one.material == "cork-granules")
    design = balance_rig(made).design
    ways = (*design.options, *(() if design.nearest is None else (design.nearest,)))
    planned_so = (0.015, core, share, median_of(made.dry.time))
    own = [one for one in ways if (one.diameter, one.core, one.granules, one.tray) == planned_so]
    if kind is BaitKind.SINKER:
        assert own
    for one in own:
        assert median_of(one.alone) == pytest.approx(lift(made), abs=5e-6)


def test_no_way_holds_more_filler_than_paste_bears() -> None:
    recipe = filled(Filler("glass-bubbles", 0.20))
    recipe = replace(recipe, bait=replace(recipe.bait, kind=BaitKind.POP_UP))
    design = balance_rig(planned(recipe)).design
    assert {one.granules for one in design.options} == {0.0, 0.05, 0.10}


def test_other_cores_are_weighed_up_as_many_as_the_bait_has() -> None:
    made = planned(with_bait(core=THREE), replace(BENCH, cores=(0.004, 0.006)))
    assert [option.core.count for option in made.water.cores] == [3, 3, 3]
    lifts = [median_of(option.lift) for option in made.water.cores]
    assert lifts == sorted(lifts)
    assert made.water.cores[1].core == THREE


def test_a_core_too_wide_with_its_fellows_is_left_out() -> None:
    made = planned(with_bait(core=THREE), replace(BENCH, cores=(0.007,)))
    assert [option.core for option in made.water.cores] == [THREE]  # three of 7 mm are 15.1 mm


def test_a_hole_goes_through_corks_and_paste_alike() -> None:
    bench = replace(BENCH, rig=Rig(hole=Hole(0.002, sealed=True)))
    made = planned(with_bait(core=THREE), bench)
    assert made.rig is not None
    stage = made.rig.stage
    mean = values(made.dry.mass) / (np.pi / 6.0 * values(made.dry.diameter) ** 3)
    drilled = values(stage.hole) / mean
    across = values(made.dry.diameter)
    expected = np.pi / 6.0 * (across**3 - (across**2 - 0.002**2) ** 1.5)
    np.testing.assert_allclose(drilled, expected, rtol=1e-9)


# --- what is told ----------------------------------------------------------------------------


def test_what_is_asked_is_told_everywhere() -> None:
    made = planned(filled(GRANULES, BUBBLES, core=THREE))
    text = " ".join(plan_text(made).split())
    assert "on 3 x 5 mm cork balls with 10 % cork granules and 5 % glass bubbles" in text
    assert "on 3 x 5 mm cores" in text
    steps = {step.do: step for stage in stages(made) for step in stage.steps}
    grams = 1e3 * median_of(made.rolled.fillers[0])
    assert float(steps["Cork granules to work in"].number) == pytest.approx(grams, rel=0.03)
    assert "Glass bubbles to work in" in steps
    ready = int(steps["Lay out cores"].number)
    assert ready % 3 == 0
    assert ready > 3 * median_of(made.rolled.baits)
    assert any(caution.id == "glass-dust" for caution in made.care.cautions)


def test_no_glass_no_caution_of_it() -> None:
    made = planned(filled(GRANULES))
    assert all(caution.id != "glass-dust" for caution in made.care.cautions)


def test_sizes_in_few_words() -> None:
    assert [sizes(None), sizes(Core("cork-ball", 0.009)), sizes(THREE)] == [
        "none",
        "9 mm",
        "3 x 5 mm",
    ]
