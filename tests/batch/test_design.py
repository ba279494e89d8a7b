"""Designing backwards: what is proposed does what is wanted, and a refusal says why."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.design import DesignStage, speed_pull
from baitwright.batch.rig_balance import balance_rig
from baitwright.batch.settle import sinking_speed
from baitwright.batch.soak import NIGHT
from baitwright.batch.target import Drift, Limits, Target, Wish, lasts, target_of
from baitwright.materials.kinds import bait_kinds, lift_alone, lift_on_rig
from baitwright.recipe.bench import Hook
from baitwright.recipe.model import BaitKind, Core, Recipe
from baitwright.recipe.rig import Rig
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from tests.batch.kitchen import BENCH, RECIPE, planned, with_bait

HOUR = 3600.0
WATER, VISCOSITY = 999.7, 1.3059e-3


def values(quantity: Quantity) -> np.ndarray:
    return np.asarray(unwrap(quantity.value))


def designed(
    recipe: Recipe = RECIPE,
    *,
    putty: float = 0.0,
    slowest: float | None = None,
    fastest: float | None = None,
) -> DesignStage:
    rig = Rig(putty=putty, slowest=slowest, fastest=fastest)
    return balance_rig(planned(recipe, replace(BENCH, rig=rig))).design


@pytest.mark.parametrize("kind", list(BaitKind))
def test_every_way_bears_the_wanted_name(kind: BaitKind) -> None:
    made = designed(with_bait(kind=kind, core=Core("cork-ball", 0.009)))
    row = bait_kinds()[kind.value]
    assert made.options
    for one in made.options:
        assert lift_alone(median_of(one.alone)).id in row.alone
        assert lift_on_rig(median_of(one.rig)).id in row.on_rig
        assert float(one.margin.value) >= 0.0


def test_the_surest_stand_first() -> None:
    shares = [round(float(one.share.value), 2) for one in designed().options]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > 0.8


def test_the_planned_bait_is_among_those_weighed_up() -> None:
    plan = planned()
    own = next(
        one
        for one in balance_rig(plan).design.options
        if (one.diameter, one.core, one.granules) == (0.015, RECIPE.bait.core, 0.0)
    )
    assert median_of(own.alone) == pytest.approx(median_of(plan.water.dried), abs=5e-6)
    assert median_of(own.rig) == pytest.approx(median_of(plan.water.rig), abs=5e-6)


def test_other_drying_is_weighed_up_for_the_planned_bait() -> None:
    plan = planned()
    made = balance_rig(plan)
    own = [
        one
        for one in made.design.options
        if (one.diameter, one.core, one.granules) == (0.015, RECIPE.bait.core, 0.0)
    ]
    lifts = {one.tray: values(one.alone) for one in own}
    planned_time = median_of(plan.dry.time)
    assert planned_time in lifts
    assert len(lifts) > 2
    for point in plan.dry.curve:
        if point.time in lifts and point.time != planned_time:
            mass, room = values(point.mass), np.pi / 6.0 * values(point.diameter) ** 3
            by_hand = values(plan.water.water_density) * room - mass
            np.testing.assert_allclose(lifts[point.time], by_hand, atol=1e-6)
    longest, shortest = max(lifts), min(lifts)
    assert lifts[longest].mean() > lifts[shortest].mean()  # what closes not is air


def test_of_alike_ways_the_planned_drying_stands_first() -> None:
    ways = [
        (round(float(one.share.value), 2), one.granules, one.tray) for one in designed().options
    ]
    planned_time = median_of(planned().dry.time)
    for first, second in pairwise(ways):
        if first[:2] == second[:2]:
            assert abs(first[2] - planned_time) <= abs(second[2] - planned_time)


def test_of_alike_ways_the_plainest_nearest_and_roomiest_stand_first() -> None:
    """Alike is what is as sure to a whole percent, however they differ within it."""
    planned_time = median_of(planned().dry.time)
    order = [
        (
            -round(float(one.share.value), 2),
            one.granules,
            abs(one.tray - planned_time),
            round(abs(one.diameter - RECIPE.bait.diameter) * 1e6),
            -float(one.margin.value),
        )
        for one in designed().options
    ]
    assert order == sorted(order)
    for level in range(1, 5):  # each step of the order has something to put in order here
        assert any(a[:level] == b[:level] and a[level] < b[level] for a, b in pairwise(order))


def test_no_way_leaves_less_paste_than_holds() -> None:
    assert min(one.paste for one in designed().options) >= 0.0015 - 1e-9


def test_what_it_carries_it_can_hold_up() -> None:
    made = designed(with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.009)), putty=0.1e-3)
    assert made.options
    assert all(median_of(one.rig) >= 0.0899e-3 for one in made.options)


def test_what_may_not_sink_fast_does_not() -> None:
    slow = designed(fastest=0.12)
    assert 0 < len(slow.options) < len(designed().options)
    for one in slow.options:
        speed = sinking_speed.function(one.diameter, median_of(one.rig), WATER, 1.47e-3)
        assert float(speed) <= 0.1201


def test_what_may_not_sink_slowly_does_not() -> None:
    quick = designed(slowest=0.12)
    assert 0 < len(quick.options) < len(designed().options)
    for one in quick.options:
        speed = sinking_speed.function(one.diameter, median_of(one.rig), WATER, 1.47e-3)
        assert float(speed) >= 0.1199


def test_a_pop_up_that_must_sink_cannot_be() -> None:
    made = designed(with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.009)), slowest=0.5)
    assert not made.options
    assert "the wishes exclude each other: on its rig" in made.notes[0].text


def test_a_refusal_says_what_stands_in_the_way() -> None:
    made = designed(with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.012)), putty=5e-3)
    assert not made.options
    assert made.nearest is not None
    assert float(made.nearest.margin.value) < 0.0
    (note,) = made.notes
    assert "too little on its rig" in note.text
    assert "less than 1.5 mm of paste" in note.text
    assert "no core inside 15 mm would do it" in note.text


def test_a_heavy_hook_needs_a_larger_core() -> None:
    heavy = replace(BENCH, hook=Hook(mass=1.5e-3), cores=(0.005, 0.006))
    made = balance_rig(planned(bench=heavy)).design
    assert not made.options
    assert "would need a core of at least" in made.notes[0].text


def test_wishes_that_exclude_each_other_are_told() -> None:
    made = designed(with_bait(kind=BaitKind.SINKER, core=None), fastest=0.1)
    assert not made.options
    assert "the wishes exclude each other" in made.notes[0].text
    assert "which is no sinker" in made.notes[0].text


@given(st.floats(0.01, 0.02), st.floats(0.01, 0.4))
def test_the_pull_of_a_speed_sinks_at_it(diameter: float, speed: float) -> None:
    pull = speed_pull(diameter, speed, water_density=WATER, viscosity=VISCOSITY)
    found = sinking_speed.function(diameter, -pull, WATER, VISCOSITY)
    assert float(found) == pytest.approx(speed, rel=1e-6)


def test_targets_are_those_of_the_table() -> None:
    wafter = target_of("wafter", Wish())
    assert (wafter.alone.low, wafter.alone.high) == (-0.02e-3, np.inf)
    assert wafter.rig.low == pytest.approx(-0.30e-3)
    assert wafter.rig.high == pytest.approx(0.02e-3)
    assert target_of("wafter", Wish(), most_pull=0.1e-3).rig.low == pytest.approx(-0.1e-3)
    assert target_of("pop-up", Wish(carry=0.5e-3)).rig.low == pytest.approx(0.5e-3)


class TestHowLong:
    """For how many hours a way goes on doing what is wanted."""

    TARGET = Target(alone=Limits(0.02e-3, np.inf), rig=Limits(0.1e-3, np.inf))
    DRIFT = Drift(np.array([0.0, HOUR, 4 * HOUR]), np.array([0.0, 0.1e-3, 0.4e-3])[:, None, None])

    def stops(self, net: float, paste_share: float = 1.0) -> float:
        lifts = {"alone": np.full((1, 1), net + 1e-3), "rig": np.full((1, 1), net)}
        found = lasts.function(
            **lifts, drift=self.DRIFT, target=self.TARGET, paste_share=paste_share
        )
        return float(found[0, 0])

    def test_by_hand_a_tenth_of_a_gram_an_hour(self) -> None:
        assert self.stops(0.3e-3) == pytest.approx(2 * HOUR)
        assert self.stops(0.25e-3) == pytest.approx(1.5 * HOUR)

    def test_a_bait_that_never_does_it_stops_at_once(self) -> None:
        assert self.stops(0.05e-3) == 0.0

    def test_one_with_lift_to_spare_never_stops(self) -> None:
        assert self.stops(0.6e-3) == np.inf

    def test_twice_the_paste_loses_twice_as_fast(self) -> None:
        assert self.stops(0.3e-3, paste_share=2.0) == pytest.approx(HOUR)

    def test_putty_shortens_a_pop_up(self) -> None:
        recipe = with_bait(kind=BaitKind.POP_UP, core=Core("cork-ball", 0.011))
        plain, laden = (
            balance_rig(planned(recipe, replace(BENCH, rig=Rig(putty=putty))))
            for putty in (0.0, 0.1e-3)
        )
        assert np.all(values(laden.lasts) <= values(plain.lasts))
        assert np.any(values(laden.lasts) < values(plain.lasts))

    def test_the_night_begins_with_the_dry_balance_and_grows_heavier(self) -> None:
        made = balance_rig(planned())
        np.testing.assert_allclose(
            values(made.night[0].net), values(made.on_rig.stage.net), rtol=0, atol=0
        )
        assert median_of(made.night[5].net) < median_of(made.night[0].net)

    def test_the_plan_and_the_rig_tell_one_night(self) -> None:
        """To 0.01 mg: the rig's run goes on to 48 h, in other steps of time."""
        plan = planned()
        made = balance_rig(plan)
        (night,) = (one for one in made.night if one.time == NIGHT)
        np.testing.assert_allclose(
            values(night.net), values(plan.soak.curve[-1].rig), rtol=0, atol=1e-8
        )
