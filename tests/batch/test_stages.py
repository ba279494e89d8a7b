"""Each stage's own rules: bases, bridges, carriers, tubs, options, times of day, cautions."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from baitwright.batch.bench_time import roll_and_boil
from baitwright.batch.cautions import CautionStage
from baitwright.batch.cores import size_core
from baitwright.batch.front import set_front
from baitwright.batch.plan import PlanRequest, plan
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import core as core_row
from baitwright.materials.factors import prior_factors, prior_of_default
from baitwright.physics.protein_set import albumen_rate, set_extent
from baitwright.quantities import show
from baitwright.recipe.bench import Hook, Pot, Room, Tub
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import Measure, read_level
from baitwright.recipe.model import (
    Analysis,
    BaitKind,
    BaseMix,
    Core,
    Hardener,
    HardenerBasis,
    Hardness,
    Part,
)
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import (
    BENCH,
    CARAWAY,
    COPPER,
    FEW,
    MALT,
    NOW,
    RECIPE,
    planned,
    with_bait,
    with_eggs,
)


def number(quantity: Quantity) -> float:
    return float(unwrap(quantity.value))


def dosed(level: str, **changes: object) -> Quantity:
    liquid = replace(MALT, level=read_level(level, "level"), **changes)
    return planned(replace(RECIPE, liquids=(liquid,))).doses.doses[0].volume


class TestEggs:
    def test_weighing_narrows_what_the_grade_leaves_open(self) -> None:
        graded = planned(bench=with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L"))).eggs.volume
        weighed = planned(
            bench=with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L", shell_mass=0.204))
        ).eggs.volume
        poured = planned(bench=with_eggs(Eggs(EggKind.WHOLE, count=3, contents_mass=0.177)))
        width = [band_of(q).high80 - band_of(q).low80 for q in (graded, weighed)]
        assert width[0] > width[1] > 0
        assert band_of(poured.eggs.volume).is_known

    def test_so_many_eggs_of_a_grade_scatter_as_the_sum_of_uniforms(self) -> None:
        """EU L is 63 to 73 g an egg; a uniform's standard deviation is its width over root 12."""
        count = 5
        bench = with_eggs(Eggs(EggKind.WHOLE, count=count, grade="EU L"))
        (shells,) = (
            part
            for part in planned(bench=bench, draws=Draws(batches=1024, baits=1)).eggs.volume.walk()
            if part.name == "graded_eggs"
        )
        values = 1e3 * np.asarray(unwrap(shells.value))
        assert values.mean() == pytest.approx(count * 68.0, rel=1e-3)
        assert values.std() == pytest.approx(10.0 * math.sqrt(count / 12.0), rel=0.02)

    def test_the_factor_learned_for_a_grade_is_for_that_grade(self) -> None:
        prior = prior_factors()
        before = prior.find("egg_volume", "EU L")
        own = replace(before, about="EU L", mu=before.mu + math.log(1.1))
        factors = prior.with_factors([own], name="own", made_on=NOW)
        for grade, times in (("EU L", 1.1), ("EU M", 1.0)):
            bench = with_eggs(Eggs(EggKind.WHOLE, count=3, grade=grade, shell_mass=0.2))
            made = plan(PlanRequest(RECIPE, bench, factors, FEW))
            was = median_of(planned(bench=bench).eggs.volume)
            assert median_of(made.eggs.volume) == pytest.approx(times * was, rel=1e-12)

    @pytest.mark.parametrize(
        ("eggs", "field"),
        [
            (Eggs(EggKind.CARTON, count=3), "eggs"),
            (Eggs(EggKind.WHOLE, shell_mass=0.2), "eggs.count"),
        ],
    )
    def test_what_cannot_be_weighed_names_its_field(self, eggs: Eggs, field: str) -> None:
        with pytest.raises(InputError) as refused:
            planned(bench=with_eggs(eggs))
        assert refused.value.field == field

    def test_mixed_sizes_add_up(self) -> None:
        both = planned(
            bench=with_eggs(
                Eggs(EggKind.WHOLE, count=2, contents_mass=0.1),
                Eggs(EggKind.WHITE, count=1, contents_mass=0.03),
            )
        ).eggs
        assert median_of(both.mass) == pytest.approx(0.13)
        assert number(both.count) == 3

    @pytest.mark.parametrize("kind", [EggKind.CARTON, EggKind.EGG_FREE])
    def test_what_has_no_shell_must_be_measured(self, kind: EggKind) -> None:
        with pytest.raises(InputError, match="measured ml or g"):
            planned(bench=with_eggs(Eggs(kind, count=2)))

    def test_white_and_yolk_of_an_egg_are_the_egg(self) -> None:
        parts = [
            median_of(planned(bench=with_eggs(Eggs(kind, count=3, shell_mass=0.2))).eggs.mass)
            for kind in (EggKind.WHITE, EggKind.YOLK, EggKind.WHOLE)
        ]
        assert parts[0] + parts[1] == pytest.approx(parts[2], rel=1e-9)

    def test_no_egg_at_all_is_refused(self) -> None:
        with pytest.raises(InputError, match="binding liquid"):
            planned(bench=with_eggs())

    def test_eggs_follow_from_baits_wanted(self) -> None:
        wanted = replace(BENCH, eggs=(Eggs(EggKind.WHOLE, grade="EU L"),), baits_wanted=150)
        plan = planned(bench=wanted)
        assert number(plan.eggs.count) == plan.request.bench.eggs[0].count
        assert band_of(plan.rolled.baits).low80 > 150 * 0.98
        fewer = planned(bench=replace(wanted, eggs=(Eggs(EggKind.WHOLE, count=1, grade="EU L"),)))
        assert band_of(fewer.rolled.baits).low80 < 150


class TestLevels:
    def test_all_bases_meet_through_the_dry_mix(self) -> None:
        per_egg = dosed("0.8 ml per egg of 50 ml")
        per_egg_mass = dosed("8 ml per 515 g egg")
        plan = planned(replace(RECIPE, liquids=(MALT,)))
        grams = median_of(plan.mix.dry_mix)
        per_kilogram = dosed(f"{0.8 * 165 / 51.5 / grams:.9g} ml per kg dry mix")
        per_pound = dosed(f"{0.8 * 165 / 51.5 / grams * 0.45359237:.9g} ml per lb dry mix")
        for other in (per_egg_mass, per_kilogram, per_pound):
            assert median_of(other) == pytest.approx(median_of(per_egg), rel=1e-6)

    def test_a_weight_to_a_weight_of_paste_is_their_share(self) -> None:
        liquid = replace(MALT, level=read_level("60 g per 2 kg paste", "level"))
        plan = planned(replace(RECIPE, liquids=(liquid, CARAWAY)))
        share = np.asarray(unwrap(plan.doses.doses[0].share.value))
        np.testing.assert_allclose(share, 0.03, rtol=1e-12)

    def test_a_share_of_the_paste_counts_the_liquid_itself(self) -> None:
        liquid = replace(MALT, level=read_level("2 % of paste", "level"))
        plan = planned(replace(RECIPE, liquids=(liquid, CARAWAY)))
        share = np.asarray(unwrap(plan.doses.doses[0].share.value))
        np.testing.assert_allclose(share, 0.02, rtol=1e-12)

    @pytest.mark.parametrize("level", ["20 ml per kg paste", "800 drops per 2 kg paste"])
    def test_a_volume_against_the_paste_is_that_volume_in_that_paste(self, level: str) -> None:
        """20 ml, or 800 drops at 40 a ml against twice the paste: 2 or 1 % by volume per kg."""
        liquid = replace(MALT, level=read_level(level, "level"), drops_per_volume=40e6)
        dose = planned(replace(RECIPE, liquids=(liquid, CARAWAY))).doses.doses[0]
        mass, volume, share = (
            np.asarray(unwrap(part.value)) for part in (dose.mass, dose.volume, dose.share)
        )
        expected = 20e-6 if liquid.level.measure is Measure.VOLUME else 10e-6
        np.testing.assert_allclose(volume / (mass / share), expected, rtol=1e-9)

    def test_drops_need_a_counted_bottle(self) -> None:
        with pytest.raises(InputError, match="not a unit until its bottle") as refused:
            dosed("4 drops per egg of 50 ml")
        assert refused.value.field == "liquid.level"
        assert refused.value.got == "4 drops per egg of 50 ml"
        assert "drops_per_ml" in refused.value.accepted
        counted = dosed("4 drops per egg of 50 ml", drops_per_volume=40e6)
        assert median_of(counted) == pytest.approx(0.1e-6 * 165 / 51.5, rel=1e-9)

    def test_the_fill_is_one_and_its_error_known(self) -> None:
        dose = planned().doses.doses[0]
        assert dose.fill is not None
        assert dose.error is not None
        assert abs(dose.fill.rounding) <= dose.fill.tool.graduation / 2
        assert 0.02 < number(dose.error) < 0.12

    def test_a_thick_extract_goes_by_weight_and_spoon(self) -> None:
        thick = replace(MALT, level=read_level("1/2 tsp per egg of 50 ml", "level"), thick=True)
        one_egg = with_eggs(Eggs(EggKind.WHOLE, count=1, contents_mass=0.0515))
        dose = planned(replace(RECIPE, liquids=(thick,)), one_egg).doses.doses[0]
        assert dose.fill is None
        assert dose.spoons is not None
        assert (dose.spoons.count, dose.spoons.spoon.id) == (1, "half-teaspoon")
        assert dose.spoons.low < 2.5e-6 < dose.spoons.high

    def test_its_makers_limit_is_held_up(self) -> None:
        limited = replace(MALT, limit=read_level("0.4 ml per egg of 50 ml", "limit"))
        notes = planned(replace(RECIPE, liquids=(limited,))).notes
        assert any("2 times the most its maker gives" in note.text for note in notes)


class TestMix:
    def test_hardener_is_counted_two_ways_that_agree(self) -> None:
        on_top = planned().mix.preparation
        assert number(on_top.on_top) == pytest.approx(0.10)
        assert number(on_top.of_finished) == pytest.approx(0.10 / 1.10)
        finished = Hardener(0.10 / 1.10, HardenerBasis.OF_FINISHED, "egg-albumen-powder")
        other = planned(replace(RECIPE, hardener=finished)).mix.preparation
        assert number(other.on_top) == pytest.approx(0.10, rel=1e-12)

    def test_a_tub_is_sieved_base_and_hardener(self) -> None:
        made = planned(bench=replace(BENCH, tub=Tub(wanted=0.55))).mix.preparation
        assert number(made.sieved) == pytest.approx(0.5)
        assert number(made.hardener) == pytest.approx(0.05)
        left = np.asarray(unwrap(made.raw.value)) - unwrap(made.coarse.value)
        np.testing.assert_allclose(left, 0.5, rtol=1e-12)

    def test_a_tub_too_small_is_remarked(self) -> None:
        plan = planned(bench=replace(BENCH, tub=Tub(mass=0.25)))
        assert not plan.mix.tub_is_planned
        assert any("tub may run out" in note.text for note in plan.notes)
        assert not any(
            "run out" in n.text for n in planned(bench=replace(BENCH, tub=Tub(mass=1))).notes
        )

    def test_knowing_less_of_the_base_widens_the_plan(self) -> None:
        known = planned()
        analysed = planned(replace(RECIPE, base=BaseMix("Copper", analysis=Analysis(protein=0.2))))
        named = planned(replace(RECIPE, base=BaseMix("Copper")))
        for take in (lambda p: p.mix.density, lambda p: p.mix.dry_mix):
            widths = [
                band_of(take(p)).high80 / band_of(take(p)).low80 for p in (known, analysed, named)
            ]
            assert widths == sorted(widths)
            assert widths[0] < widths[2]
        assert any("known by its name alone" in note.text for note in named.notes)

    def test_shares_must_sum(self) -> None:
        broken = BaseMix("Copper", parts=(Part("semolina", 0.5), Part("maize-starch", 0.4)))
        with pytest.raises(InputError, match="90 %"):
            planned(replace(RECIPE, base=broken))

    def test_the_coarse_part_comes_from_the_sieve(self) -> None:
        finer = planned(replace(RECIPE, sieve="iso-0.50")).mix.preparation
        usual = planned().mix.preparation
        unsieved = planned(replace(RECIPE, sieve=None)).mix.preparation
        assert median_of(finer.coarse) > median_of(usual.coarse) > median_of(unsieved.coarse) == 0


class TestBoil:
    def test_harder_takes_longer_and_costs_more(self) -> None:
        options = planned().boil.options
        seconds = [number(option.seconds) for option in options]
        losses = [median_of(option.loss) for option in options]
        assert seconds == sorted(seconds)
        assert losses == sorted(losses)
        assert [option.hardness for option in options] == list(Hardness)

    def test_nine_in_ten_are_set_and_carry_over_only_helps(self) -> None:
        boil = planned().boil
        assert number(boil.set_share) >= 0.9
        assert number(boil.seconds) % 5 == 0
        assert number(boil.peak) >= number(boil.when_lifted)

    def test_the_set_front_moves_inward_to_the_core(self) -> None:
        boil = planned().boil
        front = boil.front.value
        assert list(front.depths) == sorted(front.depths)
        assert front.depths[-1] == pytest.approx(0.003, abs=2e-4)

    def test_the_set_front_begins_when_the_skin_alone_has_set(self) -> None:
        """All that has set by then lies between the last two places of the profile."""
        run = dict(planned().boil.front.inputs)["run"].value
        skin = set_extent(run.times, run.surface, albumen_rate)[:, 0]
        first = float(np.interp(0.95, skin, run.times))
        before, after = (set_front.function(run, 8.0 * first * by) for by in (0.9, 1.1))
        assert before.depths[0] == 0.0
        assert 0.0 < after.depths[0] < 5e-4

    def test_a_small_pot_of_little_power_takes_longer(self) -> None:
        full = Pot(water_volume=0.6e-3, net_power=400.0, basket=60)
        strained = planned(bench=replace(BENCH, pot=full)).boil
        assert median_of(strained.set_seconds) > 1.02 * median_of(planned().boil.set_seconds)


class TestDry:
    def test_air_that_never_dries_is_said_so(self) -> None:
        damp = planned(bench=replace(BENCH, room=Room(temperature=283.15, humidity=0.97)))
        assert np.isinf(median_of(damp.dry.ready))
        assert any("not be ready within four days" in note.text for note in damp.notes)

    def test_drying_as_such_changes_no_lift(self) -> None:
        plan = planned()
        lost, shrinks = unwrap(plan.dry.lost.value), unwrap(plan.dry.shrinkage.value)
        gained = unwrap(plan.water.dried.value) - unwrap(plan.water.fresh.value)
        closed = shrinks * number(plan.water.water_density) / 998.2
        np.testing.assert_allclose(gained, lost * (1.0 - closed), rtol=1e-9, atol=1e-12)


class TestBalance:
    def test_shares_of_all_words_are_the_whole_tray(self) -> None:
        water = planned().water
        for words in (water.alone, water.on_rig):
            assert sum(number(one.share) for one in words) == pytest.approx(1.0)

    def test_weighing_the_hook_takes_its_doubt_away(self) -> None:
        weighed = planned(bench=replace(BENCH, hook=Hook(mass=0.26e-3))).water
        assert band_of(weighed.hook).is_known
        assert not band_of(planned().water.hook).is_known

    def test_a_sinker_without_a_core_sinks(self) -> None:
        plan = planned(with_bait(kind=BaitKind.SINKER, diameter=0.014, core=None))
        assert number(plan.water.wish) > 0.99
        assert plan.water.cores == () or all(c.core.diameter < 0.0126 for c in plan.water.cores)

    def test_cores_scatter_as_the_table_has_it_for_their_kind(self) -> None:
        unknowns = Unknowns(Draws(batches=256, baits=16), prior_factors())
        for kind in ("cork-ball", "cork-stick"):
            row, sized = core_row(kind), size_core(Core(kind, 0.009), unknowns)
            assert row is not None
            spread = np.std(np.asarray(unwrap(sized.diameter.value)))
            assert spread == pytest.approx(row.diameter_spread, rel=0.05)

    def test_a_scatter_the_maker_has_learned_is_the_one_drawn(self) -> None:
        unknowns = Unknowns(Draws(batches=256, baits=16), prior_factors())
        halved = replace(prior_of_default("diameter_spread"), mu=math.log(0.5), batches=11)
        factors = prior_factors().with_factors([halved], name="mine", made_on=NOW)
        own = replace(unknowns, factors=factors)
        plain, mine = (
            np.std(np.asarray(unwrap(one.scatter("diameter_spread").value)))
            for one in (unknowns, own)
        )
        assert mine == pytest.approx(0.5 * plain, rel=0.02)

    def test_the_core_that_would_do_it_is_named(self) -> None:
        shelf = replace(BENCH, cores=(0.007, 0.009))
        plan = planned(with_bait(core=Core("cork-ball", 0.007)), shelf)
        assert any("A core of 9 mm would" in note.text for note in plan.notes)

    def test_a_thin_shell_is_planned_with_a_note(self) -> None:
        plan = planned(with_bait(diameter=0.0115))
        assert any("may crack" in note.text for note in plan.notes)


class TestDay:
    def test_a_worked_example_of_rolling_and_boiling(self) -> None:
        """110 baits, 20 to a load, 90 s and 60 s to swap, 3 a minute: 39.17 min (computed)."""
        minutes = roll_and_boil.function(rolling=110 / 3, baits=110, basket=20, loads=6, load=2.5)
        assert minutes == pytest.approx(39.1667, abs=1e-3)

    def test_it_ends_at_leaving_and_begins_in_time(self) -> None:
        day = planned().day
        assert day.steps[-1].end == BENCH.leaving
        assert day.worked_back
        assert not day.late
        assert all(a.end == b.start for a, b in zip(day.steps, day.steps[1:], strict=False))

    def test_too_late_is_said_with_what_would_help(self) -> None:
        rushed = planned(bench=replace(BENCH, leaving=NOW + timedelta(hours=6)))
        assert rushed.day.late
        assert any("Late by" in note.text for note in rushed.notes)

    def test_without_leaving_it_runs_from_now(self) -> None:
        day = planned(bench=replace(BENCH, leaving=None)).day
        assert day.steps[0].start == BENCH.now
        assert not day.worked_back


class TestFreeBait:
    def test_half_the_level_of_the_same_flavours(self) -> None:
        plan = planned()
        free = plan.free_bait
        assert free is not None
        strength = median_of(free.doses[0].volume) / median_of(free.egg_volume)
        here = median_of(plan.doses.doses[0].volume) / median_of(plan.eggs.volume)
        assert strength == pytest.approx(0.5 * here, rel=1e-9)

    def test_its_mix_takes_as_much_egg_per_gram(self) -> None:
        plan = planned()
        assert plan.free_bait is not None
        per_egg = 2.0 / median_of(plan.free_bait.eggs)
        assert per_egg == pytest.approx(median_of(plan.mix.per_egg), rel=0.01)


class TestCare:
    def texts(self, care: CautionStage) -> set[str]:
        return {caution.id for caution in care.cautions}

    @pytest.mark.parametrize(
        ("caution", "with_it", "without"),
        [
            ("neat-oil", (MALT, CARAWAY), (MALT,)),
            ("flash-point", (replace(MALT, carrier="ethanol"),), (MALT,)),
            ("acid-burn", (replace(MALT, strength="acid"),), (MALT,)),
        ],
    )
    def test_a_liquid_raises_its_caution(
        self, caution: str, with_it: tuple[object, ...], without: tuple[object, ...]
    ) -> None:
        assert caution in self.texts(planned(replace(RECIPE, liquids=with_it)).care)
        assert caution not in self.texts(planned(replace(RECIPE, liquids=without)).care)

    def test_nuts_and_their_absence(self) -> None:
        nutty = BaseMix("N", parts=(Part("semolina", 0.5), Part("peanut-flour-defatted", 0.5)))
        assert "fish-nuts" in self.texts(planned(replace(RECIPE, base=nutty)).care)
        assert "fish-nuts" not in self.texts(planned().care)

    def test_raw_egg_is_not_carton_egg(self) -> None:
        carton = with_eggs(Eggs(EggKind.CARTON, contents_mass=0.15))
        assert "eggs-hands" in self.texts(planned().care)
        assert "eggs-hands" not in self.texts(planned(bench=carton).care)

    def test_a_country_brings_its_own(self) -> None:
        british = planned(bench=replace(BENCH, country="GB")).care
        assert "dust-limit" in self.texts(british)
        assert "dust-advice" not in self.texts(british)

    def test_allergens_of_the_batch(self) -> None:
        care = planned().care
        assert {group.id for group in care.contains} >= {"cereals-with-gluten", "eggs", "soybeans"}
        assert care.known
        assert not planned(replace(RECIPE, base=BaseMix("Bought"))).care.known
        fish = replace(COPPER, parts=(*COPPER.parts[1:], Part("fishmeal-65", 0.45)))
        assert "fish" in {group.id for group in planned(replace(RECIPE, base=fish)).care.contains}


def test_what_is_asked_for_is_predicted() -> None:
    plan = planned()
    assert [one.name for one in plan.prove] == [
        "tub_used",
        "twenty_fresh",
        "twenty_at_8h",
        "cup_weight",
        "cup_rise",
    ]
    for one in plan.prove:
        band = band_of(one.predicted)
        assert band.low80 < band.median < band.high80
        assert one.minutes <= 3
    assert datetime(2026, 11, 26) < plan.request.bench.now


def test_a_pot_that_cannot_set_them_is_doubted() -> None:
    """High up a small ball's wall never gets hot enough; it is planned, and said."""
    small = with_bait(diameter=0.0112, core=Core("cork-ball", 0.006))
    plan = planned(small, replace(BENCH, altitude=4800.0, pot=Pot(0.3e-3, 150.0, 300)))
    assert number(plan.boil.set_share) < 0.85
    assert np.isfinite(number(plan.boil.seconds))
    assert any("not hot enough" in note.text for note in plan.notes)


def test_an_assumed_strength_is_said() -> None:
    assumed = replace(MALT, strength_assumed=True)
    notes = planned(replace(RECIPE, liquids=(assumed,))).notes
    assert any("strength is not stated" in note.text for note in notes)


def test_carton_egg_for_so_many_baits() -> None:
    wanted = replace(BENCH, eggs=(Eggs(EggKind.CARTON),), baits_wanted=120)
    plan = planned(bench=wanted)
    assert band_of(plan.rolled.baits).low80 > 120 * 0.98
    assert plan.request.bench.eggs[0].kind is EggKind.CARTON


class TestLate:
    def test_steps_of_a_late_day_run_from_now(self) -> None:
        rushed = planned(bench=replace(BENCH, leaving=NOW + timedelta(hours=6)))
        assert rushed.day.steps[0].start == NOW
        note = next(note.text for note in rushed.notes if "Late by" in note.text)
        assert "begun now they are bagged" in note
        assert "half the batch saves" in note
        steps = rushed.day.steps
        bagged = f"{max(step.end for step in steps):%a %d %b %H:%M}"
        assert f"begun now they are bagged {bagged}." in note
        late = rushed.day.slack.total_seconds() / 60.0
        hours, minutes = divmod(round(-late), 60)
        assert f"Late by {hours} h {minutes} min" in note

    def test_air_that_never_dries_ends_the_day_on_the_tray(self) -> None:
        damp = replace(BENCH, room=Room(temperature=283.15, humidity=0.97))
        day = planned(bench=damp).day
        assert not day.dries
        assert [step.name for step in day.steps][-1] == "dry"
        assert not day.late

    def test_only_eggs_in_their_shells_come_out_of_the_fridge(self) -> None:
        shells = planned(bench=with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L"))).day
        poured = planned(bench=with_eggs(Eggs(EggKind.CARTON, contents_mass=0.15))).day
        assert shells.steps[0].name == "eggs out"
        assert poured.steps[0].name == "mix"

    def test_times_are_whole_minutes(self) -> None:
        assert all(step.start.second == 0 for step in planned().day.steps)


def test_an_egg_free_bind_is_weighed_out() -> None:
    lot = planned(bench=with_eggs(Eggs(EggKind.EGG_FREE, contents_mass=0.15))).eggs.lots[0]
    assert [part.label for part in lot.parts] == ["egg albumen powder", "water"]
    assert sum(median_of(part) for part in lot.parts) == pytest.approx(0.15)
    assert planned().eggs.lots[0].parts == ()


def test_eggs_of_unknown_size_are_a_default() -> None:
    wanted = replace(BENCH, eggs=(Eggs(EggKind.WHOLE),), baits_wanted=60)
    plan = planned(bench=wanted)
    assert not band_of(plan.eggs.volume).is_known
    assert any("Nothing is known of these eggs" in note.text for note in plan.notes)
    assert any("for at least 60 baits" in note.text for note in plan.notes)
    origins = {part.name: part.origin for part in plan.eggs.volume.walk()}
    assert origins["level_egg_volume"] == "default"


def test_a_dose_too_small_to_measure_is_offered_let_down() -> None:
    """How far it may be off is the syringe's error beside the dose; the blend is told to the ml."""
    strong = replace(CARAWAY, level=read_level("0.01 ml per egg of 50 ml", "liquid.level"))
    plan = planned(replace(RECIPE, liquids=(MALT, strong)))
    small = next(one for one in plan.doses.doses if one.blend is not None)
    assert small.blend is not None
    assert small.fill is not None
    (note,) = (one for one in plan.notes if "Make up a bottle" in one.text)
    off = small.fill.total / median_of(small.volume)
    assert f"may be off by {round(100 * off)} %" in note.text
    assert f"1 part to {small.blend.carrier_parts} of" in note.text
    assert f"draw {show(small.blend.fill.volume, 'ml')} of it" in note.text
    assert not any(one.liquid.name in note.text for one in plan.doses.doses if one.blend is None)


def test_an_unstated_carrier_is_said() -> None:
    bare = replace(MALT, carrier="unknown")
    assert any(
        "carrier is not stated" in n.text for n in planned(replace(RECIPE, liquids=(bare,))).notes
    )
    assert not any("carrier is not stated" in note.text for note in planned().notes)


def test_more_draws_reach_no_impossible_kitchen() -> None:
    """Tails of factors known from little are kept within what a kitchen can be."""
    plan = planned(draws=Draws(batches=2048, baits=2))
    assert np.isfinite(number(plan.dry.time))


@pytest.mark.parametrize("humidity", [0.0, 0.01])
def test_bone_dry_air_is_air(humidity: float) -> None:
    dry_air = Room(temperature=313.15, humidity=humidity, air_speed=0.0)
    plan = planned(bench=replace(BENCH, room=dry_air))
    assert np.all(np.asarray(unwrap(plan.dry.bait.water.value)) >= 0.0)
    assert median_of(plan.dry.ready) < median_of(planned().dry.ready)


@pytest.mark.parametrize("key", ["surface_coefficient", "tray_exposure", "dusting_mix"])
def test_any_judged_default_moves_with_a_factor_of_its_name(key: str) -> None:
    """The hook for learning: a default is the prior, and a set may hold a factor for it."""
    prior = prior_of_default(key)
    learned = replace(prior, mu=math.log(1.3), kappa=12.0, nu=14.0, source="maker", batches=11)
    factors = prior_factors().with_factors([learned], name="mine", made_on=NOW)
    unknowns, bare = Unknowns(FEW, factors), Unknowns(FEW, prior_factors())
    own = unknowns.drawn_default(key)
    assert median_of(own) == pytest.approx(1.3 * median_of(bare.default(key)), rel=0.02)
    assert f"factor:{key}" in {part.name for part in own.walk()}
    plain = bare.default(key)
    names = [(one.name, one.label, one.unit, one.shown) for one in (own, plain)]
    assert names[0] == names[1]
    assert prior.median == 1.0
