"""Bottle tests: what is proved, what of the tray is learned, and what of it moves a factor."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.learning.bottle import BottleLesson, learn_from_bottle
from baitwright.learning.bottle_likelihood import Likelihood, Spread
from baitwright.learning.sample import how_many_more, prove
from baitwright.learning.tray_model import FILLERS, LiftChart, tray_model
from baitwright.physics import water
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.model import Core, Filler, Recipe
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import unwrap
from baitwright.terms.records import BottleTest, Look, PushedUnder, WeighedTogether
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.importance import (
    EFFECTIVE,
    posterior,
    prior_draws,
    weighted_quantiles,
)
from tests.batch.kitchen import RECIPE, with_bait
from tests.batch.kitchen import planned as plan_of
from tests.learning.bottle_kitchen import LAKE, TAP, a_truth, mixed, plan_lift, seen, tray

SampleSize = Callable[[int, int], int]
SWEET = Glug("Sweet", "glycerol", "quality", 2e-6, 0.1, 12 * 3600.0)
PUSHED = (PushedUnder(1.460e-3, 1.500e-3),) * 6


@cache
def taught(test: BottleTest) -> BottleLesson:
    made = tray()
    return learn_from_bottle(made, test, factors=made.request.factors)


def width(lesson: BottleLesson) -> float:
    return lesson.after.lift.high80 - lesson.after.lift.low80


# --- the tray behind the test ----------------------------------------------------------------


def test_the_model_of_the_tray_is_the_plans_own() -> None:
    """The same lift as the plan's declared functions give, but for water at two temperatures."""
    model = tray_model(tray())
    bait = model.middle(prior_draws(model.unknowns, seed=1).values)
    near = np.abs(plan_lift(bait)) < 5e-4
    assert bait.lift(float(water.density(LAKE)))[near] == pytest.approx(
        plan_lift(bait)[near], abs=2e-6
    )


def test_the_model_is_spread_as_the_plan_is() -> None:
    made = tray()
    lifts = np.asarray(unwrap(made.water.dried.value))
    model = tray_model(made)
    prior = prior_draws(model.unknowns, seed=1)
    drawn = Spread.of_lift(model, prior.values, float(water.density(LAKE)))
    assert np.median(drawn.middle) == pytest.approx(np.median(lifts), abs=0.006e-3)
    low, high = np.quantile(drawn.middle, [0.1, 0.9])
    assert high - low == pytest.approx(
        np.subtract(*np.quantile(lifts.mean(1), [0.9, 0.1])), rel=0.1
    )
    assert np.median(drawn.sd) == pytest.approx(np.median(lifts.std(axis=1, ddof=1)), rel=0.2)


@pytest.mark.parametrize(
    "recipe",
    [
        with_bait(core=Core("cork-ball", 0.005, 3)),
        with_bait(fillers=(Filler("cork-granules", 0.1), Filler("glass-bubbles", 0.05))),
        replace(RECIPE, glug=SWEET),
        replace(RECIPE, coat=Coat("liver-powder", 0.02)),
    ],
    ids=["a few corks", "fillers", "glug", "coat"],
)
def test_the_model_is_of_the_bait_as_it_is_fished(recipe: Recipe) -> None:
    made = plan_of(recipe, draws=Draws(batches=256, baits=4))
    model = tray_model(made)
    drawn = Spread.of_lift(
        model, prior_draws(model.unknowns, seed=1).values, float(water.density(LAKE))
    )
    assert np.median(drawn.middle) == pytest.approx(median_of(made.water.dried), abs=0.012e-3)


def test_a_weighing_of_fillers_own_density_is_not_mistaken_for_the_pastes() -> None:
    made = plan_of(with_bait(fillers=(Filler("glass-bubbles", 0.1),)))
    unknown = {one.name: one.scale for one in tray_model(made).unknowns}
    assert unknown[FILLERS] == pytest.approx(0.3, rel=0.2)  # 0.12 to 0.4 g/ml hold 19 in 20
    assert FILLERS not in {one.name for one in tray_model(tray()).unknowns}


def test_of_a_few_corks_each_scatters_as_one_does() -> None:
    one, four = (
        tray_model(plan_of(with_bait(core=Core("cork-ball", 0.005, count)))) for count in (1, 4)
    )
    spreads = [
        Likelihood(model, seen(cores=WeighedTogether(20, 1e-3)))._core(
            prior_draws(model.unknowns, seed=1).values
        )
        for model in (one, four)
    ]
    assert np.median(spreads[0].sd) == pytest.approx(np.median(spreads[1].sd), rel=0.05)


def test_a_chart_leads_back_to_where_it_came_from() -> None:
    model = tray_model(tray())
    chart = LiftChart(model, 998.6)
    values = np.random.default_rng(3).standard_normal((50, len(model.unknowns)))
    back, _ = chart.back(chart.drawn(values))
    assert back == pytest.approx(values, abs=1e-9)


def test_a_charts_volume_is_its_slope() -> None:
    model = tray_model(tray())
    chart = LiftChart(model, 998.6)
    places = chart.drawn(np.random.default_rng(3).standard_normal((50, len(model.unknowns))))
    step = np.zeros_like(places)
    step[:, 0] = 1e-5
    at = [one.name for one in model.unknowns].index("paste_density")
    slope = (chart.back(places + step)[0] - chart.back(places - step)[0])[:, at] / 2e-5
    assert chart.back(places)[1] == pytest.approx(np.log(-slope), abs=1e-6)


def test_a_place_that_no_paste_leads_to_has_no_volume() -> None:
    model = tray_model(tray())
    chart = LiftChart(model, 998.6)
    places = chart.drawn(np.zeros((1, len(model.unknowns))))
    places[0, 0] = 1e3
    assert chart.back(places)[1] == -np.inf


# --- the sampler -----------------------------------------------------------------------------


@pytest.mark.parametrize("charted", [False, True])
def test_the_same_belief_by_either_road(charted: bool) -> None:
    """Drawn at the unknowns or at the lift, against the prior's own draws weighed anew."""
    model, test = tray_model(tray()), mixed(5, 3)
    likelihood = Likelihood(model, test)
    chart = LiftChart(model, float(water.density(TAP))) if charted else None
    found = posterior(model.unknowns, likelihood, seed=5, chart=chart)
    many = np.concatenate([prior_draws(model.unknowns, seed=at).values for at in range(40)])
    weights = np.exp(likelihood(many))
    weights /= weights.sum()
    for column in range(4):
        ends = weighted_quantiles(found.values[:, column], found.weights, (0.1, 0.5, 0.9))
        exact = weighted_quantiles(many[:, column], weights, (0.1, 0.5, 0.9))
        scale = model.unknowns[column].scale
        assert ends == pytest.approx(exact, abs=0.12 * scale), model.unknowns[column].name


def test_the_same_seed_gives_the_same_lesson() -> None:
    made = tray()
    again = learn_from_bottle(made, mixed(5, 3), factors=made.request.factors)
    assert again.after == taught(mixed(5, 3)).after


@pytest.mark.parametrize(
    "test",
    [
        mixed(8, 0),
        mixed(0, 8),
        mixed(25, 25),
        mixed(0, 50),
        seen(pushed_under=(PushedUnder(1.46e-3, 1.30e-3),) * 8),
        seen(pushed_under=(PushedUnder(1.46e-3, 1.75e-3),) * 8),
        seen(Look(0.0, 6, 1, 1), pushed_under=PUSHED, cores=WeighedTogether(20, 2.5e-3)),
    ],
    ids=["all up", "all down", "half", "fifty down", "far down", "far up", "weighed too"],
)
def test_a_thousand_draws_count_whatever_was_seen(test: BottleTest) -> None:
    assert taught(test).effective >= EFFECTIVE
    assert taught(test).after.lift.draws >= EFFECTIVE


# --- what is learned of the tray -------------------------------------------------------------


def test_more_floating_baits_mean_more_lift() -> None:
    lifts = [taught(mixed(floated, 8 - floated)).after.lift.median for floated in (0, 2, 4, 6, 8)]
    assert lifts == sorted(lifts)
    assert len(set(lifts)) == 5


def test_mixed_outcomes_tell_more_than_alike_ones() -> None:
    assert width(taught(mixed(4, 4))) < 0.8 * width(taught(mixed(8, 0)))
    assert taught(mixed(8, 0)).bounds_only
    assert not taught(mixed(4, 4)).bounds_only


def test_a_bait_pushed_under_tells_more_than_any_look() -> None:
    weighed = taught(seen(Look(0.0, 8, 0, 0), pushed_under=PUSHED))
    assert width(weighed) < 0.5 * width(taught(mixed(8, 0)))
    assert not weighed.bounds_only
    band = weighed.after.lift
    assert band.low95 < 0.04e-3 + weighed.correction < band.high95


def test_lift_is_told_and_core_against_paste_only_by_a_weighing() -> None:
    look = Look(0.0, 5, 1, 2)
    blind = taught(seen(look, pushed_under=PUSHED))
    told = taught(seen(look, pushed_under=PUSHED, cores=WeighedTogether(20, 1.6e-3)))
    assert not blind.told_apart
    assert told.told_apart
    shares = {one.after.key: one.share for one in told.proposals}
    assert shares["core_density"] > 0.95
    assert "core_density" not in {one.after.key for one in blind.proposals}


def test_cores_as_light_as_weighed() -> None:
    (core,) = (
        one
        for one in taught(seen(cores=WeighedTogether(20, 20 * 0.0611e-3))).proposals
        if one.after.key == "core_density"
    )
    seen_ratio = 0.0611e-3 / (math.pi / 6.0 * 0.009**3 * 200.0)
    halfway = math.log(core.after.median) / math.log(seen_ratio)
    assert halfway == pytest.approx(0.5, abs=0.03)  # a belief worth one batch meets one batch
    assert core.after.about == "cork-ball"


def test_tap_water_is_lighter_than_the_lake() -> None:
    """18 C to 6 C: 1.35 kg/m3 on some 1.5 ml."""
    made = tray()
    volume = float(np.median(np.asarray(unwrap(made.dry.diameter.value)))) ** 3 * math.pi / 6.0
    difference = float(water.density(LAKE) - water.density(TAP))
    assert taught(mixed(5, 3)).correction == pytest.approx(difference * volume, rel=0.05)
    warm = taught(replace(mixed(5, 3), water_temperature=LAKE))
    assert warm.correction == pytest.approx(0.0, abs=1e-9)
    assert warm.after.lift.median < taught(mixed(5, 3)).after.lift.median


def test_depth_takes_lift_away() -> None:
    deep = taught(replace(mixed(5, 3), lake_depth=5.0)).after
    flat = taught(replace(mixed(5, 3), lake_depth=0.0)).after
    assert deep.at_depth is not None
    assert flat.at_depth is not None
    assert flat.at_depth.median == pytest.approx(flat.lift.median, abs=1e-12)
    assert 0.005e-3 < deep.lift.median - deep.at_depth.median < 0.05e-3


def test_the_shares_add_up() -> None:
    for shares in (taught(mixed(5, 3)).after.alone, taught(mixed(5, 3)).before.on_rig):
        assert shares.floats + shares.hangs + shares.sinks == pytest.approx(1.0, abs=1e-9)
        assert min(shares.floats, shares.hangs, shares.sinks) >= 0.0


def test_the_same_baits_alone_and_on_the_rig_hold_the_lift_between() -> None:
    alone, rig = Look(0.0, 8, 0, 0), Look(600.0, 0, 0, 8, on_rig=True)
    both = taught(seen(alone, rig))
    assert width(both) < width(taught(seen(alone)))
    assert both.after.on_rig.sinks > both.before.on_rig.sinks


def test_a_later_look_proves_and_moves_nothing() -> None:
    late = Look(12 * 3600.0, 0, 0, 8)
    assert taught(seen(Look(0.0, 5, 1, 2), late)).after == taught(seen(Look(0.0, 5, 1, 2))).after
    with pytest.raises(InputError, match="a look within the first hour, or a weighing"):
        taught(seen(late))


# --- what moves a factor ---------------------------------------------------------------------


def test_floating_more_than_planned_makes_the_paste_lighter() -> None:
    up = taught(seen(pushed_under=(PushedUnder(1.46e-3, 1.66e-3),) * 4))
    down = taught(seen(pushed_under=(PushedUnder(1.46e-3, 1.47e-3),) * 4))
    paste = [
        next(one.after for one in lesson.proposals if one.after.key == "paste_density")
        for lesson in (up, down)
    ]
    assert paste[0].median < 1.0 < paste[1].median
    assert all(one.about == "Copper" and one.batches == 1 for one in paste)
    assert all(1.0 < one.kappa <= 2.0 and 4.0 < one.nu <= 5.0 for one in paste)


def test_a_test_as_planned_narrows_the_next_plan() -> None:
    rise = 1.46e-3 + taught(mixed(5, 3)).before.lift.median
    lesson = taught(seen(pushed_under=(PushedUnder(1.46e-3, rise),) * 6))
    (paste,) = (one for one in lesson.proposals if one.after.key == "paste_density")
    assert paste.after.scale < 0.95 * paste.before.scale
    made = tray()
    kept = lesson.accepted(made.request.factors, name="kept", made_on=datetime(2026, 11, 27))
    assert kept.find("paste_density", "Copper") == paste.after
    again = plan_of(made.request.recipe, made.request.bench, draws=made.request.draws)
    assert again.request.factors.find("paste_density", "Copper") == paste.before


def test_alike_baits_far_from_the_plan_point_without_moving() -> None:
    lesson = taught(mixed(0, 50))
    little = next(one for one in lesson.tells_little if one.key == "paste_density")
    assert "points to 1." in little.words
    assert "not how far" in little.words
    assert "What would tell:" in little.words


def test_a_bait_without_a_core_has_none_to_weigh() -> None:
    made = plan_of(with_bait(core=None))
    look = seen(Look(0.0, 1, 0, 7))
    lesson = learn_from_bottle(made, look, factors=made.request.factors)
    assert lesson.told_apart
    assert "core_density" not in {one.after.key for one in lesson.proposals}
    with pytest.raises(InputError, match="cores_weighed: got 20, but it takes nothing"):
        learn_from_bottle(
            made,
            replace(look, cores=WeighedTogether(20, 1.6e-3)),
            factors=made.request.factors,
        )


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"pushed_under": (PushedUnder(1.46, 1.5e-3),)}, r"pushed_under\[1\]\.weight"),
        ({"pushed_under": (PushedUnder(1.46e-3, 1.5),)}, r"pushed_under\[1\]\.rise"),
        ({"baits": WeighedTogether(12, 1.7)}, r"baits_weighed\.weight"),
        ({"cores": WeighedTogether(20, 1.6)}, r"cores_weighed\.weight"),
    ],
)
def test_a_slip_of_the_unit(more: dict[str, object], field: str) -> None:
    with pytest.raises(InputError, match=field + ".*Check the unit"):
        taught(seen(Look(0.0, 5, 1, 2), **more))


# --- what is proved --------------------------------------------------------------------------


def test_a_look_is_held_against_what_is_wanted() -> None:
    """A wafter may float or hang alone, and is balanced or taken down on its rig."""
    lesson = taught(
        seen(
            Look(0.0, 6, 1, 1),
            Look(600.0, 1, 0, 7, on_rig=True, still_firm=6, off_core=0),
        )
    )
    told = [(one.words, one.proof.bad) for one in lesson.proved]
    assert told == [
        ("floated or hung", 1),
        ("sank", 1),
        ("were still firm", 2),
        ("held to the core", 0),
    ]


@given(tested=st.integers(1, 60), data=st.data())
def test_more_good_ones_prove_more(tested: int, data: st.DataObject) -> None:
    bad = data.draw(st.integers(0, tested))
    tray_of = data.draw(st.integers(tested + 1, 300))
    proof, next_one = prove(tested, bad, tray=tray_of), prove(tested + 1, bad, tray=tray_of)
    assert bad / tested <= proof.all_such <= 1.0
    assert next_one.all_such < proof.all_such or next_one.all_such == proof.all_such == 1.0
    assert proof.in_tray is not None
    assert next_one.in_tray is not None
    assert bad <= next_one.in_tray <= proof.in_tray <= tray_of - tested + bad


def test_the_whole_tray_tested_leaves_no_doubt() -> None:
    assert prove(50, 3, tray=50).in_tray == 3
    assert prove(50, 0, tray=50).in_tray == 0


@pytest.mark.parametrize(("tested", "bad"), [(8, 0), (8, 1), (28, 0), (29, 0), (100, 3)])
def test_how_many_more_is_the_first_that_does(tested: int, bad: int) -> None:
    more = how_many_more(tested, bad, share=0.1)
    assert prove(tested + more, bad).all_such <= 0.1
    if more:
        assert prove(tested + more - 1, bad).all_such > 0.1


@pytest.mark.parametrize(
    ("tested", "bad", "tray_of"), [(0, 0, None), (8, 9, None), (8, -1, None), (51, 0, 50)]
)
def test_what_no_sample_can_be(tested: int, bad: int, tray_of: int | None) -> None:
    with pytest.raises(InputError):
        prove(tested, bad, tray=tray_of)


# --- invented makers -------------------------------------------------------------------------


@pytest.mark.simulation
def test_bands_of_the_lift_hold_what_they_promise(sample_size: SampleSize) -> None:
    """Trays drawn from the plan's beliefs, twelve baits looked at, four pushed under or none.

    The tolerance is two standard errors of the count; the seed is fixed.
    """
    size = sample_size(60, 1000)
    made, generator = tray(), np.random.default_rng(11)
    held = {80: 0, 95: 0}
    for at in range(size):
        truth = a_truth(made, generator)
        test = truth.tested(12, 4, generator)
        if at % 2:
            test = replace(test, pushed_under=(), cores=None)
        band = learn_from_bottle(made, test, factors=made.request.factors).after.lift
        held[80] += band.low80 <= truth.lift <= band.high80
        held[95] += band.low95 <= truth.lift <= band.high95
    for level, count in held.items():
        rate = level / 100
        error = 2.0 * math.sqrt(rate * (1.0 - rate) / size)
        assert count / size == pytest.approx(rate, abs=error), level


@pytest.mark.simulation
def test_the_lift_goes_to_the_truth(sample_size: SampleSize) -> None:
    """Mixed outcomes and scale readings: the more of them, the nearer the middle to the truth."""
    size = sample_size(12, 60)
    made, generator = tray(), np.random.default_rng(12)
    errors = {4: 0.0, 40: 0.0}
    for _ in range(size):
        truth = a_truth(made, generator)
        for count in errors:
            test = replace(truth.tested(2 * count, count, generator), tray=None)
            found = learn_from_bottle(made, test, factors=made.request.factors).after.lift
            errors[count] += abs(found.median - truth.lift) / size
    assert errors[40] < 0.6 * errors[4]
    assert errors[40] < 0.012e-3
