"""Laws of a mix taken apart: nothing is lost between bases, and what is missing stays missing."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from baitwright.blending.analysis import LOTS, MixAnalysis, analyse_mix
from baitwright.blending.bases import Basis, Bowl
from baitwright.blending.candidate import Candidate
from baitwright.blending.chance import chance
from baitwright.blending.components import MixTold, in_bowl
from baitwright.blending.fibre import Fibre, fibre_of
from baitwright.blending.hardener import HardenerAdvice, on_hardener
from baitwright.blending.labels import labelled, own_ingredient
from baitwright.blending.meshes import through_meshes
from baitwright.blending.remarks import in_the_cold, remarks
from baitwright.materials.powders import ingredient, ingredients
from baitwright.materials.tables import CONSTITUENTS
from baitwright.recipe.model import Analysis, BaseMix, Hardener, HardenerBasis, Part
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import given, unwrap
from baitwright.terms.units import GRAMS
from baitwright.uncertainty.bands import band_of, median_of

POWDERS = sorted(
    row.id for row in ingredients().values() if row.role not in ("oil", "liquid", "coarse")
)
ALBUMEN = Hardener(0.10, HardenerBasis.ON_TOP, "egg-albumen")


def bowl(water: float | None = 0.25, mix: float = 0.080) -> Bowl:
    return Bowl(
        given("egg", 0.050, label="egg", unit=GRAMS),
        given("dry_mix_per_egg", mix, label="dry mix per egg", unit=GRAMS),
        water,
    )


def base(shares: Mapping[str, float]) -> BaseMix:
    whole = sum(shares.values())
    return BaseMix("Mix", tuple(Part(name, share / whole) for name, share in shares.items()))


def printed(shares: Mapping[str, float], **more: object) -> MixAnalysis:
    return analyse_mix(MixTold(base(shares), **more), bowl(), None)  # type: ignore[arg-type]


mixes = st.dictionaries(st.sampled_from(POWDERS), st.floats(0.05, 1.0), min_size=1, max_size=7)


@settings(max_examples=25)
@drawn(mixes)
def test_no_basis_gains_or_loses_dry_matter(shares: Mapping[str, float]) -> None:
    made = printed(shares)
    whole = {
        basis: sum(figures[name].value for name in CONSTITUENTS if name in figures)
        for basis, figures in made.bases.figures.items()
    }
    left = made.bases.left.value
    paste = whole[Basis.PASTE] - made.figure("water", Basis.PASTE).value
    bait = whole[Basis.BAIT] - made.figure("water", Basis.BAIT).value
    assert bait * left == pytest.approx(paste, rel=1e-12)
    assert whole[Basis.DRY_MATTER] == pytest.approx(bait / (1 - 0.25), rel=1e-12)
    assert made.figure("water", Basis.BAIT).value == pytest.approx(0.25, abs=1e-12)


@settings(max_examples=25)
@drawn(mixes)
def test_a_mix_holds_no_more_and_no_less_than_its_parts(shares: Mapping[str, float]) -> None:
    made = printed(shares)
    for name in CONSTITUENTS:
        held = [ingredient(one).composition[name] for one in shares]
        value = made.figure(name, Basis.DRY_MIX).value
        assert min(held) - 1e-12 <= value <= max(held) + 1e-12
    densities = [ingredient(one).density for one in shares]
    found = made.bases.densities[Basis.DRY_MIX].value
    assert min(densities) - 1e-6 <= found <= max(densities) + 1e-6


def test_the_middle_of_the_lots_is_the_figure_as_printed() -> None:
    told = MixTold(base({"semolina": 45, "fishmeal-65": 30, "milk-powder-skimmed": 25}))
    sure, spread = analyse_mix(told, bowl(), None), analyse_mix(told, bowl())
    for basis in Basis:
        for name, one in spread.bases.figures[basis].items():
            middle = sure.bases.figures[basis][name].value
            assert median_of(one) == pytest.approx(middle, rel=0.01)


def test_composition_sums_to_the_same_in_every_lot() -> None:
    made = analyse_mix(MixTold(base({"semolina": 60, "soya-flour-roasted": 40})), bowl())
    dry = made.bases.figures[Basis.DRY_MIX]
    whole = sum(unwrap(dry[name].value) for name in CONSTITUENTS)
    assert np.ptp(whole) < 1e-12
    assert band_of(dry["protein"]).high80 > band_of(dry["protein"]).low80


def test_less_that_is_known_makes_wider_bands() -> None:
    def width(mix: BaseMix) -> float:
        band = band_of(analyse_mix(MixTold(mix), bowl()).figure("protein", Basis.BAIT))
        return band.high80 - band.low80

    parts = base({"semolina": 60, "fishmeal-65": 20, "soya-flour-roasted": 20})
    bag = BaseMix("Bag", analysis=Analysis(protein=0.28, fat=0.09))
    assert width(parts) < width(bag) < width(BaseMix("Sack"))


@settings(max_examples=10)
@drawn(st.floats(0.2, 0.4), st.floats(0.2, 0.4))
def test_a_higher_floor_is_never_surer(one: float, other: float) -> None:
    made = analyse_mix(MixTold(base({"semolina": 60, "fishmeal-65": 40})), bowl())
    protein = made.figure("protein", Basis.DRY_MIX)
    low, high = sorted((one, other))
    assert chance(protein, at_least=low).value >= chance(protein, at_least=high).value
    assert 0.0 < chance(protein, at_least=high).value < 1.0
    with pytest.raises(InputError):
        chance(protein)


def test_the_floor_at_the_middle_holds_in_half_of_all_lots() -> None:
    made = analyse_mix(MixTold(base({"semolina": 60, "fishmeal-65": 40})), bowl())
    protein = made.figure("protein", Basis.DRY_MIX)
    assert chance(protein, at_least=median_of(protein)).value == pytest.approx(0.5, abs=0.01)


def test_missing_is_not_zero() -> None:
    own = own_ingredient("House liver", "attractor", {"protein": 0.62}, allergens=())
    told = MixTold(
        BaseMix("Mix", (Part("semolina", 0.9), Part("house-liver", 0.1))),
        shelf={"house-liver": own},
    )
    made = analyse_mix(told, bowl(water=None), None)
    assert made.figure("protein", Basis.PASTE).value > 0.0
    assert made.missing["fat"] == ("House liver",)
    assert not made.bases.densities
    with pytest.raises(InputError, match="the fat of House liver"):
        made.figure("fat", Basis.DRY_MIX)
    with pytest.raises(InputError, match="water of a part is unknown"):
        analyse_mix(told, bowl(water=0.25), None)
    assert made.contains.known


def test_metabolisable_energy_only_on_one_basis() -> None:
    assert "metabolisable energy" in printed({"semolina": 1.0}).bases.figures[Basis.DRY_MIX]
    mixed = printed({"semolina": 0.5, "fishmeal-65": 0.5})
    assert mixed.missing["metabolisable energy"] == ("fish meal, 65 % protein",)


def test_hardener_and_sieve_change_what_is_in_the_bowl() -> None:
    shares = {"semolina": 0.7, "millet-seed": 0.1, "soya-flour-roasted": 0.2}
    made = printed(shares, hardener=ALBUMEN, sieve="kitchen")
    found = {one.name: one.share.value for one in made.mix.parts}
    assert sum(found.values()) == pytest.approx(1.0, abs=1e-12)
    assert found["egg albumen powder"] == pytest.approx(0.1 / 1.1)
    assert found["millet, whole seed"] == pytest.approx(0.0, abs=1e-12)
    assert made.binding is not None
    assert made.binding.setting.value == pytest.approx(0.1 / 1.1 * 0.824, rel=1e-3)


def test_a_sieve_that_nothing_passes_is_refused() -> None:
    with pytest.raises(InputError, match="something of the base passes"):
        printed({"millet-seed": 1.0}, sieve="kitchen")


def test_a_finer_mesh_keeps_more_back() -> None:
    told = MixTold(base({"semolina": 0.6, "maize-meal-coarse": 0.4}), ALBUMEN, "kitchen")
    held = [one.held_back for one in through_meshes(told, "iso-0.63")]
    assert held == sorted(held)
    assert held[0] == 0.0
    names = [one.sieve for one in through_meshes(told, "iso-0.63")]
    assert "iso-0.63" in names


def test_hardener_by_kind_and_by_protein() -> None:
    def advice(shares: Mapping[str, float], *, milk: bool = False) -> HardenerAdvice:
        told = MixTold(BaseMix("M", base(shares).parts, milk_protein=milk), ALBUMEN)
        return on_hardener(told, in_bowl(told, None), None)

    plain = advice({"semolina": 1.0})
    assert (plain.milky, plain.usual.value) == (False, 0.10)
    assert plain.computed is not None
    assert plain.computed.value == pytest.approx(0.10, rel=1e-9)
    milk = advice({"semolina": 0.7, "whey-protein-80": 0.3})
    assert (milk.milky, milk.usual.value) == (True, 0.05)
    assert milk.computed is not None
    assert milk.computed.value == 0.0
    half = advice({"semolina": 0.95, "whole-egg-powder": 0.05})
    assert half.computed is not None
    assert 0.0 < half.computed.value < 0.10
    assert advice({"semolina": 1.0}, milk=True).milky
    told = MixTold(BaseMix("Sack"), ALBUMEN)
    assert on_hardener(told, in_bowl(told, None), None).computed is None


def test_cost_is_the_sum_of_its_parts_and_unknown_for_want_of_one() -> None:
    rows = {"semolina": 1.2, "fishmeal-65": 2.6}
    shelf = {name: Candidate(ingredient=ingredient(name), price=p) for name, p in rows.items()}
    half = {"semolina": 0.5, "fishmeal-65": 0.5}
    cost = printed(half, shelf=shelf).cost
    assert cost.per_kilogram is not None
    assert cost.per_kilogram.value == pytest.approx(1.9)
    assert cost.per_egg is not None
    assert cost.per_egg.value == pytest.approx(1.9 * 0.08)
    assert printed(half).cost.per_kilogram is None
    assert len(printed(half).cost.unpriced) == 2


def test_what_the_sieve_keeps_is_paid_for_by_what_passes() -> None:
    rows = {"semolina": 1.0, "millet-seed": 1.0}
    shelf = {name: Candidate(ingredient=ingredient(name), price=p) for name, p in rows.items()}
    cost = printed({"semolina": 0.5, "millet-seed": 0.5}, shelf=shelf, sieve="kitchen").cost
    assert cost.per_kilogram is not None
    assert cost.per_kilogram.value == pytest.approx(1.0 / (0.5 * 0.99), rel=1e-9)


def test_a_label_goes_before_the_table_and_both_stay() -> None:
    row = ingredient("fishmeal-65")
    one = labelled(row, {"protein": 0.60, "ash": 0.20}, price=2.4, stock=5.0)
    assert one.overridden["protein"] == (row.protein, 0.60)
    rest = 1.0 - 0.60 - 0.20 - row.water - row.fat - row.fibre
    table, bag = one.overridden["carbohydrate"]
    assert table == row.carbohydrate
    assert bag == pytest.approx(rest)
    assert (one.price, one.stock) == (2.4, 5.0)
    assert one.ingredient.energy is None
    assert one.ingredient.density != row.density
    assert "density" not in one.overridden
    with pytest.raises(InputError, match="100 % at most"):
        labelled(row, {"protein": 0.99})
    with pytest.raises(InputError, match="one of: water"):
        labelled(row, {"iron": 0.1})
    with pytest.raises(InputError, match="one of: binder"):
        own_ingredient("Dust", "magic", {})


def test_a_label_may_only_add_allergens() -> None:
    row = ingredient("egg-biscuit")
    one = labelled(row, {}, allergens=("milk", "fish"))
    assert one.ingredient.contains == {*row.contains, "milk", "fish"}
    assert "milk" not in one.ingredient.may_contain


def test_own_ingredients_close_by_difference_where_they_can() -> None:
    label = {"water": 0.05, "protein": 0.6, "fat": 0.2, "fibre": 0.0, "ash": 0.05}
    one = own_ingredient("House liver", "attractor", label)
    assert one.figure("carbohydrate") == pytest.approx(0.10)
    assert one.figure("density") is not None
    assert one.figure("bulk density") is None
    assert "allergens" in one.unstated


def test_fibre_of_several_kinds_is_never_told_as_one() -> None:
    assert fibre_of(ingredient("semolina")) is Fibre.DIETARY
    assert fibre_of(ingredient("linseed-meal")) is Fibre.CRUDE
    assert fibre_of(ingredient("krill-meal")) is Fibre.CHITIN
    assert fibre_of(ingredient("salt")) is None

    def texts(shares: Mapping[str, float]) -> str:
        made = printed(shares)
        advice = on_hardener(made.told, made.mix, None)
        return " ".join(note.text for note in remarks(made, advice))

    assert "set it beside no single kind" in texts({"semolina": 0.9, "krill-meal": 0.1})
    assert "set it beside" not in texts({"semolina": 0.9, "rye-flour": 0.1})


def test_cold_water_is_remarked_on() -> None:
    oily = {"semolina": 0.85, "milk-powder-skimmed": 0.12, "salmon-oil": 0.03}
    texts = " ".join(note.text for note in in_the_cold(printed(oily)))
    assert "fish oil" in texts
    assert "Soluble part" not in texts
    plain = {"semolina": 0.88, "milk-powder-skimmed": 0.12}
    (only,) = in_the_cold(printed(plain))
    assert "Nothing in it stands against cold water" in only.text


def test_a_bait_wetter_than_its_paste_is_refused() -> None:
    with pytest.raises(InputError, match="no more than the paste holds"):
        analyse_mix(MixTold(base({"semolina": 1.0})), bowl(water=0.5), LOTS)


def test_an_unknown_ingredient_offers_the_nearest() -> None:
    with pytest.raises(InputError, match="semolina"):
        printed({"semolna": 1.0})
