"""The boil: what decides, what informs, what the pot may be, and what comes after it."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil import BoilStage, heat_run
from baitwright.batch.boil_notes import beyond_the_rules
from baitwright.batch.carry_over import CoreSet
from baitwright.batch.setting import binding_protein
from baitwright.physics.food import Composition
from baitwright.physics.series import sphere_series
from baitwright.recipe.bench import Pot, Quench
from baitwright.recipe.model import (
    Analysis,
    BaseMix,
    Core,
    Hardener,
    HardenerBasis,
    Hardness,
    Part,
    Recipe,
)
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.notes import Weight
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, RECIPE, planned, with_bait

FEW = Draws(batches=32, baits=2)
CHALK = BaseMix(
    "Chalk",
    parts=(
        Part("acid-casein", 0.25),
        Part("rennet-casein", 0.10),
        Part("whey-protein-80", 0.10),
        Part("milk-powder-skimmed", 0.15),
        Part("semolina", 0.25),
        Part("soya-flour-roasted", 0.15),
    ),
    milk_protein=True,
)
FIVE = Hardener(0.05, HardenerBasis.ON_TOP, "egg-albumen")


def number(quantity: Quantity) -> float:
    return float(unwrap(quantity.value))


def in_pot(recipe: Recipe = RECIPE, **bench: Any) -> BoilStage:
    return planned(recipe, replace(BENCH, **bench), draws=FEW).boil


def boil_notes(plan: BatchPlan) -> str:
    return " ".join(note.text for note in plan.notes if note.stage == "boil")


class TestSet:
    def test_the_white_decides_and_the_others_inform(self) -> None:
        boil = planned().boil
        assert number(boil.lifted.albumen) >= 0.95
        for when in (boil.lifted, boil.cooled):
            assert number(when.yolk) >= number(when.albumen) > number(when.whey)
        for field in fields(CoreSet):
            lifted, cooled = (
                number(getattr(one, field.name)) for one in (boil.lifted, boil.cooled)
            )
            assert 0.0 < lifted <= cooled <= 1.0

    def test_carry_over_sets_more_of_what_has_not(self) -> None:
        boil = planned().boil
        assert number(boil.cooled.whey) > number(boil.lifted.whey) + 0.05


class TestAdvice:
    def test_it_is_the_middle_its_margin_and_the_timers_step(self) -> None:
        boil = planned().boil
        enough = median_of(boil.set_seconds) + number(boil.margin.whole)
        assert number(boil.seconds) == 5.0 * math.ceil(enough / 5.0)

    def test_either_part_alone_is_less_than_the_whole_and_both_make_it(self) -> None:
        margin = planned(draws=Draws(batches=512, baits=4)).boil.margin
        parts = [number(margin.of_cook), number(margin.of_baits)]
        assert max(parts) < number(margin.whole) < sum(parts)
        assert number(margin.whole) == pytest.approx(math.hypot(*parts), rel=0.2)

    def test_a_known_kitchen_leaves_the_baits_alone(self) -> None:
        unsure = planned().boil
        factors = planned().request.factors
        known = tuple(
            replace(one, mu=0.0, kappa=1e6, nu=1e6, sigma2=1e-12) if one.key == "cook" else one
            for one in factors.factors
        )
        from baitwright.batch.plan import plan

        request = replace(planned().request, factors=replace(factors, factors=known))
        sure = plan(request).boil
        assert number(sure.margin.of_cook) < 1e-3
        assert number(sure.margin.whole) == pytest.approx(number(sure.margin.of_baits), abs=1e-3)
        assert number(sure.margin.whole) == pytest.approx(number(unsure.margin.of_baits), abs=0.3)
        assert number(sure.seconds) <= number(unsure.seconds)


class TestLethality:
    def test_seven_powers_of_ten_are_no_news(self) -> None:
        plan = planned()
        assert np.all(np.asarray(unwrap(plan.boil.decades.value)) > 0.0)
        assert "powers of ten in the coldest paste" not in boil_notes(plan)

    def test_fewer_are_said(self) -> None:
        """A weak pot high up: planned, and said."""
        small = with_bait(diameter=0.024, core=None)
        plan = planned(small, replace(BENCH, altitude=5000.0, pot=Pot(0.25e-3, 100.0, 400)))
        note = next(note for note in plan.notes if "fewer than 7" in note.text)
        assert note.weight is Weight.CAUTION

    def test_spores_and_dust_are_always_said(self) -> None:
        for plan in (planned(), planned(with_bait(hardness=Hardness.EXTRA_HARD))):
            said = boil_notes(plan)
            assert "Spores live through" in said
            assert "perishable" in said
            assert "not for dry dust on the crust" in said
            assert 0.0 < number(plan.boil.spores) < 600.0

    def test_it_moves_no_second(self) -> None:
        """The seconds follow the set of egg white and nothing else."""
        boil = planned().boil
        names = {part.name for part in boil.seconds.walk()}
        assert not names & {"log_reduction", "spore_minutes"}


class TestAfterThePot:
    def test_a_quench_stops_the_carry_over(self) -> None:
        air, cold, ice = (
            in_pot(pot=Pot(quench=quench)) for quench in (None, Quench.COLD_WATER, Quench.ICE_WATER)
        )
        gains = [number(one.peak) - number(one.when_lifted) for one in (air, cold, ice)]
        assert gains[0] > gains[1] > gains[2] >= 0.0
        wheys = [number(one.cooled.whey) for one in (air, cold, ice)]
        assert wheys[0] > wheys[1] > wheys[2]
        assert number(air.seconds) == number(ice.seconds)

    def test_a_quench_is_told(self) -> None:
        bench = replace(BENCH, pot=Pot(quench=Quench.ICE_WATER))
        assert "Dropped into ice water" in boil_notes(planned(bench=bench, draws=FEW))
        assert "Dropped into" not in boil_notes(planned())

    def test_a_cold_room_cools_faster(self) -> None:
        warm, cold = (
            in_pot(room=replace(BENCH.room, temperature=kelvin)) for kelvin in (300.0, 278.0)
        )
        assert number(warm.peak) > number(cold.peak)


class TestPot:
    def test_a_barometer_stands_for_an_altitude(self) -> None:
        at_sea = in_pot(altitude=0.0)
        assert number(in_pot(pressure=101_325.0).boiling_point) == pytest.approx(
            number(at_sea.boiling_point), abs=1e-9
        )
        low = in_pot(pressure=89_874.6)
        assert number(low.boiling_point) - 273.15 == pytest.approx(96.649, abs=1e-3)

    def test_salt_lifts_the_boiling_point_a_little(self) -> None:
        plain, salted = in_pot(), in_pot(pot=Pot(3e-3, salt=0.030))
        rise = number(salted.boiling_point) - number(plain.boiling_point)
        assert rise == pytest.approx(0.176, abs=0.002)

    def test_a_thermometer_wins(self) -> None:
        pot = Pot(boils_at=371.15, salt=0.1)
        assert number(in_pot(pot=pot, altitude=3000.0).boiling_point) == 371.15

    @settings(max_examples=6, deadline=None)
    @given(st.floats(354.0, 372.0), st.floats(0.5, 2.0))
    def test_a_hotter_pot_sets_no_later(self, kelvin: float, more: float) -> None:
        cool, hot = (
            np.asarray(unwrap(in_pot(pot=Pot(boils_at=one)).set_seconds.value))
            for one in (kelvin, kelvin + more)
        )
        assert np.all(hot <= cool)

    @pytest.mark.parametrize(
        ("bench", "field", "accepted"),
        [
            ({"pot": Pot(boils_at=271.15)}, "pot.boils_at", "80 to 101 C"),
            ({"pot": Pot(boils_at=375.15)}, "pot.boils_at", "80 to 101 C"),
            ({"pot": Pot(boils_at=math.nan)}, "pot.boils_at", "80 to 101 C"),
            ({"pressure": 101.3}, "pressure", "480 to 1085 hPa"),
            ({"pressure": math.inf}, "pressure", "480 to 1085 hPa"),
            ({"altitude": 9000.0}, "altitude", "-400 to 5000 m"),
            ({"start_temperature": 263.15}, "paste", "0 to 60 C"),
            ({"pot": Pot(water_volume=0.0)}, "pot.water", "0.2 to 50 l"),
            ({"pot": Pot(net_power=math.nan)}, "pot.power", "100 to 20000 W"),
            ({"pot": Pot(basket=0)}, "pot.basket", "1 to 1000"),
            ({"pot": Pot(1e-3, salt=0.5)}, "pot.salt", "0 to 99.82 g"),
        ],
    )
    def test_what_no_pot_can_be_is_named(
        self, bench: dict[str, Any], field: str, accepted: str
    ) -> None:
        with pytest.raises(RangeError) as caught:
            in_pot(**bench)
        assert caught.value.field == field
        assert caught.value.accepted == accepted

    def test_altitude_and_barometer_are_one_too_many(self) -> None:
        with pytest.raises(InputError, match="sea level") as caught:
            in_pot(pressure=100_000.0, altitude=200.0)
        assert caught.value.field == "pressure"


class TestLoss:
    @pytest.mark.parametrize("core", [None, Core("cork-ball", 0.009)])
    def test_it_is_the_exact_series_bait_by_bait(self, core: Core | None) -> None:
        plan = planned(with_bait(core=core), draws=FEW)
        loss, state = plan.boil.loss, plan.rolled.bait
        held = dict(loss.inputs)
        spread = np.asarray(unwrap(held["diffusivity"].value)) * number(plan.boil.seconds)
        outer = 0.5 * np.asarray(unwrap(state.diameter.value))
        inner = 0.5 * np.broadcast_to(unwrap(state.core_diameter.value), outer.shape)
        for at in ((0, 0), (7, 1), (31, 0)):
            exact = sphere_series(float(outer[at]), float(inner[at]), terms=400)
            left = float(exact.mean(float(spread[at[0], 0])))
            assert np.asarray(unwrap(loss.value))[at] == pytest.approx(1.0 - left, abs=2e-6)


class TestBeyondTheRules:
    USUAL = Composition(water=0.36, protein=0.24, fat=0.09, carbohydrate=0.26, fibre=0.02, ash=0.03)
    SOUP = Composition(water=0.95, protein=0.05, fat=0.0, carbohydrate=0.0)

    def test_a_usual_paste_is_within_them(self) -> None:
        assert beyond_the_rules(self.USUAL, air=0.05, diameters=(0.015, 0.04)) == []
        assert "beyond the rules" not in boil_notes(planned())

    @pytest.mark.parametrize(
        ("make_up", "air", "diameter", "said"),
        [
            (SOUP, 0.05, 0.015, "95 % water"),
            (USUAL, 0.30, 0.015, "30 % of it is air"),
            (USUAL, 0.05, 0.045, "45 mm"),
            (USUAL, 0.05, 0.006, "6 mm"),
        ],
    )
    def test_what_lies_outside_is_said(
        self, make_up: Composition, air: float, diameter: float, said: str
    ) -> None:
        (note,) = beyond_the_rules(make_up, air=air, diameters=(diameter,))
        assert said in note.text
        assert note.weight is Weight.DOUBT

    def test_the_plan_carries_it(self) -> None:
        large = planned(with_bait(diameter=0.042, core=None), draws=FEW)
        assert "42 mm lies outside" in boil_notes(large)


class TestMilkProtein:
    def test_whey_and_hardener_add_up(self) -> None:
        protein = binding_protein(replace(RECIPE, base=CHALK, hardener=FIVE))
        assert protein is not None
        whey = 0.10 * 0.778 + 0.15 * 0.3616 * 0.2
        assert number(protein.of_base) == pytest.approx(whey / 1.05, rel=1e-9)
        assert number(protein.of_hardener) == pytest.approx(0.05 * 0.824 / 1.05, rel=1e-9)
        assert number(protein.setting) == pytest.approx(
            number(protein.of_base) + number(protein.of_hardener)
        )
        casein = 0.25 * 0.865 + 0.10 * 0.81 + 0.15 * 0.3616 * 0.8
        assert number(protein.hydrating) == pytest.approx(casein / 1.05, rel=1e-9)

    def test_half_the_hardener_is_explained_from_the_mix(self) -> None:
        plan = planned(replace(RECIPE, base=CHALK, hardener=FIVE), draws=FEW)
        said = boil_notes(plan)
        assert "12 g is protein that sets by heat" in said
        assert "more than the 7.5 g" in said
        assert "32 g is casein" in said
        assert "common practice is 5 % hardener" in said

    def test_caseins_alone_are_said_to_make_up_for_less(self) -> None:
        casein = BaseMix("Curd", parts=(Part("acid-casein", 0.4), Part("semolina", 0.6)))
        said = boil_notes(planned(replace(RECIPE, base=casein, hardener=FIVE), draws=FEW))
        assert "less than the 7.5 g" in said
        assert "caseins that must make up for it" in said
        assert "Of whey" not in said

    @pytest.mark.parametrize(
        ("whey", "beside"),
        [(0.02, "less than"), (0.04, "as much as"), (0.055, "as much as"), (0.08, "more than")],
    )
    def test_what_sets_is_set_beside_an_ordinary_base(self, whey: float, beside: str) -> None:
        """3.9 g of albumen with whey make 5.4, 6.9, 8.0 and 9.9 g; 7.5 g less or plus a tenth."""
        base = BaseMix("Milk", parts=(Part("whey-protein-80", whey), Part("semolina", 1.0 - whey)))
        said = boil_notes(planned(replace(RECIPE, base=base, hardener=FIVE), draws=FEW))
        assert f"in the hardener, {beside} the 7.5 g" in said

    def test_a_flag_alone_says_what_would_tell(self) -> None:
        named = BaseMix("Bought", analysis=Analysis(protein=0.5), milk_protein=True)
        said = boil_notes(planned(replace(RECIPE, base=named), draws=FEW))
        assert "its parts would tell" in said

    def test_an_ordinary_base_is_left_alone(self) -> None:
        plan = planned()
        assert "hardener on top of it" not in boil_notes(plan)
        assert plan.boil.protein is not None
        assert number(plan.boil.protein.hydrating) == 0.0


class TestBadDraws:
    @pytest.mark.parametrize(("name", "field"), [("film", "leg.coefficient"), ("start", "start")])
    def test_a_draw_that_is_no_number_is_named(self, name: str, field: str) -> None:
        run = next(part for part in planned().boil.seconds.walk() if part.name == "heat_run")
        given_to = {key: unwrap(part.value) for key, part in run.inputs}
        broken = np.array(np.broadcast_to(given_to[name], (64, 1)), dtype=float)
        broken[7] = np.nan
        if name == "start":
            broken = np.repeat(broken.ravel(), 4)
        with pytest.raises(RangeError) as caught:
            heat_run.function(**{**given_to, name: broken})
        assert caught.value.field == field


def test_a_basket_too_large_for_the_pot_is_told() -> None:
    weak = replace(BENCH, pot=Pot(water_volume=0.3e-3, net_power=100.0, basket=200))
    strained = planned(bench=weak)
    assert float(unwrap(strained.boil.dips_to.value)) < 368.15
    assert any("One basket cools the pot" in note.text for note in strained.notes)
    assert not any("One basket cools the pot" in note.text for note in planned().notes)
