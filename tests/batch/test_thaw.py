"""What comes from the freezer: when it has to come out, and the laws that any thawing keeps."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.plan import BatchPlan
from baitwright.batch.stow import stow
from baitwright.physics.freezing import Shape
from baitwright.physics.thawing import ThawingBody, ThawingCourse, thawing_time
from baitwright.recipe.bench import FromFreezer, Frozen, Storage, ThawsIn
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import band_of, median_of
from tests.batch.kitchen import BENCH, NOW, planned


def thawing(
    what: Frozen, place: ThawsIn = ThawsIn.FRIDGE, thickness: float | None = None
) -> BatchPlan:
    return planned(bench=replace(BENCH, frozen=(FromFreezer(what, thickness, place),)))


@pytest.mark.parametrize("what", Frozen)
def test_it_is_told_with_a_band_and_planned_beyond_it(what: Frozen) -> None:
    (one,) = thawing(what).day.thaws
    band = band_of(one.time)
    assert 0.0 < band.low80 < band.high80 <= float(unwrap(one.planned.value))
    assert float(unwrap(one.planned.value)) % 1800.0 == 0.0


@pytest.mark.parametrize("what", [Frozen.EGG, Frozen.PASTE])
def test_egg_and_paste_thaw_before_anything_is_mixed(what: Frozen) -> None:
    later = BENCH.now + timedelta(days=3)
    bench = replace(BENCH, leaving=later, frozen=(FromFreezer(what),))
    plan = planned(bench=bench)
    first, mix = plan.day.steps[:2]
    assert (first.name, mix.name) == ("thaw", "mix")
    assert first.end == mix.start
    assert plan.day.beside == ()
    assert plan.day.steps[-1].end == later


def test_paste_that_was_mixed_is_only_kneaded() -> None:
    kneaded, mixed = (thawing(one).day for one in (Frozen.PASTE, Frozen.EGG))
    assert median_of(kneaded.hands_on) < median_of(mixed.hands_on)


@pytest.mark.parametrize("what", [Frozen.HOOKBAITS, Frozen.FREE_BAITS])
def test_baits_thaw_beside_the_batch_and_are_ready_at_leaving(what: Frozen) -> None:
    plan = thawing(what)
    (step,) = plan.day.beside
    assert step.end == BENCH.leaving
    assert step.start >= NOW
    assert [one.name for one in plan.day.steps] == [one.name for one in planned().day.steps]


@pytest.mark.parametrize("what", Frozen)
def test_the_warmer_its_place_the_sooner(what: Frozen) -> None:
    fridge, room, water = (median_of(thawing(what, one).day.thaws[0].time) for one in ThawsIn)
    assert fridge > room > water


def test_a_thicker_pack_takes_longer() -> None:
    times = [
        median_of(thawing(Frozen.PASTE, thickness=one).day.thaws[0].time)
        for one in (0.01, 0.03, 0.06)
    ]
    assert times == sorted(times)
    assert times[2] > 2.0 * times[1], "more than in proportion: heat has further to go"


def test_its_caution_is_raised() -> None:
    assert any(one.id == "thaw-cold" for one in thawing(Frozen.EGG).care.cautions)
    assert not any(one.id == "thaw-cold" for one in planned().care.cautions)


@settings(max_examples=60)
@given(
    st.floats(0.005, 0.1),
    st.sampled_from(Shape),
    st.floats(0.0, 2.5e5),
    st.floats(0.05, 1.0),
    st.floats(2.0, 300.0),
    st.floats(1.0, 25.0),
)
def test_more_ice_is_never_sooner_and_more_warmth_never_later(
    thickness: float, shape: Shape, ice: float, conducts: float, film: float, warm: float
) -> None:
    def time(ice: float, warm: float, film: float) -> float:
        body = ThawingBody(1000.0, ice, 3000.0, conducts)
        course = ThawingCourse(255.15, 271.15, 271.15 + warm, film)
        return float(thawing_time(thickness, shape, body=body, course=course))

    usual = time(ice, warm, film)
    assert usual > 0.0
    assert time(ice + 1e4, warm, film) > usual
    assert time(ice, warm + 1.0, film) < usual
    assert time(ice, warm, 1.1 * film) < usual


def test_into_the_freezer_wet_takes_more_room_and_a_bag_more_time() -> None:
    wet, dried = (stow(planned(), wet=one) for one in (True, False))
    assert median_of(wet.room) > median_of(dried.room), "a bait shrinks as it dries"
    assert median_of(wet.time) < median_of(dried.time), "loose on a tray beside a flat bag"
    for one in (wet, dried):
        assert float(unwrap(one.litres.value)) >= median_of(one.room)


def test_room_in_the_freezer_by_hand() -> None:
    """Baits times pi D^3 / 6 over 0.6, the mean over the tray."""
    plan = planned()
    diameter = np.asarray(unwrap(plan.tray.boiled.diameter.value))
    baits = np.asarray(unwrap(plan.rolled.baits.value))
    room = baits * np.mean(np.pi / 6.0 * diameter**3, axis=-1, keepdims=True) / 0.6
    assert median_of(stow(plan, wet=True).room) == pytest.approx(float(np.median(room)), rel=1e-9)


def test_a_colder_freezer_is_never_later() -> None:
    usual, cold = (
        median_of(stow(planned(bench=replace(BENCH, store=Storage(freezer=kelvin))), wet=True).time)
        for kelvin in (255.15, 248.15)
    )
    assert cold < usual
