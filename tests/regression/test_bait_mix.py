"""The worked bait case as our reference computed it, frozen: invented prices, real composition.

It was worked out apart from this program from the same two-decimal composition table; a change of
a row of the shelf moves these figures.
"""

from __future__ import annotations

import pytest

from baitwright.blending.bases import Basis
from baitwright.blending.clash import clash_of, irreducible
from baitwright.blending.explain import explain
from baitwright.blending.rows import RowKind
from baitwright.blending.search import design
from baitwright.blending.wanted import Bound, nutrient, price
from baitwright.blending.wishes import Goal, Wishes
from baitwright.materials.eggs import egg_form
from baitwright.recipe.base_mix import blend
from tests.blending.bench import (
    CANDIDATES,
    SHELF,
    bait_rows,
    bait_wishes,
    least,
    most,
    weighable_rules,
)


def test_the_cheapest_mix() -> None:
    found = design(bait_wishes())
    assert found.goal == pytest.approx(2.6153257302, abs=1e-9)
    percent = {name: 100 * share for name, share in found.shares.items()}
    assert percent == pytest.approx(
        {
            "semolina": 42.8555,
            "soya-flour-roasted": 12.2829,
            "fishmeal-65": 24.8616,
            "krill-meal": 2.0,
            "milk-powder-skimmed": 5.0,
            "egg-albumen": 5.0,
            "maize-meal-coarse": 8.0,
        },
        abs=1e-4,
    )


def test_what_is_in_it() -> None:
    shares = design(bait_wishes()).shares
    for figure, percent in (("ash", 6.2449), ("water", 9.4676)):
        value = nutrient(CANDIDATES, figure, least(0.0)).value(shares)
        assert value == pytest.approx(percent / 100, abs=1e-6)
    powder = blend([(share, SHELF[name].ingredient) for name, share in shares.items()])
    assert powder.density == pytest.approx(1375.28, abs=0.1)
    density = nutrient(CANDIDATES, "density", least(0.0)).value(shares)
    assert density == pytest.approx(powder.density, rel=1e-12)


def test_what_a_point_more_costs() -> None:
    leaning = {one.row.about: one.margin for one in explain(design(bait_wishes())).leaning}
    assert leaning == pytest.approx(
        {
            "protein": 0.025528,
            "fat": 0.007272,
            "coarse": 0.001979,
            "soluble": 0.027026,
            "egg albumen powder": 0.110275,
            "krill meal": 0.066364,
        },
        abs=1e-6,
    )


def test_by_how_much_the_others_are_too_dear() -> None:
    dear = explain(design(bait_wishes())).too_dear
    assert {one.candidate.id: one.price - one.enters_at.value for one in dear} == pytest.approx(
        {
            "maize-meal-fine": 0.3371,
            "rice-flour": 0.7691,
            "wheat-gluten": 1.6992,
            "whey-protein-80": 5.3990,
            "fish-hydrolysate-powder": 2.2762,
            "acid-casein": 6.9144,
            "egg-biscuit": 1.4778,
        },
        abs=1e-4,
    )


COSTS = {
    20: 2.345158,
    24: 2.360045,
    28: 2.462158,
    32: 2.564270,
    36: 2.666382,
    40: 2.778772,
    44: 2.980612,
    48: 3.239780,
}


@pytest.mark.parametrize(("protein", "cost"), COSTS.items())
def test_cost_over_the_protein_floor(protein: int, cost: float) -> None:
    assert design(bait_wishes(protein=protein / 100)).goal == pytest.approx(cost, abs=1e-6)


def test_the_most_protein_at_a_budget() -> None:
    rows = (*bait_rows(protein=0.0), price(CANDIDATES, most(3.0)))
    protein = nutrient(CANDIDATES, "protein", least(0.0))
    found = design(Wishes(candidates=CANDIDATES, rows=rows, goal=Goal.MOST, most=protein))
    assert found.goal == pytest.approx(0.44364881, abs=1e-8)
    assert found.cost == pytest.approx(3.0, abs=1e-8)


def test_without_the_sea() -> None:
    sea = {"fishmeal-65", "krill-meal", "fish-hydrolysate-powder"}
    land = tuple(one for one in CANDIDATES if one.id not in sea)
    rows = tuple(row for row in bait_rows() if set(row.over) != {"krill-meal"})
    assert design(Wishes(candidates=land, rows=rows)).goal == pytest.approx(3.153379, abs=1e-6)


@pytest.mark.parametrize(("count", "cost"), [(7, 2.651), (6, 3.366), (5, 4.54)])
def test_in_steps_and_with_few_ingredients(count: int, cost: float) -> None:
    rules = weighable_rules(count)
    found = design(Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=rules))
    assert found.goal == pytest.approx(cost, abs=1e-9)
    assert found.duals is None


def test_seven_ingredients_in_steps() -> None:
    wishes = Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=weighable_rules(7))
    shares = design(wishes).shares
    told = [shares[name] for name in ("semolina", "soya-flour-roasted", "fishmeal-65")]
    assert told == pytest.approx([0.425, 0.125, 0.245])
    assert nutrient(CANDIDATES, "protein", least(0.0)).value(shares) == pytest.approx(
        0.3407685, abs=1e-9
    )


def test_what_clashes() -> None:
    wishes = bait_wishes(protein=0.58, binder=0.60)
    assert not design(wishes).is_there
    told = {row.name for row in irreducible(wishes)}
    assert told == {
        "protein: at least 58 %",
        "binder: at least 60 %",
        "soya flour, full fat, roasted: at most 25 %",
        "wheat gluten: at most 8 %",
    }


def test_the_most_protein_there_is() -> None:
    clash = clash_of(bait_wishes(protein=0.58, binder=0.60))
    reach = next(one for one in clash.reaches if one.wish.about == "protein")
    assert reach.value == pytest.approx(0.467439, abs=1e-6)
    near = clash.nearest
    assert near is not None
    missed = {near.wishes.all_rows[at].about: by for at, by in near.missed.items()}
    assert missed == pytest.approx({"protein": 0.112561}, abs=1e-6)


def test_paste_and_bait() -> None:
    """80 g of the mix and 50 g of whole egg; then dried to 25 % water."""
    shares = design(bait_wishes()).shares
    bound = Bound(egg_form("whole"), 50 / 80, 0.25)
    cases = [
        ("water", Basis.PASTE, 35.1147),
        ("protein", Basis.PASTE, 25.7538),
        ("fat", Basis.PASTE, 7.35),
        ("protein", Basis.BAIT, 29.7685),
        ("fat", Basis.BAIT, 8.4958),
    ]
    for figure, basis, percent in cases:
        row = nutrient(CANDIDATES, figure, least(0.0), basis=basis, bound=bound)
        assert row.kind is RowKind.NUTRIENT
        assert 100 * (row.value(shares) or 0.0) == pytest.approx(percent, abs=1e-3)
