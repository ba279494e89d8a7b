"""Laws of a designed mix: duality, slopes, convexity, ties, soft rows, bases, rules."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from baitwright.blending.bases import WATER_DENSITY, Basis
from baitwright.blending.candidate import Candidate
from baitwright.blending.explain import POINTS, explain
from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Implies
from baitwright.blending.search import Design, design, distance
from baitwright.blending.wanted import (
    Ask,
    Bound,
    ban,
    class_share,
    likeness,
    nutrient,
    price,
    ratio,
    share_of,
    stock,
)
from baitwright.blending.wishes import Goal, Wishes
from baitwright.materials.eggs import egg_form
from baitwright.terms.errors import InputError
from tests.blending.bench import (
    CANDIDATES,
    PRICES,
    SHELF,
    bait_rows,
    bait_wishes,
    least,
    most,
    weighable_rules,
)

ROUND_OFF = 1e-8
PASTE = Bound(egg_form("whole"), 50 / 80, 0.25)


def priced(factors: list[float], **limits: float) -> Wishes:
    """The bait case under other prices."""
    moved = tuple(
        replace(one, price=one.price * by) for one, by in zip(CANDIDATES, factors, strict=True)
    )
    return Wishes(candidates=moved, rows=bait_rows(**limits))


factors = st.lists(st.floats(0.3, 3.0), min_size=len(PRICES), max_size=len(PRICES))
protein_floors = st.floats(0.15, 0.46)


@settings(max_examples=40, deadline=None)
@given(factors, protein_floors)
def test_limits_times_their_prices_are_the_cost(by: list[float], protein: float) -> None:
    found = design(priced(by, protein=protein))
    assert found.duals is not None
    rows = found.wishes.all_rows
    paid = math.fsum(found.duals[at] * row.asked for at, row in enumerate(rows))
    assert paid == pytest.approx(found.goal, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(factors, protein_floors)
def test_a_price_lies_between_the_slopes_on_either_side(by: list[float], protein: float) -> None:
    """The cost over a limit is convex: its slope here is one of those between left and right."""
    step = 1e-4
    at_least = [design(priced(by, protein=protein + one)) for one in (-step, 0.0, step)]
    low, here, high = (one.goal for one in at_least)
    duals = at_least[1].duals
    assert duals is not None
    assert (here - low) / step - 1e-4 <= duals[1] <= (high - here) / step + 1e-4


@settings(max_examples=25, deadline=None)
@given(factors)
def test_cost_over_the_protein_floor_rises_and_bends_up(by: list[float]) -> None:
    costs = [design(priced(by, protein=one / 100)).goal for one in range(16, 48, 4)]
    rises = [after - before for before, after in itertools.pairwise(costs)]
    assert min(rises) >= -ROUND_OFF
    assert all(later >= earlier - ROUND_OFF for earlier, later in itertools.pairwise(rises))


@settings(max_examples=25, deadline=None)
@given(factors, protein_floors)
def test_every_row_is_kept(by: list[float], protein: float) -> None:
    found = design(priced(by, protein=protein))
    assert math.fsum(found.shares.values()) == pytest.approx(1.0, abs=1e-8)
    for row in found.wishes.rows:
        assert row.miss(row.value(found.shares) or 0.0) <= 1e-7


@settings(max_examples=15, deadline=None)
@given(factors, st.integers(0, 30))
def test_an_ingredient_comes_in_under_its_price_and_not_over(by: list[float], which: int) -> None:
    found = design(priced(by))
    dear = [one for one in explain(found).too_dear if 0.05 < one.enters_at.value < one.price - 0.01]
    assume(dear)
    one = dear[which % len(dear)]
    for beside, comes_in in ((-0.005, True), (0.005, False)):
        moved = tuple(
            replace(each, price=one.enters_at.value + beside)
            if each.id == one.candidate.id
            else each
            for each in found.wishes.candidates
        )
        again = design(replace(found.wishes, candidates=moved))
        assert (again.shares.get(one.candidate.id, 0.0) > 0.0) is comes_in


def test_the_next_point_is_the_slope_where_nothing_bends() -> None:
    found = design(bait_wishes())
    for one in explain(found).leaning:
        assert one.next_point is not None
        assert one.margin is not None
        assert one.next_point.value == pytest.approx(one.margin, abs=1e-9)


def test_a_half_point_of_protein_costs_half_its_price() -> None:
    here, after = (design(bait_wishes(protein=one)).goal for one in (0.34, 0.345))
    assert after - here == pytest.approx(0.0127640, abs=1e-7)


TWINS = tuple(
    Candidate(ingredient=replace(SHELF["semolina"].ingredient, id=name, name=name), price=1.0)
    for name in ("here", "there", "elsewhere")
)


@pytest.mark.parametrize("present", ["here", "there", "elsewhere"])
def test_of_equal_mixes_the_present_one_stays(present: str) -> None:
    found = design(Wishes(candidates=TWINS, rows=(), present={present: 1.0}))
    assert found.shares == pytest.approx({present: 1.0}, abs=1e-6)


def test_a_present_mix_that_is_as_cheap_stays_as_it_is() -> None:
    mix = {"here": 0.25, "there": 0.5, "elsewhere": 0.25}
    found = design(Wishes(candidates=TWINS, rows=(), present=mix))
    assert found.shares == pytest.approx(mix, abs=1e-6)


def test_the_nearest_mix_is_the_present_one_where_it_keeps_all() -> None:
    now = design(bait_wishes()).shares
    found = design(replace(bait_wishes(), goal=Goal.NEAREST, present=now))
    assert found.goal == pytest.approx(0.0, abs=1e-7)
    assert found.shares == pytest.approx(dict(now), abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.34, 0.46))
def test_no_mix_that_keeps_all_is_nearer(protein: float) -> None:
    now = design(bait_wishes()).shares
    rows = bait_rows(protein=protein)
    near = design(Wishes(candidates=CANDIDATES, rows=rows, goal=Goal.NEAREST, present=now))
    cheap = design(bait_wishes(protein=protein))
    assert near.goal == pytest.approx(distance(now, near.shares), abs=1e-9)
    assert near.goal <= distance(now, cheap.shares) + 1e-7


def test_a_dropped_ingredient_is_replaced_by_the_nearest() -> None:
    now = design(bait_wishes()).shares
    left = tuple(one for one in CANDIDATES if one.id != "fishmeal-65")
    found = design(Wishes(candidates=left, rows=bait_rows(), goal=Goal.NEAREST, present=now))
    assert found.goal == pytest.approx(distance(now, found.shares), abs=1e-7)
    assert found.goal >= now["fishmeal-65"] - 1e-9


def test_soft_rows_are_missed_as_little_as_can_be() -> None:
    hard = bait_rows(protein=0.58, binder=0.60)
    rows = (replace(hard[0], hard=False), *hard[1:])
    found = design(Wishes(candidates=CANDIDATES, rows=rows))
    assert found.missed == pytest.approx({1: 0.112561}, abs=1e-6)


def test_the_weightier_soft_row_is_kept() -> None:
    hard = bait_rows(protein=0.58, binder=0.60)
    for heavy, light in ((0, 4), (4, 0)):
        rows = list(hard)
        rows[heavy] = replace(hard[heavy], hard=False, weight=50.0)
        rows[light] = replace(hard[light], hard=False)
        found = design(Wishes(candidates=CANDIDATES, rows=tuple(rows)))
        assert list(found.missed) == [light + 1]


def test_soft_rows_that_can_be_kept_cost_what_hard_ones_do() -> None:
    rows = tuple(replace(row, hard=False) for row in bait_rows())
    assert design(Wishes(candidates=CANDIDATES, rows=rows)).goal == pytest.approx(
        design(bait_wishes()).goal, abs=1e-7
    )


@pytest.mark.parametrize("basis", list(Basis))
def test_a_floor_on_a_basis_is_met_on_it_by_weighing(basis: Basis) -> None:
    """Grams worked out by hand: 80 g of mix and 50 g of egg, dried to 25 % water."""
    limit = {Basis.DRY_MIX: 0.36, Basis.PASTE: 0.27, Basis.BAIT: 0.31, Basis.DRY_MATTER: 0.42}[
        basis
    ]
    row = nutrient(CANDIDATES, "protein", least(limit), basis=basis, bound=PASTE)
    found = design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows(protein=0.0)[1:])))
    parts = [(80 * share, SHELF[name].ingredient) for name, share in found.shares.items()]
    egg = egg_form("whole")
    protein = {False: math.fsum(g * part.protein for g, part in parts)}
    protein[True] = protein[False] + 50 * egg.protein
    solids = math.fsum(g * (1 - part.water) for g, part in parts) + 50 * (1 - egg.water)
    weights = {
        Basis.DRY_MIX: 80.0,
        Basis.PASTE: 130.0,
        Basis.BAIT: solids / 0.75,
        Basis.DRY_MATTER: solids,
    }
    held = protein[basis is not Basis.DRY_MIX] / weights[basis]
    assert held == pytest.approx(limit, abs=1e-7)


def test_what_a_point_on_another_basis_costs() -> None:
    def mix(limit: float) -> Design:
        row = nutrient(CANDIDATES, "protein", least(limit), basis=Basis.BAIT, bound=PASTE)
        return design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows(protein=0.0)[1:])))

    found = mix(0.31)
    assert found.duals is not None
    slope = (mix(0.3101).goal - mix(0.3099).goal) / 2e-4
    assert found.duals[1] == pytest.approx(slope, rel=1e-3)


@pytest.mark.parametrize("basis", [Basis.BAIT, Basis.DRY_MATTER])
def test_the_most_of_a_quotient_cannot_be_beaten(basis: Basis) -> None:
    rows = (*bait_rows(protein=0.0), price(CANDIDATES, most(3.0)))
    row = nutrient(CANDIDATES, "protein", least(0.0), basis=basis, bound=PASTE)
    best = design(Wishes(candidates=CANDIDATES, rows=rows, goal=Goal.MOST, most=row))
    for more, there in ((-1e-6, True), (1e-6, False)):
        floor = replace(row, asked=best.goal + more)
        assert design(Wishes(candidates=CANDIDATES, rows=(*rows, floor))).is_there is there


def test_a_density_is_kept_in_the_tub() -> None:
    light = nutrient(CANDIDATES, "density", most(1365.0))
    found = design(Wishes(candidates=CANDIDATES, rows=(*bait_rows(), light)))
    parts = [(share, SHELF[name].ingredient.density) for name, share in found.shares.items()]
    volume = math.fsum(share / density for share, density in parts)
    assert 1.0 / volume == pytest.approx(1365.0, abs=1e-5)
    assert found.goal > design(bait_wishes()).goal


@pytest.mark.parametrize("basis", [Basis.PASTE, Basis.BAIT])
def test_a_density_is_kept_in_paste_and_bait(basis: Basis) -> None:
    """Grams and millilitres by hand: 80 g of mix and 50 g of egg, dried to 25 % water."""
    any_mix = nutrient(CANDIDATES, "density", least(0.0), basis=basis, bound=PASTE)
    usual = any_mix.value(design(bait_wishes()).shares)
    assert usual is not None
    limit = usual - 3.0
    light = nutrient(CANDIDATES, "density", most(limit), basis=basis, bound=PASTE)
    shares = design(Wishes(candidates=CANDIDATES, rows=(*bait_rows(), light))).shares
    parts = [(80e-3 * share, SHELF[name].ingredient) for name, share in shares.items()]
    egg = egg_form("whole")
    room = math.fsum(kg / part.density for kg, part in parts) + 50e-3 / egg.density
    dry = math.fsum(kg * (1 - part.water) for kg, part in parts) + 50e-3 * (1 - egg.water)
    kept = 130e-3 if basis is Basis.PASTE else dry / 0.75
    assert kept / (room - (130e-3 - kept) / WATER_DENSITY) == pytest.approx(limit, abs=1e-4)


def test_how_loosely_it_pours_is_told_of_a_dry_mix_only() -> None:
    for figure, basis in (("bulk density", Basis.PASTE), ("density", Basis.DRY_MATTER)):
        with pytest.raises(InputError, match="dry mix"):
            nutrient(CANDIDATES, figure, least(500.0), basis=basis, bound=PASTE)


def test_a_ratio_is_multiplied_out() -> None:
    row = ratio(CANDIDATES, ["soya-flour-roasted"], ["semolina"], ask=Ask(Sense.EXACTLY, 0.5))
    shares = design(Wishes(candidates=CANDIDATES, rows=(*bait_rows(), row))).shares
    assert shares["soya-flour-roasted"] == pytest.approx(0.5 * shares["semolina"], abs=1e-8)
    nothing = ban(SHELF["semolina"], "none left")
    soya_too = design(Wishes(candidates=CANDIDATES, rows=(row, nothing))).shares
    assert "soya-flour-roasted" not in soya_too


def test_no_more_than_is_at_hand() -> None:
    one = replace(SHELF["fishmeal-65"], stock=1.0)
    row = stock(one, 10.0)
    assert row is not None
    found = design(Wishes(candidates=CANDIDATES, rows=(*bait_rows(), row)))
    assert found.shares["fishmeal-65"] <= 0.1 + 1e-9
    assert stock(replace(one, stock=10.0), 10.0) is None


def test_what_fish_and_roller_notice_stays() -> None:
    now = {"semolina": 0.4, "soya-flour-roasted": 0.2, "acid-casein": 0.2, "egg-biscuit": 0.2}
    within = {"protein": 0.01, "fat": 0.01, "density": 10.0, "binder": 0.03, "coarse": 0.02}
    rows = likeness(CANDIDATES, now, within)
    found = design(Wishes(candidates=CANDIDATES, rows=tuple(rows), present=now))
    before = design(Wishes(candidates=CANDIDATES, rows=tuple(rows), goal=Goal.NEAREST, present=now))
    assert before.goal == pytest.approx(0.0, abs=1e-7)
    assert (found.cost or 9.9) < (before.cost or 0.0) - 0.1
    for name, tolerance in within.items():
        row = next(one for one in rows if one.about == f"{name}, as now")
        moved = (row.value(found.shares) or 0.0) - (row.value(now) or 0.0)
        assert abs(moved) <= tolerance * (1 + 1e-6)


def test_few_ingredients_and_one_that_needs_another() -> None:
    rules = (
        AtMost(6, tuple(PRICES)),
        *(IfUsed(name, 0.025) for name in PRICES),
        Implies("krill-meal", "acid-casein"),
    )
    shares = design(Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=rules)).shares
    assert len(shares) <= 6
    assert min(shares.values()) >= 0.025 - 1e-9
    assert shares["acid-casein"] >= 0.025 - 1e-9


def test_ties_are_broken_in_steps_too() -> None:
    rules = weighable_rules(7)
    now = {"semolina": 1.0}
    plain = Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=rules)
    near = design(replace(plain, present=now))
    assert near.goal == pytest.approx(design(plain).goal, abs=1e-9)


def test_the_cheapest_of_dear_and_none_is_refused_without_a_price() -> None:
    unpriced = replace(SHELF["semolina"], price=None)
    wishes = Wishes(candidates=(unpriced, *CANDIDATES[1:]), rows=bait_rows())
    with pytest.raises(InputError, match=r"ingredients\.semolina\.price"):
        design(wishes)


def test_a_missing_figure_is_not_nothing() -> None:
    unknown = replace(SHELF["krill-meal"], unstated=frozenset({"fat"}))
    with pytest.raises(InputError, match=r"fat.*krill meal.*not nothing"):
        nutrient((unknown,), "fat", least(0.06))
    assert nutrient((unknown,), "protein", least(0.06)).over == {"krill-meal": 0.55}


def test_a_class_without_members_is_refused() -> None:
    with pytest.raises(InputError, match="oil"):
        class_share(CANDIDATES, "oil", least(0.01))


def test_water_of_the_bait_is_what_it_is_dried_to() -> None:
    with pytest.raises(InputError, match="basis"):
        nutrient(CANDIDATES, "water", least(0.1), basis=Basis.BAIT, bound=PASTE)


@pytest.mark.parametrize(
    ("basis", "bound"), [(Basis.PASTE, None), (Basis.BAIT, replace(PASTE, water=None))]
)
def test_a_basis_needs_its_egg_and_its_water(basis: Basis, bound: Bound | None) -> None:
    with pytest.raises(InputError, match="paste"):
        nutrient(CANDIDATES, "protein", least(0.3), basis=basis, bound=bound)


def test_points_are_told_for_every_unit() -> None:
    rows: list[Row] = [share_of(SHELF["semolina"], least(0.1)), price(CANDIDATES, most(3.0))]
    rows += [nutrient(CANDIDATES, name, least(0.0)) for name in ("density", "gross energy")]
    assert {row.unit for row in rows} <= set(POINTS)
    assert {row.kind for row in rows} == {
        RowKind.INGREDIENT,
        RowKind.PRICE,
        RowKind.DENSITY,
        RowKind.NUTRIENT,
    }
