"""Coat and glug: accounts close, lift by hand, none asked is none told, bad wishes are refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from math import pi

import numpy as np
import pytest

from baitwright.batch.coat import coat, coated, lift_change
from baitwright.batch.glug import GlugStage, Splash, glugged
from baitwright.batch.plan import BatchPlan
from baitwright.batch.release import depth_of
from baitwright.batch.rig_balance import balance_rig
from baitwright.batch.soak import NIGHT, Lake, soak
from baitwright.batch.soak_table import soak_table
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.materials.liquids import carrier
from baitwright.materials.powders import ingredient
from baitwright.recipe.bench import Room
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.model import Recipe
from baitwright.sheets.bench_steps import stages
from baitwright.sheets.text import plan_text
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, given, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.plans.plan_json import plan_as_json, request_from_json
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from tests.batch.kitchen import BENCH, FEW, RECIPE, planned

SWEET = Glug("Sweet", "glycerol", "quality", 2e-6, 0.1, 12 * 3600.0)
DUSTED = Coat("liver-powder", share=0.02)
HOURS = 3600.0
DEPTH = given("depth", 1e-3, label="depth")


def with_glug(**changes: object) -> Recipe:
    return replace(RECIPE, glug=replace(SWEET, **changes))  # type: ignore[arg-type]


def values(quantity: Quantity) -> np.ndarray:
    return np.asarray(unwrap(quantity.value))


def stage_of(plan: BatchPlan) -> GlugStage:
    assert plan.glug is not None
    return plan.glug


def splash(volume: float, share: float, density: float) -> Splash:
    return Splash(
        given("glug_per_bait", volume, label="glug to a bait"),
        given("glug_share", share, label="goes in"),
        given("glug_density", density, label="density"),
    )


def test_the_lift_of_one_bait_by_hand() -> None:
    state = planned().dry.bait
    after = glugged(state, SWEET, splash(5e-8, 0.6, 1261.0), depth=DEPTH)
    gained, room = 5e-8 * 0.6 * 1261.0, 5e-8 * 0.6
    assert values(after.mass) - values(state.mass) == pytest.approx(gained)
    grown = pi / 6.0 * (values(after.diameter) ** 3 - values(state.diameter) ** 3)
    assert grown == pytest.approx(room)
    water = median_of(planned().water.water_density)
    change = values(stage_of(planned(with_glug())).lift_change)
    taken = values(stage_of(planned(with_glug())).taken)
    expected = np.broadcast_to(taken * (water / 1261.0 - 1.0), change.shape)
    assert change == pytest.approx(expected, rel=1e-6)


def test_the_lift_of_a_coat_by_hand() -> None:
    stage = planned(replace(RECIPE, coat=DUSTED)).coat
    assert stage is not None
    water, density = median_of(planned().water.water_density), ingredient("liver-powder").density
    expected = values(stage.stuck) * (water / density - 1.0)
    assert values(stage.lift_change) == pytest.approx(expected, rel=1e-6)
    assert (values(stage.stuck) <= 0.02 * values(planned().boil.bait.mass)).all()
    assert stage.wish_without is not None
    assert 0.0 <= float(unwrap(stage.wish_without.value)) <= 1.0


def test_a_layer_weighs_its_shell() -> None:
    state, row = planned().boil.bait, ingredient("liver-powder")
    unknowns = Unknowns(planned().request.draws, planned().request.factors)
    wanted = Coat("liver-powder", layer=2e-4)
    stage = coat(
        state,
        wanted,
        baits=planned().rolled.baits,
        lake_temperature=279.15,
        unknowns=unknowns,
    )
    sticks = np.minimum(values(unknowns.drawn_default("coat_sticks")), 1.0)
    loose = row.bulk_density or values(unknowns.drawn_default("coat_bulk_density"))
    diameter = values(state.diameter)
    shell = pi / 6.0 * ((diameter + 4e-4) ** 3 - diameter**3)
    assert values(stage.stuck) == pytest.approx(shell * loose * sticks, rel=1e-9)


@pytest.mark.parametrize("name", ["glycerol", "water", "vegetable-oil"])
def test_every_account_closes(name: str) -> None:
    bait = stage_of(planned(replace(with_glug(carrier=name), coat=DUSTED))).dried.bait
    told = {entry.stage for entry in bait.ledger.entries}
    assert {"boil", "coat", "dry", "glug"} <= told
    mine = [entry for entry in bait.ledger.entries if entry.stage in ("coat", "glug")]
    assert max(entry.gap for entry in mine) < 1e-9


def test_no_glug_and_no_powder_leave_the_bait_as_it_was() -> None:
    state = planned().dry.bait
    none = given("coat_stuck", 0.0, label="stays")
    bare = coated(state, none, ingredient("liver-powder"), offered=none)
    for after in (glugged(state, SWEET, splash(0.0, 0.5, 1261.0), depth=DEPTH), bare):
        assert values(after.mass) == pytest.approx(values(state.mass), rel=1e-12)
        assert values(after.diameter) == pytest.approx(values(state.diameter), rel=1e-12)


def test_more_glug_and_longer_are_heavier() -> None:
    plans = [with_glug(volume=2e-6 * more, time=12 * HOURS) for more in (1, 2, 4)]
    plans = [*plans, with_glug(volume=8e-6, time=48 * HOURS)]
    masses = [values(stage_of(planned(one)).dried.mass) for one in plans]
    for lighter, heavier in pairwise(masses):
        assert (heavier > lighter).all()


def test_a_light_carrier_lifts_and_glycerol_weighs_down() -> None:
    light = stage_of(planned(with_glug(carrier="ethanol"))).lift_change
    heavy = stage_of(planned(with_glug())).lift_change
    assert carrier("ethanol").density < 1000.0 < carrier("glycerol").density
    assert (values(light) > 0.0).all()
    assert (values(heavy) < 0.0).all()


def test_a_volume_for_all_is_split_evenly() -> None:
    plan = planned(with_glug(volume=6e-6, per_mass=None))
    baits = values(plan.rolled.baits)
    assert values(stage_of(plan).per_bait) * baits == pytest.approx(6e-6)


def test_water_makes_moister_and_keeps_shorter_and_glycerol_the_other_way() -> None:
    wet, sweet = (planned(with_glug(carrier=name, volume=8e-6)) for name in ("water", "glycerol"))
    before = values(planned().dry.activity)
    life = values(planned().keep.place("fridge").life)
    assert (values(wet.keep.activity) >= before).all()
    assert (values(wet.keep.place("fridge").life) <= life).all()
    assert (values(sweet.keep.activity) <= before).all()
    assert values(stage_of(wet).keeps_before) == pytest.approx(life)
    assert any("keep shorter" in note.text for note in wet.notes)


def test_oil_leaves_the_water_as_it_was() -> None:
    oily = planned(with_glug(carrier="vegetable-oil"))
    assert values(oily.keep.activity) == pytest.approx(values(planned().dry.activity))


def test_none_asked_is_none_told() -> None:
    plan = planned()
    data = plan_as_json(plan)
    for told in (data["stages"], data["request"]["recipe"]):
        assert told["coat"] is told["glug"] is None
    assert "GLUG" not in plan_text(plan)
    assert not {"Coat", "Glug"} & {stage.name for stage in stages(plan)}
    assert plan.dry.bait is not None
    assert request_from_json(data) == plan.request


def test_what_is_asked_is_told_everywhere() -> None:
    plan = planned(replace(with_glug(carrier="ethanol"), coat=DUSTED))
    data = plan_as_json(plan)
    assert None not in (data["stages"]["coat"], data["stages"]["glug"])
    assert request_from_json(data) == plan.request
    assert "GLUG AND COAT" in plan_text(plan)
    steps = {stage.name: stage for stage in stages(plan)}
    assert "dust" in steps["Coat"].caution.lower()
    assert steps["Glug"].caution
    assert any(one.id == "flash-point" for one in plan.care.cautions)


def test_a_change_of_lift_is_after_less_before() -> None:
    after, before = (given("lift", value, label="lift") for value in (0.003, 0.001))
    assert unwrap(lift_change(after=after, before=before).value) == pytest.approx(0.002)


FILE = {
    "name": "Copper",
    "bait": {"kind": "wafter", "diameter": "15 mm", "core": "9 mm"},
    "base": {"name": "Copper"},
}
GLUG = {"name": "Sweet", "amount": "2 ml per 100 g", "time": "12 h", "carrier": "glycerol"}
COAT = {"ingredient": "liver-powder", "share": "2 %"}


def test_a_file_names_both() -> None:
    recipe = recipe_from({**FILE, "glug": GLUG, "coat": COAT}, where="file")
    assert recipe.glug is not None
    assert (recipe.glug.volume, recipe.glug.per_mass) == pytest.approx((2e-6, 0.1))
    assert recipe.coat == Coat("liver-powder", 0.02, None)
    whole = recipe_from({**FILE, "glug": {**GLUG, "amount": "6 ml"}}, where="file")
    assert whole.glug is not None
    assert whole.glug.per_mass is None


@pytest.mark.parametrize(
    ("bad", "field", "says"),
    [
        ({"glug": {**GLUG, "carrier": "glycerin oil of moon"}}, "glug.carrier", "glycerol"),
        ({"glug": {**GLUG, "amount": "-2 ml"}}, "glug.amount", "more than 0"),
        ({"glug": {**GLUG, "amount": "80 ml per 100 g"}}, "glug.amount", "50 ml"),
        ({"glug": {**GLUG, "amount": "2 g per 100 g"}}, "glug.amount", "2 ml per 100 g"),
        ({"coat": {**COAT, "share": "-2 %"}}, "coat.share", "share"),
        ({"coat": {"ingredient": "liver-powder", "layer": "9 mm"}}, "coat.layer", "1.5 mm"),
        ({"coat": {"ingredient": "liver-powder"}}, "coat", "either"),
        ({"coat": {**COAT, "layer": "0.1 mm"}}, "coat", "either"),
    ],
)
def test_bad_wishes_are_refused(bad: dict[str, object], field: str, says: str) -> None:
    with pytest.raises(InputError) as caught:
        recipe_from({**FILE, **bad}, where="file")
    assert field in str(caught.value)
    assert says in str(caught.value)


def test_the_rig_and_the_night_are_told_of_the_bait_as_it_is_fished() -> None:
    recipe = replace(with_glug(), coat=DUSTED)
    plan = planned(recipe)
    rig = balance_rig(plan).on_rig.stage
    np.testing.assert_allclose(values(rig.alone), values(plan.water.dried), rtol=0, atol=1e-15)
    assert median_of(rig.alone) < median_of(balance_rig(planned()).on_rig.stage.alone)
    (first, *_) = soak_table(plan.request, (BENCH.lake_temperature or 0.0,), time=NIGHT).cases
    assert [one.name for one in first.stage.curve[0].flavours][-1] == "Sweet"
    np.testing.assert_allclose(
        values(first.stage.curve[-1].lift), values(plan.soak.curve[-1].lift), rtol=0, atol=0
    )


def test_what_is_weighed_before_the_glug_is_foretold_without_it() -> None:
    told = {
        name: {one.name: values(one.predicted) for one in planned(recipe).readings}
        for name, recipe in (("bare", RECIPE), ("glugged", with_glug()))
    }
    for name, predicted in told["bare"].items():
        np.testing.assert_array_equal(told["glugged"][name], predicted)


def test_the_day_leaves_time_for_the_glug() -> None:
    bare, soaked = planned().day, planned(with_glug(time=7 * HOURS)).day
    assert bare.slack - soaked.slack == timedelta(hours=7)
    names = [step.name for step in soaked.steps]
    assert names[-3:] == ["dry", "glug", "bag"]
    tray, pour, bag = soaked.steps[-3:]
    assert (pour.start, pour.end) == (tray.end, bag.start)
    assert pour.end - pour.start == timedelta(hours=7)


def test_no_glug_on_baits_that_never_dry() -> None:
    damp = replace(BENCH, room=Room(temperature=283.15, humidity=0.97))
    assert planned(with_glug(), damp).day.steps[-1].name == "dry"


# --- how deep it lies, and how soon it leaves ------------------------------------------------


def test_a_glug_reaches_deeper_the_longer_and_warmer_it_stands() -> None:
    bait = planned().dry.bait
    unknowns = Unknowns(FEW, prior_factors())
    depths = [
        values(
            depth_of(
                bait,
                "glycerol",
                temperature=given("room", kelvin, label="room"),
                time=given("time", hours * HOURS, label="time"),
                unknowns=unknowns,
            )
        )
        for hours, kelvin in ((2, 288.15), (12, 288.15), (12, 303.15))
    ]
    for shallower, deeper in pairwise(depths):
        assert (deeper >= shallower).all()
        assert deeper.mean() > shallower.mean()


def test_by_hand_it_is_as_deep_as_what_moves_in_from_a_wetted_skin() -> None:
    plan = planned(with_glug())
    depth = stage_of(plan).depth
    moves = dict(depth.inputs)["diffusivity"]
    expected = 2.0 * np.sqrt(values(moves) * 12 * HOURS / pi)
    shell = 0.5 * (values(plan.dry.bait.diameter) - values(plan.dry.bait.core_diameter))
    np.testing.assert_allclose(values(depth), np.minimum(expected, shell), rtol=1e-12)
    assert (values(moves) < 1e-9).all()


def test_a_glug_leaves_before_the_same_flavour_kneaded_in() -> None:
    plan = planned(with_glug())
    glugged_bait = plan.tray.dried.bait
    kneaded = replace(
        glugged_bait, solutes=tuple(replace(one, depth=None) for one in glugged_bait.solutes)
    )
    lake = Lake(BENCH.lake_temperature, NIGHT, plan.water.hook, "wafter")
    nights = [
        soak(one, lake, unknowns=Unknowns(plan.request.draws, plan.request.factors))
        for one in (glugged_bait, kneaded)
    ]
    told = [{one.name: values(one.left) for one in night.curve[-1].flavours} for night in nights]
    assert (told[0][SWEET.name] <= told[1][SWEET.name] + 1e-9).all()
    assert told[0][SWEET.name].mean() < 0.7 * told[1][SWEET.name].mean()
    for name in told[0].keys() - {SWEET.name}:
        np.testing.assert_array_equal(told[0][name], told[1][name])


def test_after_the_night_it_still_lies_where_it_lay() -> None:
    plan = planned(with_glug())
    (before,) = [one for one in plan.tray.dried.bait.solutes if one.name == SWEET.name]
    (after,) = [one for one in plan.soak.bait.solutes if one.name == SWEET.name]
    assert after.depth is before.depth is stage_of(plan).depth


# --- beside other cores ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "recipe", [with_glug(), replace(RECIPE, coat=DUSTED)], ids=["glug", "coat"]
)
def test_other_cores_carry_coat_and_glug_too(recipe: Recipe) -> None:
    bare, made = (
        {one.core: values(one.lift) for one in planned(which).water.cores}
        for which in (RECIPE, recipe)
    )
    own = RECIPE.bait.core
    (other,) = bare.keys() - {own}
    change = made[own] - bare[own]
    assert change.mean() < -1e-6
    np.testing.assert_allclose(made[other] - bare[other], change, atol=0.5e-6)


def test_gloves_for_what_is_glugged() -> None:
    raised = {one.id for one in planned(with_glug()).care.cautions}
    assert "glug-skin" in raised
    assert "glug-skin" not in {one.id for one in planned().care.cautions}
    steps = {stage.name: stage.caution for stage in stages(planned(with_glug()))}
    assert "Gloves" in steps["Glug"]


def test_a_coats_dust_and_allergens_are_told_at_its_step_and_on_the_bag() -> None:
    bare, coated_plan = planned(), planned(replace(RECIPE, coat=Coat("fishmeal-65", share=0.02)))
    groups = [{group.id for group in plan.care.contains} for plan in (bare, coated_plan)]
    assert "fish" in groups[1] - groups[0]
    assert "fish" in str(plan_as_json(coated_plan)["allergens"]["contains"])
    assert "fish" in plan_text(coated_plan)
    steps = {stage.name: stage.caution for stage in stages(coated_plan)}
    assert "dust" in steps["Coat"]
    assert "Glass" not in steps["Coat"]
    assert "Coat" not in {stage.name for stage in stages(bare)}
