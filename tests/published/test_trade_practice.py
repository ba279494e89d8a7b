"""What makers commonly see, beside what the plan says. Common practice, no source, every one.

The plan's defaults were fixed before these checks were first run and are not tuned to them. Where
plan and practice part, the test holds the difference and says what is suspected; the same lines
stand in docs/numbers.md under the doubts.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from baitwright.batch.plan import BatchPlan
from baitwright.materials.defaults import default
from baitwright.materials.eggs import contents_volume, grade
from baitwright.materials.liquids import level_range
from baitwright.materials.sieves import sieve
from baitwright.materials.tools import choose_syringe, draw, syringe
from baitwright.physics.buoyancy import sphere_volume
from baitwright.recipe.base_mix import hardener_on_top
from baitwright.recipe.dosing import Judged, judge, pre_blend
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import Bridge, read_level
from baitwright.recipe.model import BaitKind, Core, Hardener, HardenerBasis, Hardness
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, RECIPE, planned, with_bait, with_eggs

pytestmark = pytest.mark.published

DRAWS = Draws(batches=256, baits=4)
TEN_MM = Core("cork-ball", 0.010)
POP_UPS = (0.016, 0.017, 0.018)


def share(quantity: Quantity) -> float:
    return float(unwrap(quantity.value))


def middle_of(system_and_grade: str) -> float:
    return contents_volume(grade(system_and_grade).mass)


@pytest.mark.parametrize(
    ("system", "expected", "why"),
    [
        (
            "EU",
            0.753,
            "the open top grade starts at 73 g, heavier than the beaker's 'just over 50'",
        ),
        ("UK", 0.753, "as EU"),
        ("US", 0.785, "within a fortieth of practice"),
        ("CA", 0.785, "within a fortieth of practice"),
        ("AU", 0.730, "medium begins at 42 g there, smaller than the egg of the practice"),
    ],
)
def test_medium_beside_extra_large(system: str, expected: float, why: str) -> None:
    """40 ml beside just over 50 ml: about 0.8, by a beaker and of an unknown country."""
    ratio = middle_of(f"{system} M") / middle_of(f"{system} XL")
    assert ratio == pytest.approx(expected, abs=0.002), why
    assert 0.72 < ratio < 0.85


def test_one_letter_is_another_egg_elsewhere() -> None:
    """An extra large of 'just over 50 ml' is an Australian or an American one, never a European."""
    fits = {
        system
        for system in ("EU", "UK", "US", "CA", "AU")
        if contents_volume(grade(f"{system} XL").low) <= 53e-6
    }
    assert fits == {"CA", "AU"}


@pytest.mark.parametrize("measured", [40e-6, 50e-6])
def test_a_measured_egg_wins_over_its_grade(measured: float) -> None:
    """And the plan says that it did, so that it can teach the maker's own egg factor."""
    eggs = Eggs(EggKind.WHOLE, count=1, grade="EU L", contents_volume=measured)
    stage = planned(bench=with_eggs(eggs)).eggs
    assert median_of(stage.volume) == pytest.approx(measured, rel=0.01)
    assert any("measurement stands" in note.text for note in stage.notes)


@pytest.mark.parametrize(("level", "expected"), [("0.2 ml", 0.16e-6), ("1.0 ml", 0.80e-6)])
def test_a_smaller_egg_takes_less(level: str, expected: float) -> None:
    """0.2 and 1.0 ml for a 50 ml egg are 0.16 and 0.80 ml for one of 40 ml."""
    malt = replace(RECIPE.liquids[0], level=read_level(f"{level} per egg of 50 ml", "level"))
    eggs = Eggs(EggKind.WHOLE, count=1, contents_mass=0.0412)
    stage = planned(replace(RECIPE, liquids=(malt,)), with_eggs(eggs)).doses
    assert median_of(stage.doses[0].volume) == pytest.approx(expected, rel=1e-9)


def test_a_small_syringe_beats_a_squeeze_pipette() -> None:
    squeezed = draw(syringe("squeeze-pipette-3"), 0.8e-6)
    assert choose_syringe(0.8e-6).total < 0.5 * squeezed.total


def test_a_fifth_of_a_millilitre_is_hard_to_measure() -> None:
    """0.2 ml in a 1 ml syringe carries nearly 10 %, and the plan offers a blend."""
    fill = draw(syringe("1 ml"), 0.2e-6)
    assert fill.tolerance / 0.2e-6 == pytest.approx(0.095, abs=1e-9)
    blend = pre_blend(0.2e-6, fill, None)
    assert blend is not None
    assert blend.fill.relative < 0.06


def test_half_a_teaspoon_of_thick_extract_is_usual() -> None:
    bridge = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.080)
    level = read_level("1/2 tsp per egg of 50 ml", "level")
    remark = judge(Judged("Extract", level, "thick extract"), use="hookbait", bridge=bridge)
    assert remark is None


@pytest.mark.parametrize(
    ("level", "strength", "remarked"),
    [
        ("0.2 ml", "quality", False),
        ("1 ml", "quality", False),
        ("4.5 ml", "quality", True),
        ("4.5 ml", "weak", False),
    ],
)
def test_levels_of_strong_and_weak_flavours(level: str, strength: str, remarked: bool) -> None:
    """A quality flavour at 0.2 to 1 ml an egg; 4 to 5 ml belongs to weak ones."""
    bridge = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.080)
    read = read_level(f"{level} per egg of 50 ml", "level")
    remark = judge(Judged("Flavour", read, strength), use="hookbait", bridge=bridge)
    assert (remark is not None) is remarked


def test_weak_flavours_bring_their_carrier() -> None:
    weak = replace(
        RECIPE.liquids[0], level=read_level("4.5 ml per egg of 50 ml", "level"), strength="weak"
    )
    strong = RECIPE.liquids[0]
    by_weak = planned(replace(RECIPE, liquids=(weak,)))
    by_strong = planned(replace(RECIPE, liquids=(strong,)))
    shares = [median_of(plan.doses.carriers[0].share) for plan in (by_weak, by_strong)]
    assert shares[0] / shares[1] == pytest.approx(4.5 / 0.8, rel=0.04)
    assert any("sum of its carriers" in note.text for note in by_weak.notes)


def test_free_baits_carry_less() -> None:
    for strength in ("quality", "weak", "normal", "concentrated"):
        assert level_range(strength, "free bait").high < level_range(strength, "hookbait").high


def test_hardener_on_an_ordinary_base_and_on_milk_proteins() -> None:
    """50 g on 500 g gives 550 g; half as much on a base rich in milk proteins."""
    ordinary = default("hardener_ordinary").value
    assert 0.5 * (1 + ordinary) == pytest.approx(0.55)
    assert default("hardener_milk").value == pytest.approx(0.05)
    of_finished = Hardener(0.05 / 0.55, HardenerBasis.OF_FINISHED, "egg-albumen-powder")
    assert hardener_on_top(of_finished) == pytest.approx(0.10)


def test_a_kitchen_sieve_has_about_a_millimetre() -> None:
    assert sieve("kitchen").low <= 1e-3 <= sieve("kitchen").high


@pytest.fixture(scope="module")
def pop_ups() -> dict[float, BatchPlan]:
    """One extra-large egg of 54 ml, rolled round 10 mm corks."""
    bench = replace(
        with_eggs(Eggs(EggKind.WHOLE, count=1, contents_mass=54e-6 * 1030)), lake_temperature=283.15
    )
    return {
        diameter: planned(
            with_bait(kind=BaitKind.POP_UP, diameter=diameter, core=TEN_MM, hardness=Hardness.HARD),
            bench,
            draws=DRAWS,
        )
        for diameter in POP_UPS
    }


def test_baits_from_one_egg(pop_ups: dict[float, BatchPlan]) -> None:
    """At least 50 to 60 baits of 16 to 18 mm on 10 mm cores from one extra-large egg."""
    counts = [median_of(plan.rolled.baits) for plan in pop_ups.values()]
    assert counts[0] > 60
    assert 50 <= counts[1] <= 70
    # A miss: at 18 mm the middle falls just short. Suspect the dry mix per egg; the tub tells.
    assert 44 <= counts[2] < 50
    assert band_of(pop_ups[0.018].rolled.baits).high80 > 50


def test_50_to_60_baits_of_one_egg_in_under_half_an_hour_of_hands(
    pop_ups: dict[float, BatchPlan],
) -> None:
    """Under half an hour of hands-on work before drying, both rollings included.

    Rolling and boiling keep to it, 22 min for the 59 baits of 17 mm. A miss: with weighing and
    kneading it is 42. The default for those, 20 min (10 to 30, common practice), is the same for
    one egg as for a whole mixer: suspect it, and let a stop watch tell. Even its low end leaves
    those of 17 mm two minutes over.
    """
    for plan in pop_ups.values():
        assert share(plan.day.together) < 30 * 60
        assert share(plan.day.mixing) == default("mixing_time").value == 20 * 60
        assert share(plan.day.hands_on) == share(plan.day.mixing) + share(plan.day.together)
    of_59 = pop_ups[0.017].day
    assert 50 <= share(of_59.baits) <= 60
    assert share(of_59.together) / 60.0 == pytest.approx(21.8, abs=0.5)
    assert share(of_59.hands_on) / 60.0 == pytest.approx(41.8, abs=0.5)


def test_seconds_in_a_vigorous_boil(pop_ups: dict[float, BatchPlan]) -> None:
    """About 75 s sets baits of 16 to 18 mm hard; the set itself, before margin and hold."""
    seconds = [median_of(plan.boil.set_seconds) for plan in pop_ups.values()]
    assert seconds == pytest.approx([58.4, 72.7, 87.8], abs=1.5)
    assert seconds[0] < 75 < seconds[2]
    # With margin for 9 baits in 10 and a hold the advice is longer than practice: the plan is
    # surer than a maker who has cut his own baits open. The cook factor closes the gap.
    advised = [share(plan.boil.seconds) for plan in pop_ups.values()]
    assert advised == sorted(advised)
    assert advised[0] > 75


def test_a_night_on_the_tray(pop_ups: dict[float, BatchPlan]) -> None:
    """At least 8 to 10 h of air drying.

    The plan leaves them on the tray for 8 to 10 h, by which 9 in 10 are a tenth lighter. A miss:
    the middle bait is so in 4 to 6 h. Suspect the film round a bait among its neighbours, and the
    mark itself: twenty baits weighed at 8 h settle both.
    """
    middle = [median_of(plan.dry.ready) / 3600 for plan in pop_ups.values()]
    assert middle == pytest.approx([4.1, 4.9, 5.8], abs=0.4)
    tray = [share(plan.dry.time) / 3600 for plan in pop_ups.values()]
    assert tray == sorted(tray)
    assert 8 <= tray[0] <= tray[2] <= 10.5


def test_a_night_lies_between_two_marks(pop_ups: dict[float, BatchPlan]) -> None:
    """A tenth of the weight is lost in less than a night, keeping asks for more than one.

    After 8 to 10 h the middle bait stands above the 0.88 below which an unpacked bait needs no cold
    by the tables, as practice knows: air-dried for a night, then into the fridge.
    """
    for plan in pop_ups.values():
        assert 0.89 < median_of(plan.dry.activity) < 0.95
        late = next(point for point in plan.dry.curve if point.time == 24 * 3600)
        assert median_of(late.activity) < 0.88


def test_all_of_them_float_alone(pop_ups: dict[float, BatchPlan]) -> None:
    """Dried 16 to 18 mm baits on 10 mm cork all float alone.

    A miss that grows with size: the plan expects about 97, 87 and 66 of a hundred. Suspect the
    core's density and the air that drying leaves; one dried bait pushed under in a tared cup
    settles it.
    """
    floats = [
        next(share(one.share) for one in plan.water.alone if one.word.id == "floats")
        for plan in pop_ups.values()
    ]
    assert floats[0] > 0.95
    assert 0.80 < floats[1] < 0.95
    assert 0.55 < floats[2] < 0.80
    for plan in pop_ups.values():
        assert band_of(plan.water.dried).high80 > 0


def test_a_little_more_paste_makes_a_wafter(pop_ups: dict[float, BatchPlan]) -> None:
    lifts = [median_of(plan.water.dried) for plan in pop_ups.values()]
    assert lifts == sorted(lifts, reverse=True)


def test_the_eight_millimetre_core_sinks_more_often() -> None:
    """15 mm on 9 mm and on 8 mm cork: the smaller core lifts less by its own buoyancy."""
    plan = planned(bench=replace(BENCH, cores=(0.008, 0.009)), draws=DRAWS)
    small, large = plan.water.cores
    gained = median_of(large.lift) - median_of(small.lift)
    cork = sphere_volume(0.009) - sphere_volume(0.008)
    expected = float(cork) * (median_of(plan.rolled.density) * 0.99 - 200.0)
    assert gained == pytest.approx(expected, rel=0.05)
    assert share(small.wish) < share(large.wish)
    assert np.mean(np.asarray(unwrap(small.lift.value)) < 0) > 0.25
