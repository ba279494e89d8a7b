"""Curves of a plan: the plan's own numbers at its own times, and physics in between."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.curves import crust, drying_curve, front_curve
from baitwright.batch.drying import at_time, leaving_run
from baitwright.batch.front import depth_run, set_depth
from baitwright.batch.reached import crust_depth
from baitwright.batch.soaking import water_depth
from baitwright.physics.radial import Ball, MoistBall, WaterLeg, absorb
from baitwright.terms.quantity import unwrap
from tests.batch.kitchen import BENCH, RECIPE, planned

HOUR = 3600.0
SECONDS = tuple(5.0 * at for at in range(25))
SOLID = replace(RECIPE, bait=replace(RECIPE.bait, core=None))


def values(quantity: Any) -> Any:
    return np.asarray(unwrap(quantity.value))


def pot_of(plan: BatchPlan) -> dict[str, Any]:
    """What the middle bait's run in the pot was made from."""
    run = dict(plan.boil.front.inputs)["run"]
    return {name: unwrap(one.value) for name, one in run.inputs}


def wall(plan: BatchPlan) -> Any:
    bait = plan.rolled.bait
    return 0.5 * (values(bait.diameter) - values(bait.core_diameter))


@pytest.mark.parametrize("recipe", [RECIPE, SOLID], ids=["cored", "solid"])
class TestSetFront:
    def test_it_goes_from_the_skin_to_the_core_and_never_back(self, recipe: Any) -> None:
        plan = planned(recipe, BENCH)
        depths = [values(point.depth) for point in front_curve(plan.boil, SECONDS)]
        assert np.all(depths[0] == 0.0)
        for earlier, later in pairwise(depths):
            assert np.all(later >= earlier - 1e-12)
        assert np.all(depths[-1] <= wall(plan) * (1.0 + 1e-9))
        assert np.mean(depths[-1]) > 0.7 * np.mean(wall(plan))

    def test_it_is_through_when_the_coldest_paste_has_set(self, recipe: Any) -> None:
        """As many baits as the plan's finer run has set by then, or had one step of 2 s before."""
        plan = planned(recipe, BENCH)
        times = [time for end in (*SECONDS[1:], 150.0) for time in (end - 2.0, end)]
        points = front_curve(plan.boil, times)
        for before, now in zip(points[::2], points[1::2], strict=True):
            share = np.mean(values(now.depth) >= wall(plan) * (1.0 - 1e-9))
            assert values(before.through) - 0.01 <= share <= values(now.through) + 0.01

    def test_at_the_timer_as_many_are_through_as_the_plan_tells(self, recipe: Any) -> None:
        plan = planned(recipe, BENCH)
        (point,) = front_curve(plan.boil, (float(values(plan.boil.seconds)),))
        assert values(point.through) == values(plan.boil.set_share)

    def test_the_middle_bait_sets_as_the_plan_tells(self, recipe: Any) -> None:
        """Within 0.1 mm: the plan's steps are shorter, and it takes the next of them."""
        plan = planned(recipe, BENCH)
        pot, front = pot_of(plan), plan.boil.front.value
        ball = pot["ball"]
        radii = (np.array([np.median(one)]) for one in (ball.outer_radius, ball.core_radius))
        middle = Ball(*radii, ball.shell, ball.core)
        film = float(np.median(pot["film"]))
        run = depth_run.function(middle, pot["pot"], film, pot["start"], 2.0 * pot["seconds"])
        one = np.ones((1, 1))
        found = [float(set_depth.function(run, at, one, one)[0, 0]) for at in front.seconds]
        tenth = 0.1e-3 if recipe is RECIPE else 0.4e-3  # a ball's very middle sets all at once
        assert found == pytest.approx(front.depths, abs=tenth)


def test_baits_worked_through_in_lots_are_those_worked_through_alone() -> None:
    plan = planned()
    pot = pot_of(plan)
    ball, film = pot["ball"], np.repeat(pot["film"].ravel(), 4)
    together = depth_run.function(ball, pot["pot"], pot["film"], pot["start"], 120.0)
    for at in (0, 63, 64, 200):
        one = Ball(ball.outer_radius[at : at + 1], ball.core_radius[at : at + 1], *ball_of(ball))
        alone = depth_run.function(one, pot["pot"], film[at : at + 1], pot["start"], 120.0)
        assert alone.depths[:, 0] == pytest.approx(together.depths[:, at], abs=1e-9)


def ball_of(ball: Ball) -> tuple[Any, Any]:
    return ball.shell, ball.core


def test_a_slower_kitchen_sets_later() -> None:
    pot = pot_of(planned())
    run = depth_run.function(pot["ball"], pot["pot"], pot["film"], pot["start"], 180.0)
    like = np.ones((64, 4))
    slow, fast = (set_depth.function(run, 40.0, np.full((64, 1), by), like) for by in (1.3, 0.8))
    same = set_depth.function(run, 52.0, np.full((64, 1), 1.3), like)
    assert np.all(slow <= fast)
    assert np.mean(slow) < 0.8 * np.mean(fast)
    assert same == pytest.approx(set_depth.function(run, 40.0, np.ones((64, 1)), like))


class TestTray:
    def test_at_the_plan_s_own_times_it_is_the_plan_s_own_water(self) -> None:
        dry = planned().dry
        time = float(values(dry.time))
        told = [point.time for point in dry.curve]
        *others, last = drying_curve(dry, (*told, time))
        assert np.array_equal(values(last.left), values(dry.bait.water))
        rest = [values(p.mass) - values(o.left) for p, o in zip(dry.curve, others, strict=True)]
        for one in rest[1:]:
            assert one == pytest.approx(rest[0], rel=1e-12)  # core, solids and liquids stay

    def test_water_only_leaves(self) -> None:
        hours = [HOUR * at for at in range(0, 97, 3)]
        left = [values(point.left) for point in drying_curve(planned().dry, hours)]
        for earlier, later in pairwise(left):
            assert np.all(later <= earlier + 1e-12)
        assert np.all(left[-1] > 0.0)

    def test_the_run_to_the_end_of_the_tray_loses_what_the_longer_one_has_by_then(self) -> None:
        """Within 0.002 of the first water: other steps of time."""
        dry = planned().dry
        time = float(values(dry.time))
        parts = {name: unwrap(one.value) for name, one in dry.run.inputs}
        short, whole = leaving_run.function(until=time, **parts), dry.run.value
        by_then = at_time(whole, whole.water, time, like=short.water[-1])
        assert short.times[-1] == pytest.approx(time)
        assert short.water[-1] == pytest.approx(by_then, abs=0.002 * float(whole.water[0].max()))

    def test_a_crust_lies_within_the_paste(self) -> None:
        dry = planned().dry
        depth = values(crust(dry))
        paste = 0.5 * (values(dry.diameter) - values(dry.bait.core_diameter))
        assert np.all(depth > 0.0)
        assert np.all(depth <= paste * (1.0 + 1e-9))
        assert np.median(depth) < 0.8 * np.median(paste)


PACES = np.array([8e-11, 2e-11])


def dried(hours: float, *, content: float) -> Any:
    """A ball of two draws whose skin is held at 0.4 while its inside begins at a content."""
    ball = MoistBall(np.full(2, 0.0075), 0.0045, content, 1400.0)
    run = absorb(
        ball,
        [WaterLeg(HOUR * hours, 293.15, 0.4)],
        diffusivity=lambda kelvin, content: PACES,
        output_times=np.array([0.0, HOUR * hours]),
    )
    return run, 2.0 * run.outer_radius[-1], 2.0 * 0.0045


def test_early_on_the_crust_stands_where_a_half_space_has_it() -> None:
    """Loss beside the skin's is R/r erfc((R - r) / 2 root(D t)) while the inside is untouched.

    crank-1975: in a ball, content x radius diffuses as in a half space. Within 0.01 of a half, for
    a ball that loses so little that it hardly shrinks.
    """
    run, diameter, core = dried(0.25, content=0.43)
    outer, depth = run.outer_radius[-1], crust_depth.function(run, diameter, core)
    reach = depth / (2.0 * np.sqrt(PACES * 0.25 * HOUR))
    share = outer / (outer - depth) * np.array([math.erfc(one) for one in reach])
    assert share == pytest.approx(0.5, abs=0.01)


def test_what_dries_has_no_lake_in_it_and_what_soaks_has_no_crust() -> None:
    drying, soaking = dried(1.0, content=0.6), dried(1.0, content=0.2)
    assert np.all(crust_depth.function(*drying) > 0.0)
    assert np.all(water_depth.function(*drying) == 0.0)
    assert np.all(crust_depth.function(*soaking) == 0.0)
    assert np.all(water_depth.function(*soaking) > 0.0)
