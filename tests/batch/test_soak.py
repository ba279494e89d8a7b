"""The lake: what leaves, what enters, what floats, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from baitwright.batch.balance import lift
from baitwright.batch.plan import BatchPlan, PlanRequest
from baitwright.batch.release import (
    Moves,
    ReleasePath,
    first_below,
    hindrance,
    release_path,
    set_hindrance,
)
from baitwright.batch.soak import Lake, SoakStage, soak
from baitwright.batch.soak_table import soak_table
from baitwright.batch.soaking import recast_after, soak_run, soaked_diameter
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.materials.liquids import carriers
from baitwright.materials.solutes import solute, solutes
from baitwright.physics.diffusion import HINDRANCE_RANGE
from baitwright.physics.radial import MoistBall, WaterLeg, absorb
from baitwright.recipe.model import Core, Recipe
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.terms.quantity import Quantity, given, unwrap
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, CARAWAY, MALT, RECIPE, planned, with_bait
from tests.batch.lake_oracle import LocalSoak

TINY = Draws(batches=16, baits=2)
HOUR = 3600.0
WINTER, SUMMER = 278.15, 291.15


def values(quantity: Quantity) -> Any:
    return np.asarray(unwrap(quantity.value))


def the_plan(recipe: Recipe = RECIPE) -> BatchPlan:
    return planned(recipe, draws=TINY)


def soaked(
    recipe: Recipe = RECIPE,
    *,
    lake: float | None = WINTER,
    hours: float = 48.0,
    factors: FactorSet | None = None,
    bait: BaitState | None = None,
) -> SoakStage:
    plan = the_plan(recipe)
    unknowns = Unknowns(TINY, factors or prior_factors())
    water = Lake(lake, hours * HOUR, plan.water.hook, recipe.bait.kind.value)
    return soak(bait or plan.dry.bait, water, unknowns=unknowns)


def moved(key: str, log: float, *, batches: int = 0) -> FactorSet:
    """The usual factors with one moved."""
    usual = prior_factors()
    changed = replace(usual.find(key), mu=log, batches=batches)
    return usual.with_factors([changed], name="moved", made_on=datetime(2026, 11, 1))


def left(stage: SoakStage, liquid: int, hours: float) -> Any:
    return values(stage.at(hours * HOUR).flavours[liquid].left)


class TestFlavour:
    def test_it_falls_with_time(self) -> None:
        for liquid in range(2):
            course = np.array([values(p.flavours[liquid].left) for p in soaked().curve[1:]])
            assert np.all(np.diff(course, axis=0) < 0.0)
            assert np.all((course > 0.0) & (course < 1.0))
        assert all(values(one.left).min() == 1.0 for one in soaked().curve[0].flavours)

    def test_it_falls_with_warmth(self) -> None:
        for liquid in range(2):
            assert np.all(left(soaked(lake=SUMMER), liquid, 14) < left(soaked(), liquid, 14))

    def test_a_glycol_leaves_before_an_oil(self) -> None:
        stage = soaked()
        assert (MALT.carrier, CARAWAY.carrier) == ("propylene-glycol", "essential-oil")
        assert np.all(left(stage, 0, 8) < left(stage, 1, 8))

    def test_a_solid_bait_keeps_more(self) -> None:
        solid = soaked(with_bait(core=None))
        assert np.median(left(solid, 0, 14)) > np.median(left(soaked(), 0, 14)) + 0.05

    def test_oil_stays_when_its_flavour_leaves(self) -> None:
        recipe = replace(RECIPE, liquids=(replace(MALT, carrier="vegetable-oil"),))
        stage = soaked(recipe)
        before = values(the_plan(recipe).dry.bait.solutes[0].mass)
        np.testing.assert_array_equal(values(stage.bait.solutes[0].mass), before)
        assert np.all(left(stage, 0, 48) < 1.0)

    def test_a_spirit_is_remarked(self) -> None:
        recipe = replace(RECIPE, liquids=(replace(MALT, carrier="ethanol"),))
        assert any("spirit leaves on the tray" in note.text for note in soaked(recipe).notes)
        assert not any("spirit" in note.text for note in soaked().notes)

    def test_a_recipe_without_liquids_has_none_to_lose(self) -> None:
        stage = soaked(replace(RECIPE, liquids=()))
        assert stage.fades == ()
        np.testing.assert_array_equal(values(stage.recast), values(stage.softens))

    def test_each_carrier_says_what_it_gives_off(self) -> None:
        assert solutes().keys() == carriers().keys()
        for row in solutes().values():
            assert row.partition_low < row.partition < row.partition_high
        with pytest.raises(InputError, match=r"liquid\.carrier"):
            solute("treacle")


class TestHindrance:
    def test_before_any_batch_it_lies_anywhere_between_the_published_lines(self) -> None:
        low, high = HINDRANCE_RANGE
        logs = np.log(values(hindrance(Unknowns(Draws(2000, 1), prior_factors()))))
        assert np.log(low) <= logs.min()
        assert logs.max() <= np.log(high)
        # A stratified sample of a uniform: its quartiles stand a quarter, a half, ... of the way.
        quarters = np.quantile(logs, (0.25, 0.5, 0.75))
        expected = np.log(low) + np.array((0.25, 0.5, 0.75)) * np.log(high / low)
        np.testing.assert_allclose(quarters, expected, atol=0.01)

    def test_the_makers_own_batches_win(self) -> None:
        slow, fast = (soaked(factors=moved("flavour_release", log, batches=4)) for log in (-1, 1))
        assert np.median(left(fast, 0, 14)) < np.median(left(slow, 0, 14))

    @drawn(st.floats(1e-4, 1e4))
    def test_nothing_moves_faster_than_in_water(self, factor: float) -> None:
        table = given("t", 0.0274, label="table")
        made = set_hindrance(table=table, factor=given("f", factor, label="factor"))
        assert 0.0 < values(made) < 1.0
        assert (values(made) > 0.0274) == (factor > 1.0) or factor == pytest.approx(1.0)

    def test_the_mean_water_for_each_shells_own_costs_what_is_stated(self) -> None:
        """Up to 8 in 100 too much left, as the number's note says, and never too little.

        Against explicit finite volumes that follow the water of every shell; their coarse grid is
        within 0.01 of one twice as fine.
        """
        hours = np.array([1.0, 4.0, 14.0])
        held, fat, rolled = np.array([0.005, 0.027, 0.15]), 0.106, 0.55
        in_water, partition = np.full(3, 0.6e-9), np.array([0.1, 200.0, 0.1])
        true = LocalSoak(
            7.15e-3, 4.5e-3, 0.39, 1.2, 2e-11, in_water, held, partition, rolled, fat, cells=20
        ).left(HOUR * hours)
        ball = MoistBall(np.full(3, 7.15e-3), np.full(3, 4.5e-3), 0.39, 1350.0)
        times = 14 * HOUR * np.linspace(0.0, 1.0, 65) ** 3
        run = absorb(
            ball,
            [WaterLeg(14 * HOUR, WINTER, 1.2)],
            diffusivity=lambda kelvin, content: np.full(3, 2e-11),
            output_times=times,
        )
        kilograms = run.final.solids.sum(axis=0)
        way = Moves(run, held[:, None], rolled, (fat * kilograms)[:, None])
        path = release_path.function(way, in_water[:, None], partition[:, None])
        over = np.array([path.at(HOUR * hour) for hour in hours]) - true
        assert over.min() > -0.01
        assert 0.05 < over.max() < 0.08 + 0.01


class TestLift:
    def test_at_first_it_is_the_dried_baits(self) -> None:
        plan = the_plan()
        stage = soaked(lake=BENCH.lake_temperature)
        np.testing.assert_allclose(values(stage.curve[0].lift), values(plan.water.dried))
        assert values(stage.curve[0].wish) == values(plan.water.wish)

    @settings(deadline=None)
    @drawn(taken=st.floats(0.0, 2e-3), mass=st.floats(1e-3, 5e-3))
    def test_ideal_swelling_leaves_it_unchanged(self, taken: float, mass: float) -> None:
        def known(name: str, value: float) -> Quantity:
            return given(name, value, label=name)

        water, none = known("water", 999.7), known("none", 0.0)
        dry = known("diameter", 0.015)
        wet = soaked_diameter(
            diameter=dry,
            taken=known("taken", taken),
            water_density=water,
            dissolved=none,
            solids_density=known("solids", 1350.0),
            liquids=none,
        )
        before, after = (
            values(lift(diameter=size, mass=known("mass", weight), water_density=water))
            for size, weight in ((dry, mass), (wet, mass + taken))
        )
        assert after == pytest.approx(before, abs=1e-12 * mass + 1e-15)

    def test_only_flooded_air_and_what_dissolves_change_it(self) -> None:
        """Flooding takes at most the air's lift; what dissolves gives back less than its weight."""
        stage, bait = soaked(), the_plan().dry.bait
        change = values(stage.curve[-1].lift) - values(stage.curve[0].lift)
        density = values(stage.water_density)
        flooded = (values(bait.air) - values(stage.bait.air)) * density
        gone = values(bait.solids) - values(stage.bait.solids)
        gone = gone + values(bait.solute_mass) - values(stage.bait.solute_mass)
        assert np.all(flooded > 0.0)
        assert np.all(change > -flooded)
        assert np.all(change < gone - flooded)

    def test_a_bait_without_air_or_soluble_matter_keeps_it(self) -> None:
        bait = the_plan(replace(RECIPE, liquids=())).dry.bait
        none = replace(bait.air, value=0.0 * values(bait.air))
        stage = soaked(replace(RECIPE, liquids=()), bait=replace(bait, air=none))
        change = values(stage.curve[-1].lift) - values(stage.curve[0].lift)
        gone = values(bait.solids) - values(stage.bait.solids)
        np.testing.assert_allclose(
            change, gone * (1 - values(stage.water_density) / 1350), rtol=1e-9
        )


class TestWater:
    def test_it_enters_and_stays_below_what_the_skin_holds(self) -> None:
        stage, bait = soaked(), the_plan().dry.bait
        course = np.array([values(point.taken) for point in stage.curve])
        assert np.all(np.diff(course, axis=0) > 0.0)
        dry = values(bait.solids) + values(bait.solute_mass)
        skin = values(Unknowns(TINY, prior_factors()).drawn_default("soak_content"))
        assert np.all((values(bait.water) + course[-1]) / dry < skin)

    def test_the_makers_soak_factor_hastens_it(self) -> None:
        slow, fast = (soaked(factors=moved("soak", log)) for log in (-1.0, 1.0))
        assert np.all(values(fast.curve[4].taken) > values(slow.curve[4].taken))

    def test_it_softens(self) -> None:
        course = np.array([values(point.firmness) for point in soaked().curve])
        assert np.all(course[0] == 1.0)
        assert np.all(np.diff(course, axis=0) < 0.0)

    def test_every_account_closes(self) -> None:
        ledger = soaked().bait.ledger
        told = {entry.what for entry in ledger.entries if entry.stage == "soak"}
        assert told == {"water", "solids", "Malt", "Caraway"}
        assert ledger.worst_gap < 1e-12

    def test_the_end_is_the_last_hour_told(self) -> None:
        stage = soaked(hours=10.0)
        assert [point.time / HOUR for point in stage.curve] == [0, 1, 2, 4, 8, 10]
        np.testing.assert_array_equal(values(stage.bait.mass), values(stage.curve[-1].mass))
        assert stage.at(14 * HOUR) is stage.curve[-1]

    def test_a_longer_soak_tells_the_same_of_its_first_hours(self) -> None:
        short, long = soaked(hours=8.0), soaked(hours=48.0)
        # each run keeps water within 0.001 of the ball's first water, by the engine's own word
        near = 2e-3 * values(the_plan().dry.bait.water).max()
        np.testing.assert_allclose(
            values(short.at(8 * HOUR).taken), values(long.at(8 * HOUR).taken), atol=near
        )


class TestRecast:
    def test_it_is_the_first_of_the_marks(self) -> None:
        stage = soaked()
        firsts = np.minimum.reduce([values(one) for one in (stage.softens, *stage.fades)])
        np.testing.assert_array_equal(values(stage.recast), firsts)

    def test_never_is_said_where_no_mark_comes(self) -> None:
        never = given("soft", np.inf, label="soft")
        assert values(recast_after(softens=never)) == np.inf

    def test_the_hour_is_found_between_two_times(self) -> None:
        times = np.array([0.0, 10.0, 30.0])
        over = np.array([[1.0, 1.0, -0.5], [0.5, 0.5, -1.0], [-0.5, 0.1, -2.0]])
        np.testing.assert_allclose(first_below(times, over), [20.0, np.inf, 0.0])

    def test_a_path_is_read_between_its_times(self) -> None:
        path = ReleasePath(np.array([0.0, 10.0]), np.array([[1.0], [0.5]]))
        assert path.at(5.0) == pytest.approx(0.75)

    def test_it_says_that_firmness_is_judged(self) -> None:
        assert any("press a bait" in note.text for note in soaked().notes)
        assert not any("press a bait" in note.text for note in soaked(hours=1.0).notes)


@pytest.mark.parametrize(
    ("lake", "hours", "field"),
    [(333.15, 48.0, "lake"), (272.0, 48.0, "lake"), (None, 0.5, "hours"), (None, 49.0, "hours")],
)
def test_what_is_no_lake_and_no_soak_is_refused(lake: float, hours: float, field: str) -> None:
    with pytest.raises(InputError) as caught:
        soaked(lake=lake, hours=hours)
    assert caught.value.field == field


class TestTable:
    def request(self, recipe: Recipe = RECIPE) -> PlanRequest:
        return PlanRequest(recipe, BENCH, prior_factors(), TINY)

    def test_winter_and_summer_solid_and_cored(self) -> None:
        made = soak_table(self.request(), (WINTER, SUMMER), time=8 * HOUR)
        told = [(case.core, values(case.stage.temperature)) for case in made.cases]
        own = RECIPE.bait.core
        assert told == [(own, WINTER), (own, SUMMER), (None, WINTER), (None, SUMMER)]
        assert [case.planned for case in made.cases] == [True, True, False, False]

    def test_a_solid_recipe_is_set_beside_a_core_from_the_shelf(self) -> None:
        made = soak_table(self.request(with_bait(core=None)), (WINTER,), time=HOUR)
        assert [case.core for case in made.cases] == [None, Core("cork-ball", 0.008)]

    def test_the_benchs_own_lake_comes_first(self) -> None:
        made = soak_table(self.request(), (), time=HOUR)
        lakes = {float(values(case.stage.temperature)) for case in made.cases}
        assert values(made.first.stage.temperature) == BENCH.lake_temperature
        assert lakes == {279.15, SUMMER}  # 5 C is too like the bench's 6 C

    def test_each_remark_comes_once(self) -> None:
        notes = soak_table(self.request(), (WINTER, WINTER + 0.1), time=HOUR).notes
        assert len(set(notes)) == len(notes)


@pytest.mark.parametrize("hours", [1.0, 14.0, 48.0])
def test_a_soak_takes_enough_steps(hours: float) -> None:
    """Against 352 steps, for water of any pace: close at the hours told, looser in the minutes."""
    random, count = np.random.default_rng(20_261_127), 256
    outer, pace = random.uniform(4e-3, 11e-3, count), np.geomspace(2e-11, 1.5e-9, count)
    ball = MoistBall(outer, random.uniform(0.0, 0.7, count) * outer, 0.15, 1350.0)
    skin = random.uniform(0.4, 1.5, count)
    run = unwrap(
        soak_run(
            ball=given("ball", ball, label="ball"),
            surface=given("surface", skin, label="skin"),
            diffusivity=given("diffusivity", pace, label="pace"),
            temperature=given("temperature", WINTER, label="lake"),
            end=given("end", hours * HOUR, label="end"),
        ).value
    )
    leg = WaterLeg(hours * HOUR, WINTER, skin)
    fine = absorb(
        ball, [leg], diffusivity=lambda kelvin, water: pace, steps=352, output_times=run.times
    )
    apart = np.abs(run.water - fine.water) / -fine.evaporated[-1]
    assert apart[run.times >= HOUR].max() <= 5e-4
    assert apart[run.times >= 120.0].max() <= 3e-3
