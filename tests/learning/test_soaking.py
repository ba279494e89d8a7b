"""Baits weighed dry and soaked: what they say of how fast water moves in the bait."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from baitwright.batch.soak import Lake, soak
from baitwright.batch.unknowns import Unknowns
from baitwright.learning.bottle import BottleLesson, learn_from_bottle
from baitwright.learning.soaking import GainChart, SoakLesson, gain_chart, soak_lesson
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import unwrap
from baitwright.terms.records import BottleTest, Look, Soaked, WeighedTogether
from baitwright.uncertainty.bands import band_of
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.importance import EFFECTIVE
from tests.batch.kitchen import BENCH, RECIPE, planned
from tests.learning.bottle_kitchen import TAP, mixed, seen, tray

SampleSize = Callable[[int, int], int]
HOUR = 3600.0
BEFORE = 8.72e-3


def gained(share: float, *, hours: float = 4.0, count: int = 6) -> Soaked:
    return Soaked(hours * HOUR, count, BEFORE, BEFORE * (1.0 + share))


@cache
def taught(test: BottleTest) -> BottleLesson:
    made = tray()
    return learn_from_bottle(made, test, factors=made.request.factors)


@cache
def chart(*hours: float, temperature: float = TAP) -> GainChart:
    return gain_chart(tray(), temperature, times=[HOUR * one for one in hours])


def lesson(*soaked: Soaked, temperature: float = TAP) -> SoakLesson:
    hours = (one.after / HOUR for one in soaked)
    return soak_lesson([chart(*hours, temperature=temperature)], soaked)


def width(found: SoakLesson) -> float:
    return math.log(found.after.high80 / found.after.low80)


# --- what is learned -------------------------------------------------------------------------


def test_more_gained_is_a_faster_bait() -> None:
    middles = [lesson(gained(share)).after.median for share in (0.2, 0.25, 0.3, 0.35, 0.4, 0.5)]
    assert middles == sorted(middles)
    assert middles[0] < 0.8
    assert middles[-1] > 1.3


def test_gained_as_planned_narrows_and_stays() -> None:
    expected = lesson(gained(0.3)).gained[0].expected
    found = lesson(gained(expected.median))
    assert found.after.median == pytest.approx(1.0, abs=0.15)
    assert width(found) < 0.75 * math.log(found.before.high80 / found.before.low80)
    assert found.before.low80 < found.after.low80 < found.after.high80 < found.before.high80


def test_the_belief_before_is_the_plans_own() -> None:
    """Quantiles of the grid against those of Student's t with 4 degrees of freedom: 1.533, 2.776.

    Keeping it within five scales takes 3 in 400 from its tails.
    """
    before = lesson(gained(0.3)).before
    assert before.median == pytest.approx(1.0, abs=1e-6)
    assert math.log(before.high80) == pytest.approx(0.5 * 1.533, abs=0.015)
    assert math.log(before.low95) == pytest.approx(-0.5 * 2.776, abs=0.08)


def test_the_test_s_water_counts_and_not_the_lake_s() -> None:
    """Warm water moves faster: the same gain in it is a slower bait."""
    cold, warm = (lesson(gained(0.3), temperature=kelvin) for kelvin in (279.15, 298.15))
    assert warm.after.median < 0.8 * cold.after.median


def test_an_early_weighing_tells_more_than_a_late_one() -> None:
    shares = [
        lesson(gained(chart(hours).gain[0, 100].mean(), hours=hours)).seen.share
        for hours in (2.0, 12.0, 48.0)
    ]
    assert shares[0] > shares[1] > shares[2]
    assert shares[0] > 0.5


def test_two_weighings_tell_more_than_one() -> None:
    once = lesson(gained(0.3))
    twice = lesson(gained(0.3), gained(0.46, hours=12.0))
    assert width(twice) < width(once)


def test_a_thousand_sets_of_all_else_stand_behind_it() -> None:
    found = taught(seen(soaked=(gained(0.3),))).soaked
    assert found is not None
    assert found.effective >= EFFECTIVE
    assert found.after.draws >= EFFECTIVE


def test_a_gain_beyond_belief_points_and_moves_nothing() -> None:
    found = taught(seen(Look(0.0, 5, 1, 2), soaked=(gained(1.0, hours=12.0),)))
    assert found.soaked is not None
    assert found.soaked.effective < EFFECTIVE
    little = next(one for one in found.tells_little if one.key == "soak")
    assert "points to 2." in little.words
    assert "not how far" in little.words
    assert "soak" not in {one.after.key for one in found.proposals}


# --- beside the rest of the test -------------------------------------------------------------


def test_without_soaked_baits_nothing_is_said_of_soaking() -> None:
    dry = taught(mixed(5, 3))
    assert dry.soaked is None
    keys = {one.after.key for one in dry.proposals} | {one.key for one in dry.tells_little}
    assert "soak" not in keys


def test_soaked_baits_leave_the_lift_as_it_was() -> None:
    dry, wet = taught(mixed(5, 3)), taught(replace(mixed(5, 3), soaked=(gained(0.35),)))
    (soaked,) = set(wet.proposals) - set(dry.proposals)
    assert soaked.after.key == "soak"
    rest = replace(
        wet,
        soaked=None,
        proposals=tuple(one for one in wet.proposals if one is not soaked),
    )
    assert rest == dry


def test_soaked_baits_alone_are_a_test_too() -> None:
    found = taught(seen(soaked=(gained(0.35),)))
    assert found.after == found.before
    assert not found.bounds_only
    assert [one.after.key for one in found.proposals] == ["soak"]


def test_a_later_set_moves_on_from_its_own_belief() -> None:
    made, test = tray(), seen(soaked=(gained(0.35),))
    first = taught(test)
    kept = first.accepted(made.request.factors, name="kept", made_on=datetime(2026, 11, 27))
    again = learn_from_bottle(made, test, factors=kept)
    (once,), (twice,) = first.proposals, again.proposals
    assert twice.before == once.after
    assert (twice.after.batches, once.after.batches) == (2, 1)
    assert 0.0 < once.after.mu < twice.after.mu


def test_what_is_kept_narrows_the_next_soak() -> None:
    """Water taken up in a night, by the plan's soak and not by the chart."""
    made = tray()
    share = lesson(gained(0.3, hours=2.0)).gained[0].expected.median
    found = taught(seen(soaked=(gained(share, hours=2.0),)))
    kept = found.accepted(made.request.factors, name="kept", made_on=datetime(2026, 11, 27))
    lake = Lake(279.15, 14 * HOUR, made.water.hook, "wafter")
    bands = [
        band_of(
            soak(made.dry.bait, lake, unknowns=Unknowns(made.request.draws, factors))
            .curve[-1]
            .taken
        )
        for factors in (made.request.factors, kept)
    ]
    assert bands[1].high95 - bands[1].low95 < 0.97 * (bands[0].high95 - bands[0].low95)


@pytest.mark.parametrize(
    ("soaked", "said"),
    [
        (Soaked(4 * HOUR, 6, 8.72, 11e-3), r"soaked\[1\]\.weight_before: got .*Check the unit"),
        (Soaked(4 * HOUR, 6, 8.72e-3, 11.0), r"soaked\[1\]\.weight: got .*Check the unit"),
        (Soaked(4 * HOUR, 6, 8.72e-3, 5.9e-3), r"soaked\[1\]\.weight: got '5.9 g', .* 6.1 g to"),
        (Soaked(4 * HOUR, 6, 8.72e-3, 0.0114), None),
    ],
)
def test_weighings_that_cannot_be(soaked: Soaked, said: str | None) -> None:
    test = seen(Look(0.0, 5, 1, 2), soaked=(soaked,))
    if said is None:
        assert taught(test).soaked is not None
        return
    with pytest.raises(InputError, match=said):
        taught(test)


def test_water_warmer_than_any_lake() -> None:
    hot = replace(seen(soaked=(gained(0.3),)), water_temperature=311.15)
    with pytest.raises(InputError, match=r"water: got '38 °?C', .* for baits weighed soaked"):
        taught(hot)
    weighed = replace(hot, soaked=(), baits=WeighedTogether(12, 17.6e-3))
    assert taught(weighed).soaked is None


# --- invented makers -------------------------------------------------------------------------


def makers(size: int, *, seed: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Their soak factors, and dry weight and weight after 4 h of four baits of each.

    Each maker is one draw of a plan of another seed, soaked by the plan's own soak.
    """
    world = planned(RECIPE, BENCH, draws=Draws(batches=size, baits=4, seed=seed))
    unknowns = Unknowns(world.request.draws, world.request.factors)
    lake = Lake(TAP, 4 * HOUR, world.water.hook, "wafter")
    wet = soak(world.dry.bait, lake, unknowns=unknowns).bait
    dried = world.dry.bait
    weights = [np.asarray(unwrap(one.mass.value)).sum(axis=1) for one in (dried, wet)]
    area = np.pi * np.asarray(unwrap(dried.diameter.value)) ** 2
    generator = np.random.default_rng(seed)
    film = generator.normal(0.0, 0.02e-3, size) * 998.6 * area.sum(axis=1)
    read = generator.normal(1.0, 0.01, (2, size))
    factors = np.asarray(unwrap(unknowns.factor("soak").value))[:, 0]
    return factors, np.stack([weights[0] * read[0], (weights[1] + film) * read[1]])


@pytest.mark.simulation
def test_bands_of_the_factor_hold_what_they_promise(sample_size: SampleSize) -> None:
    """Makers drawn from the plan's beliefs, four baits of each weighed dry and after four hours.

    The tolerance is two standard errors of the count; the seed is fixed.
    """
    size = sample_size(60, 1000)
    held, off = {80: 0, 95: 0}, {"before": 0.0, "after": 0.0}
    for true, (before, after) in zip(*_told(*makers(size, seed=31)), strict=True):
        found = lesson(Soaked(4 * HOUR, 4, before, after))
        held[80] += found.after.low80 <= true <= found.after.high80
        held[95] += found.after.low95 <= true <= found.after.high95
        off["before"] += abs(math.log(true)) / size
        off["after"] += abs(math.log(true / found.after.median)) / size
    for level, count in held.items():
        rate = level / 100
        error = 2.0 * math.sqrt(rate * (1.0 - rate) / size)
        assert count / size == pytest.approx(rate, abs=error), level
    assert off["after"] < 0.75 * off["before"]


def _told(
    factors: NDArray[np.float64], weights: NDArray[np.float64]
) -> tuple[list[float], list[tuple[float, float]]]:
    return factors.tolist(), [(float(b), float(a)) for b, a in weights.T]
