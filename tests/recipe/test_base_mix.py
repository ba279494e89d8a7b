"""Base mixes as powder, and the tools that measure a dose."""

from __future__ import annotations

import pytest

from baitwright.materials.defaults import default
from baitwright.materials.powders import ingredient
from baitwright.materials.tools import choose_syringe
from baitwright.recipe.base_mix import Known, analyse, hardener_on_top, with_hardener
from baitwright.recipe.dosing import (
    Judged,
    asks_its_kind,
    beyond_maker,
    judge,
    measure_out,
    pre_blend,
    shelf_of,
    spoon_out,
    strength_of,
    thinner,
)
from baitwright.recipe.levels import Bridge, read_level
from baitwright.recipe.model import Analysis, BaseMix, Hardener, HardenerBasis, Part
from baitwright.terms.errors import InputError

BRIDGE = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.080)
TWO = BaseMix("Two", parts=(Part("semolina", 0.7), Part("maize-meal-coarse", 0.3)))


def test_densities_of_powders_add_by_volume() -> None:
    base = analyse(TWO, sieve=None)
    semolina, maize = ingredient("semolina").density, ingredient("maize-meal-coarse").density
    assert base.raw.density == pytest.approx(1 / (0.7 / semolina + 0.3 / maize), rel=1e-12)
    assert base.coarse_share == 0.0


def test_what_the_sieve_parts_can_be_put_together_again() -> None:
    base = analyse(TWO, sieve="kitchen")
    assert 0.05 < base.coarse_share < 0.3
    for name in ("water", "protein", "fat", "carbohydrate", "fibre", "ash"):
        raw, fine, coarse = (
            float(getattr(powder.make_up, name)) for powder in (base.raw, base.fine, base.coarse)
        )
        together = base.coarse_share * coarse + (1 - base.coarse_share) * fine
        assert together == pytest.approx(raw, abs=1e-12)


def test_hardener_raises_protein() -> None:
    base = analyse(TWO, sieve="kitchen")
    stiff = with_hardener(base.fine, 0.1, ingredient("egg-albumen-powder"))
    expected = (float(base.fine.make_up.protein) + 0.1 * 0.824) / 1.1
    assert float(stiff.make_up.protein) == pytest.approx(expected, rel=1e-3)


def test_a_bag_that_says_little_is_completed() -> None:
    base = analyse(BaseMix("Bag", analysis=Analysis(protein=0.4, fat=0.1)), sieve=None)
    assert base.known is Known.ANALYSIS
    assert float(base.raw.make_up.protein) == pytest.approx(0.4)
    assert float(base.raw.make_up.total) == pytest.approx(1.0)
    rich = analyse(BaseMix("Bag", analysis=Analysis(protein=0.95)), sieve=None)
    assert float(rich.raw.make_up.protein) == pytest.approx(0.95)
    assert float(rich.raw.make_up.total) == pytest.approx(1.0)
    with pytest.raises(InputError, match="100 % at most") as refused:
        analyse(BaseMix("Bag", analysis=Analysis(protein=0.8, fat=0.4)), sieve=None)
    assert (refused.value.field, refused.value.got) == ("base.analysis", "120 %")


def test_an_analysis_rounded_up_to_more_than_all_is_brought_back_to_it() -> None:
    told = Analysis(water=0.1, protein=0.8, fat=0.05, fibre=0.0, ash=0.053)
    made = analyse(BaseMix("Bag", analysis=told), sieve=None).raw.make_up
    assert made.protein == pytest.approx(0.8 / 1.003)
    assert made.carbohydrate == pytest.approx(0.0, abs=1e-12)
    with pytest.raises(InputError):
        analyse(BaseMix("Bag", analysis=Analysis(protein=0.8, fat=0.2051)), sieve=None)


def test_what_a_bag_leaves_out_is_as_in_a_middling_mix_and_shares_what_room_there_is() -> None:
    def bag(**stated: float) -> dict[str, float]:
        made = analyse(BaseMix("Bag", analysis=Analysis(**stated)), sieve=None).raw.make_up
        names = ("water", "protein", "fat", "fibre", "ash", "carbohydrate")
        return {name: float(getattr(made, name)) for name in names}

    middling = {name: default(f"mix_{name}").value for name in ("water", "fat", "fibre", "ash")}
    roomy, tight = bag(protein=0.5), bag(protein=0.9)
    assert {name: roomy[name] for name in middling} == pytest.approx(middling, rel=1e-12)
    squeezed = {name: share * 0.1 / sum(middling.values()) for name, share in middling.items()}
    assert {name: tight[name] for name in middling} == pytest.approx(squeezed, rel=1e-12)
    assert tight["carbohydrate"] == pytest.approx(0.0, abs=1e-12)
    full = bag(water=0.125, protein=0.5, fat=0.125, fibre=0.125, ash=0.125)
    assert full["protein"] == 0.5
    assert full["carbohydrate"] == 0.0


def test_all_hardener_is_refused() -> None:
    with pytest.raises(InputError, match="less than 100 %"):
        hardener_on_top(Hardener(1.0, HardenerBasis.OF_FINISHED, "egg-albumen-powder"))
    assert hardener_on_top(None) == 0.0


def test_an_unknown_ingredient_offers_the_nearest() -> None:
    with pytest.raises(InputError, match="semolina"):
        analyse(BaseMix("Odd", parts=(Part("semolna", 1.0),)), sieve=None)


def test_the_syringe_with_the_least_error_is_taken() -> None:
    assert choose_syringe(2.4e-6).tool.nominal == pytest.approx(5e-6)
    assert measure_out(2.4e-6, shelf_of([2.5e-6])) is not None
    assert measure_out(80e-6, None) is None
    with pytest.raises(InputError, match="a size of"):
        shelf_of([7e-6])


def test_a_well_measured_dose_needs_no_blend() -> None:
    assert pre_blend(1.0e-6, measure_out(1.0e-6, None), None) is None
    assert pre_blend(1.0e-6, None, None) is None
    blend = pre_blend(0.05e-6, measure_out(0.05e-6, None), None)
    assert blend is not None
    assert blend.dose == pytest.approx(0.05e-6 * (1 + blend.carrier_parts))


def test_spoons_help_only_near_a_spoonful() -> None:
    half = spoon_out(2.5e-6)
    assert half is not None
    assert (half.count, half.spoon.id) == (1, "half-teaspoon")
    assert spoon_out(0.4e-6) is None
    for millilitres, count, name in ((10.0, 1, "dessertspoon"), (20.0, 2, "dessertspoon")):
        several = spoon_out(millilitres * 1e-6)
        assert several is not None
        assert (several.count, several.spoon.id) == (count, name)
        assert several.low == pytest.approx(count * several.spoon.low, rel=1e-12)
        assert several.high == pytest.approx(count * several.spoon.high, rel=1e-12)
    assert spoon_out(60e-6) is None
    three = spoon_out(45e-6)
    assert three is not None
    assert (three.count, three.spoon.id) == (3, "tablespoon")


def remark_on(level: str, strength: str, drops: float | None = None) -> str | None:
    judged = Judged("It", read_level(level, "level"), strength, drops)
    return judge(judged, use="hookbait", bridge=BRIDGE)


def test_levels_are_judged_where_they_can_be() -> None:
    assert remark_on("4 g per egg of 50 ml", "quality") is None
    low = remark_on("0.01 ml per egg of 50 ml", "quality")
    assert low is not None
    assert "below the usual 0.2 ml to 1 ml" in low


def test_essential_oils_are_judged_by_the_drop() -> None:
    """3 to 25 drops per kg of dry mix in a hookbait: common practice, no source."""
    assert remark_on("4 drops per kg dry mix", "essential oil") is None
    assert remark_on("4 drops per kg dry mix", "essential oil", 30e6) is None
    many = remark_on("40 drops per kg dry mix", "essential oil", 30e6)
    assert many is not None
    assert "above the usual" in many
    assert "for an essential oil one" in many
    assert "hold that end for a limit" in many
    assert remark_on("2 ml per egg of 50 ml", "essential oil") is not None
    assert remark_on("0.5 ml per kg dry mix", "essential oil") is None


def test_an_unstated_strength_goes_by_the_carrier() -> None:
    assert strength_of("propylene-glycol") == "quality"
    assert strength_of("essential-oil") == "essential oil"
    assert strength_of("acid") == "acid"
    assert strength_of("unknown", thick=True) == "thick extract"
    assert strength_of("thick-extract") == "thick extract"


def test_a_bare_liquid_is_not_thinned_with_itself() -> None:
    assert thinner("propylene-glycol") == "propylene glycol"
    for bare in ("essential-oil", "acid", "unknown", "thick-extract"):
        assert thinner(bare) == "a carrier it stays clear in"


def test_spoons_are_those_of_the_country() -> None:
    american, metric = spoon_out(4.93e-6, "US"), spoon_out(4.93e-6)
    assert american is not None
    assert metric is not None
    assert (american.spoon.id, metric.spoon.id) == ("teaspoon-us", "teaspoon")


def test_a_makers_limit_on_another_basis_is_still_a_limit() -> None:
    level = read_level("1 ml per egg of 50 ml", "level")
    tight, wide = read_level("10 ml per kg dry mix", "l"), read_level("13 ml per kg dry mix", "l")
    assert beyond_maker("Malt", level, limit=tight, bridge=BRIDGE) is not None
    assert beyond_maker("Malt", level, limit=wide, bridge=BRIDGE) is None
    assert beyond_maker("Malt", level, limit=level, bridge=BRIDGE) is None


def test_a_telling_name_is_asked_about() -> None:
    assert "essential oil" in asks_its_kind("Caraway oil", "unknown")
    assert asks_its_kind("Caraway oil", "essential-oil") == ""
    assert asks_its_kind("Malt", "unknown") == ""
    assert "an acid" in asks_its_kind("Butyric acid", "unknown")
    assert "a thick extract" in asks_its_kind("Liver extract", "unknown")
