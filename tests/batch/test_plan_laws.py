"""Laws of the whole plan: what goes in comes out, twice the eggs is twice everything but time."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.plan import BatchPlan, PlanRequest, plan
from baitwright.materials.factors import prior_factors
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.model import Core
from baitwright.terms.quantity import PerBait, PerBatch, Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, FEW, RECIPE, planned, with_bait, with_eggs

TINY = Draws(batches=16, baits=2)


@pytest.fixture(scope="module")
def demo() -> BatchPlan:
    return planned()


def values(quantity: Quantity) -> Any:
    return np.asarray(unwrap(quantity.value))


def test_every_account_closes(demo: BatchPlan) -> None:
    assert len(demo.dry.bait.ledger.entries) == 4
    assert {entry.what for entry in demo.dry.bait.ledger.entries} == {
        "Malt",
        "Caraway",
        "heat",
        "water",
    }
    assert demo.dry.bait.ledger.worst_gap < 1e-9


def test_paste_goes_into_baits_or_is_lost(demo: BatchPlan) -> None:
    rolled = demo.rolled
    mean_pinch = values(rolled.pinch).mean(axis=1, keepdims=True)
    out = values(rolled.baits) * mean_pinch + values(rolled.lost)
    np.testing.assert_allclose(out, values(rolled.paste), rtol=1e-12)


def test_water_in_the_bowl_is_water_in_the_baits(demo: BatchPlan) -> None:
    bait = demo.rolled.bait
    share_rolled = 1.0 - values(demo.rolled.lost) / values(demo.rolled.paste)
    mix_water = float(demo.mix.prepared.make_up.water)
    in_bowl = values(demo.eggs.water) + mix_water * values(demo.mix.dry_mix)
    shell = values(bait.solids) + values(bait.water) + values(bait.solute_mass)
    dusted = shell.mean(axis=1, keepdims=True) - values(demo.rolled.pinch).mean(
        axis=1, keepdims=True
    )
    in_baits = values(demo.rolled.baits) * (
        values(bait.water).mean(axis=1, keepdims=True) - mix_water * dusted
    )
    np.testing.assert_allclose(in_baits, share_rolled * in_bowl, rtol=1e-9)


def test_liquids_in_the_bowl_are_liquids_in_the_baits(demo: BatchPlan) -> None:
    share_rolled = 1.0 - values(demo.rolled.lost) / values(demo.rolled.paste)
    for dose, solute in zip(demo.doses.doses, demo.rolled.bait.solutes, strict=True):
        in_baits = values(demo.rolled.baits) * values(solute.mass).mean(axis=1, keepdims=True)
        np.testing.assert_allclose(in_baits, share_rolled * values(dose.mass), rtol=1e-9)


def test_a_baits_volume_is_the_room_its_parts_take(demo: BatchPlan) -> None:
    """Drying keeps the books of volume: what shrinks and what becomes air is the water lost."""
    before, after = demo.boil.bait, demo.dry.bait
    shrunk = np.pi / 6 * (values(before.diameter) ** 3 - values(after.diameter) ** 3)
    gained = values(after.air) - values(before.air)
    np.testing.assert_allclose(shrunk + gained, values(demo.dry.lost) / 998.2, rtol=1e-9)


def test_twice_the_eggs_is_twice_everything_but_time() -> None:
    once = planned(bench=with_eggs(Eggs(EggKind.WHOLE, count=2, contents_mass=0.11)))
    twice = planned(bench=with_eggs(Eggs(EggKind.WHOLE, count=4, contents_mass=0.22)))
    for take in (
        lambda p: p.mix.dry_mix,
        lambda p: p.rolled.paste,
        lambda p: p.rolled.baits,
        lambda p: p.tub_used,
        lambda p: p.doses.doses[0].volume,
        lambda p: p.rolled.lost,
    ):
        np.testing.assert_allclose(values(take(twice)), 2 * values(take(once)), rtol=1e-12)
    for take in (
        lambda p: p.mix.per_egg,
        lambda p: p.rolled.pinch,
        lambda p: p.boil.set_seconds,
        lambda p: p.dry.ready,
        lambda p: p.water.dried,
    ):
        np.testing.assert_allclose(values(take(twice)), values(take(once)), rtol=1e-12)


def test_the_same_request_gives_the_same_plan() -> None:
    request = PlanRequest(RECIPE, BENCH, prior_factors(), TINY)
    first, second = plan(request), plan(request)
    for one, other in zip(first.quantities(), second.quantities(), strict=True):
        if isinstance(one.value, float | PerBatch | PerBait):
            assert one.name == other.name
            assert np.array_equal(unwrap(one.value), unwrap(other.value))


def test_another_seed_gives_another_plan_of_the_same_size() -> None:
    other = planned(draws=replace(FEW, seed=1))
    this = planned()
    assert not np.array_equal(values(this.mix.dry_mix), values(other.mix.dry_mix))
    assert median_of(other.mix.dry_mix) == pytest.approx(median_of(this.mix.dry_mix), rel=0.05)


@settings(max_examples=8, deadline=None)
@given(st.floats(0.006, 0.0105), st.floats(0.0005, 0.002))
def test_more_cork_never_sinks_more(core: float, more: float) -> None:
    small = planned(with_bait(core=Core("cork-ball", core)), draws=TINY)
    large = planned(with_bait(core=Core("cork-ball", core + more)), draws=TINY)
    assert np.all(values(large.water.fresh) > values(small.water.fresh))


@settings(max_examples=6, deadline=None)
@given(st.floats(0.012, 0.020), st.floats(0.0005, 0.003))
def test_a_larger_bait_takes_longer_to_set_and_to_dry(diameter: float, more: float) -> None:
    small = planned(with_bait(diameter=diameter, core=None), draws=TINY)
    large = planned(with_bait(diameter=diameter + more, core=None), draws=TINY)
    assert np.all(values(large.boil.set_seconds) > values(small.boil.set_seconds))
    finite = np.isfinite(values(large.dry.ready))
    assert np.all(values(large.dry.ready)[finite] > values(small.dry.ready)[finite])


@settings(max_examples=6, deadline=None)
@given(st.floats(0.2, 0.7), st.floats(0.05, 0.25))
def test_damper_air_dries_no_faster(humidity: float, more: float) -> None:
    dry_air = planned(bench=_room(humidity=humidity), draws=TINY)
    damp_air = planned(bench=_room(humidity=humidity + more), draws=TINY)
    assert np.all(values(damp_air.dry.curve[4].loss) <= values(dry_air.dry.curve[4].loss))


def _room(**changes: float) -> Any:
    return replace(BENCH, room=replace(BENCH.room, **changes))


def test_weight_on_the_tray_only_falls(demo: BatchPlan) -> None:
    masses = np.stack([values(point.mass) for point in demo.dry.curve])
    assert np.all(np.diff(masses, axis=0) < 0)


def test_thinner_air_boils_cooler_and_longer() -> None:
    low, high = planned(draws=TINY), planned(bench=replace(BENCH, altitude=2000.0), draws=TINY)
    assert values(high.boil.boiling_point) < values(low.boil.boiling_point)
    assert np.all(values(high.boil.set_seconds) > values(low.boil.set_seconds))


# Plain numbers in the plan that are a wish, a reading off a tool or an index, not a result.
_NOT_RESULTS = {
    "CoreOption.diameter",
    "BaitState.moistures",  # the profile along the radius, which a run's quantities rest on
    "DryingPoint.time",
    "SoakPoint.time",
    "MatchStage.diameter",
    "MatchStage.level_share",
    "PreBlend.dose",
    "PreBlend.carrier_parts",
    "Measurement.minutes",
    "BaseAnalysis.coarse_share",
    "Powder.density",
}
_TABLES = (
    "baitwright.materials",
    *(f"baitwright.recipe.{module}" for module in ("model", "bench", "liquid", "eggs")),
)


def plain_numbers(node: Any, place: str) -> list[str]:
    """Every bare number that can be reached in a plan without passing through a quantity."""
    if isinstance(node, bool | PlanRequest | Quantity):
        return []
    if isinstance(node, int | float | np.ndarray):
        return [place]
    if isinstance(node, tuple):
        return [found for part in node for found in plain_numbers(part, place)]
    if not is_dataclass(node) or type(node).__module__.startswith(_TABLES):
        return []
    return [
        found
        for field in fields(node)
        for found in plain_numbers(getattr(node, field.name), f"{type(node).__name__}.{field.name}")
    ]


def test_every_number_of_a_plan_was_declared(demo: BatchPlan) -> None:
    undeclared = set(plain_numbers(demo, "BatchPlan"))
    spine = {
        place for place in undeclared if place.startswith(("Bridge.", "Entry.", "Composition."))
    }
    assert undeclared - spine <= _NOT_RESULTS


def test_every_computed_number_says_how(demo: BatchPlan) -> None:
    for quantity in demo.quantities():
        for part in quantity.walk():
            if part.origin == "computed":
                assert part.equation, part.name
                assert part.inputs, part.name
            assert part.source, part.name


def test_more_draws_move_the_middle_little() -> None:
    request = PlanRequest(RECIPE, BENCH, prior_factors(), Draws(batches=512, baits=4))
    many, few = plan(request), planned(draws=Draws(batches=128, baits=4))
    for take in (lambda p: p.mix.dry_mix, lambda p: p.rolled.baits, lambda p: p.boil.set_seconds):
        assert median_of(take(few)) == pytest.approx(median_of(take(many)), rel=0.02)
