"""Wishes that clash, prices that move, rows that hold with a chance, and shares for the scale."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.blending.clash import clash_of, irreducible, nearest_feasible
from baitwright.blending.cuts import chance_of, scatter, sigmas
from baitwright.blending.looked import look
from baitwright.blending.rounding import in_steps, recheck, weighable
from baitwright.blending.rows import Origin, Row, Sense
from baitwright.blending.rules import AtMost, Rule
from baitwright.blending.search import design
from baitwright.blending.sweep import scenarios, sweep
from baitwright.blending.wanted import Ask, ban, nutrient, price, share_of
from baitwright.blending.wishes import Goal, Wishes
from baitwright.sheets.text_clash import clash_sentence
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


def without(wishes: Wishes, one: Row | Rule) -> Wishes:
    rows = tuple(row for row in wishes.rows if row is not one)
    return replace(wishes, rows=rows, rules=tuple(rule for rule in wishes.rules if rule is not one))


def only(wishes: Wishes, kept: tuple[Row | Rule, ...]) -> Wishes:
    rows = tuple(row for row in wishes.rows if row in kept)
    return replace(wishes, rows=rows, rules=tuple(rule for rule in wishes.rules if rule in kept))


@settings(max_examples=12, deadline=None)
@given(st.floats(0.48, 0.8), st.floats(0.58, 0.85), st.floats(0.02, 0.3))
def test_a_clash_cannot_be_had_and_less_of_it_can(
    protein: float, binder: float, krill: float
) -> None:
    wishes = bait_wishes(protein=protein, binder=binder, krill=krill)
    if design(wishes).is_there:
        return
    members = irreducible(wishes)
    alone = only(wishes, members)
    assert not design(alone).is_there
    for one in members:
        assert design(without(alone, one)).is_there


def test_a_clash_of_counts_names_the_count() -> None:
    few = tuple(SHELF[name] for name in design(bait_wishes()).shares)
    wishes = Wishes(candidates=few, rows=bait_rows(protein=0.0), rules=weighable_rules(4))
    clash = clash_of(wishes)
    count = next(one for one in clash.reaches if isinstance(one.wish, AtMost))
    assert count.value == 6.0
    for number, there in ((5, False), (6, True)):
        again = replace(wishes, rules=weighable_rules(number))
        assert design(again).is_there is there
    assert "there are at most 4 ingredients" in clash_sentence(clash)


def test_two_clashes_beside_each_other() -> None:
    """One of them is told, and that giving way there does not mend the other."""
    soya = SHELF["soya-flour-roasted"]
    rows = (
        share_of(soya, most(0.1)),
        nutrient(CANDIDATES, "water", most(0.01)),
        share_of(soya, least(0.2)),
    )
    clash = clash_of(Wishes(candidates=CANDIDATES, rows=rows))
    assert [one.wish.name for one in clash.reaches] == ["water: at most 1 %"]
    assert not any(one.helps for one in clash.reaches)
    assert clash.nearest is not None


def test_what_can_be_had_can_be_had_and_no_more() -> None:
    wishes = bait_wishes(protein=0.58, binder=0.60)
    for reach in clash_of(wishes).reaches:
        if reach.value is None:
            continue
        assert isinstance(reach.wish, Row)
        sign = 1 if reach.wish.sense is Sense.AT_LEAST else -1
        for beyond, there in ((-1e-6, True), (1e-6, False)):
            asked = replace(reach.wish, asked=reach.value + sign * beyond)
            rows = tuple(asked if row is reach.wish else row for row in wishes.rows)
            assert design(replace(wishes, rows=rows)).is_there is there


def test_the_clash_in_the_makers_words() -> None:
    told = clash_sentence(clash_of(bait_wishes(protein=0.58, binder=0.60)))
    assert told == (
        "58 % protein and 60 % binder clash once soya flour, full fat, roasted is held to 25 % and "
        "wheat gluten is held to 8 %: the most protein you can have is 46.7 %."
    )


def test_wishes_near_a_present_mix_clash_as_others_do() -> None:
    wishes = bait_wishes(protein=0.58, binder=0.60)
    near = replace(wishes, goal=Goal.NEAREST, present={"semolina": 1.0})
    assert clash_sentence(clash_of(near)) == clash_sentence(clash_of(wishes))


def test_rules_of_the_water_never_give_way() -> None:
    bans = tuple(ban(one, "banned", Origin.WATER) for one in CANDIDATES if one.id != "semolina")
    floor = nutrient(CANDIDATES, "protein", least(0.3))
    near = nearest_feasible(Wishes(candidates=CANDIDATES, rows=(*bans, floor)))
    assert near is not None
    assert near.shares == pytest.approx({"semolina": 1.0})
    law = replace(floor, origin=Origin.LAW)
    assert nearest_feasible(Wishes(candidates=CANDIDATES, rows=(*bans, law))) is None


def test_limits_of_ingredients_give_way_last() -> None:
    rows = (share_of(SHELF["semolina"], least(0.7)), share_of(SHELF["acid-casein"], least(0.5)))
    near = nearest_feasible(Wishes(candidates=CANDIDATES, rows=rows))
    assert near is not None
    assert near.missed == pytest.approx({1: 0.2}, abs=1e-6)


@pytest.mark.parametrize("name", ["fishmeal-65", "acid-casein", "egg-albumen"])
def test_every_stretch_is_the_best_within_it(name: str) -> None:
    found = sweep(bait_wishes(), name, low=0.5, high=12.0)
    assert (found.stretches[0].low, found.stretches[-1].high) == (0.5, 12.0)
    for one in found.stretches:
        middle = 0.5 * (one.low + one.high)
        moved = tuple(
            replace(each, price=middle) if each.id == name else each for each in CANDIDATES
        )
        fresh = design(Wishes(candidates=moved, rows=bait_rows()))
        assert fresh.goal == pytest.approx(one.cost(middle), abs=1e-9)
    for before, after in itertools.pairwise(found.stretches):
        assert before.high == after.low
        assert before.share > after.share
        assert before.cost(before.high) == pytest.approx(after.cost(after.low), abs=1e-8)


def test_a_sweep_of_a_mix_in_steps() -> None:
    wishes = Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=weighable_rules(7))
    found = sweep(wishes, "fishmeal-65", low=2.0, high=4.0)
    assert all(round(one.share / 0.005, 9).is_integer() for one in found.stretches)
    assert found.at(2.6).cost(2.6) == pytest.approx(2.651, abs=1e-9)


def test_many_lists_of_prices_are_each_the_best() -> None:
    wishes, random = bait_wishes(), np.random.default_rng(7)
    prices = np.array(list(PRICES.values())) * random.uniform(0.5, 2.0, (30, len(PRICES)))
    found = scenarios(wishes, prices)
    for at in (0, 11, 29):
        moved = tuple(
            replace(one, price=float(paid))
            for one, paid in zip(CANDIDATES, prices[at], strict=True)
        )
        assert found.costs[at] == pytest.approx(
            design(replace(wishes, candidates=moved)).goal, abs=1e-9
        )
    assert (found.shares * prices).sum(axis=1) == pytest.approx(found.costs, abs=1e-9)


def test_a_sweep_is_about_cost() -> None:
    with pytest.raises(InputError, match="least cost"):
        sweep(
            replace(bait_wishes(), goal=Goal.NEAREST, present={"semolina": 1.0}),
            "semolina",
            low=1,
            high=2,
        )
    floor = replace(bait_wishes(), rows=(*bait_rows(), price(CANDIDATES, least(2.0))))
    with pytest.raises(InputError, match="price"):
        sweep(floor, "semolina", low=1, high=2)
    with pytest.raises(InputError, match="sweep"):
        sweep(bait_wishes(), "gravel", low=1, high=2)


def test_a_budget_ends_the_prices_and_changes_no_mix() -> None:
    free = sweep(bait_wishes(), "fishmeal-65", low=1.0, high=8.0)
    held = replace(bait_wishes(), rows=(*bait_rows(), price(CANDIDATES, most(2.9))))
    found = sweep(held, "fishmeal-65", low=1.0, high=8.0)
    assert found.dearest is not None
    assert found.stretches[:-1] == free.stretches[: len(found.stretches) - 1]
    assert found.stretches[-1].cost(found.dearest) == pytest.approx(2.9)
    for more, there in ((-1e-6, True), (1e-6, False)):
        meal = found.dearest + more
        moved = tuple(
            replace(one, price=meal) if one.id == "fishmeal-65" else one for one in CANDIDATES
        )
        rows = (*bait_rows(), price(moved, most(2.9)))
        assert design(Wishes(candidates=moved, rows=rows)).is_there is there
    poor = replace(bait_wishes(), rows=(*bait_rows(), price(CANDIDATES, most(1.0))))
    with pytest.raises(InputError, match="budget"):
        sweep(poor, "fishmeal-65", low=1.0, high=8.0)


def test_what_a_budget_buys_falls_as_a_price_rises() -> None:
    rows = (*bait_rows(protein=0.0), price(CANDIDATES, most(3.0)))
    row = nutrient(CANDIDATES, "protein", least(0.0))
    wishes = Wishes(candidates=CANDIDATES, rows=rows, goal=Goal.MOST, most=row)
    found = look(wishes, "fishmeal-65", low=2.6, high=8.0)
    held = [one.found.goal for one in found]
    assert held[0] == pytest.approx(0.44364881, abs=1e-7)
    assert all(after <= before + 1e-9 for before, after in itertools.pairwise(held))
    with pytest.raises(InputError, match="else no price changes the mix"):
        look(replace(wishes, rows=bait_rows()), "fishmeal-65", low=1.0, high=2.0)


SPREAD = {name: 0.05 * SHELF[name].ingredient.protein for name in PRICES}


def floor_with(chance: float) -> Row:
    ask = Ask(Sense.AT_LEAST, 0.34, chance=chance)
    return nutrient(CANDIDATES, "protein", ask, spread=SPREAD)


@pytest.mark.parametrize("chance", [0.5, 0.8, 0.95, 0.99])
def test_a_floor_holds_with_its_chance(chance: float) -> None:
    row = floor_with(chance)
    found = design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows()[1:])))
    assert chance_of(row, found.shares) == pytest.approx(chance, abs=1e-5)


def test_the_chance_is_what_drawn_lots_have() -> None:
    row = floor_with(0.9)
    found = design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows()[1:])))
    random = np.random.default_rng(20261128)
    drawn = sum(
        share * random.normal(row.over[name], SPREAD[name], 200_000)
        for name, share in found.shares.items()
    )
    assert np.mean(drawn >= 0.34) == pytest.approx(0.9, abs=4 * math.sqrt(0.09 / 200_000))


def test_no_mix_that_holds_with_the_chance_is_cheaper() -> None:
    """Cuts find what the straight rule of thumb, summing all spreads, pays too much for."""
    found = design(Wishes(candidates=CANDIDATES, rows=(floor_with(0.95), *bait_rows()[1:])))
    summed = {
        name: value - sigmas(0.95) * SPREAD[name] for name, value in floor_with(0.95).over.items()
    }
    straight = replace(floor_with(0.95), over=summed, spread={}, chance=None)
    careful = design(Wishes(candidates=CANDIDATES, rows=(straight, *bait_rows()[1:])))
    assert design(bait_wishes()).goal < found.goal < careful.goal
    margin = sigmas(0.95) * scatter(floor_with(0.95), found.shares)
    shifted = design(bait_wishes(protein=0.34 + margin))
    assert found.goal <= shifted.goal + 1e-8


def test_what_a_point_of_a_chance_floor_costs() -> None:
    def cost(limit: float) -> float:
        row = replace(floor_with(0.9), asked=limit)
        return design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows()[1:]))).goal

    found = design(Wishes(candidates=CANDIDATES, rows=(floor_with(0.9), *bait_rows()[1:])))
    assert found.duals is not None
    assert found.duals[1] == pytest.approx((cost(0.3405) - cost(0.3395)) / 1e-3, rel=1e-2)


def test_a_ceiling_holds_with_its_chance() -> None:
    ask = Ask(Sense.AT_MOST, 0.06, chance=0.9)
    row = nutrient(CANDIDATES, "ash", ask, spread=dict.fromkeys(PRICES, 0.01))
    found = design(Wishes(candidates=CANDIDATES, rows=(row, *bait_rows())))
    assert chance_of(row, found.shares) == pytest.approx(0.9, abs=1e-5)


@pytest.mark.parametrize("chance", [0.49, 1.0])
def test_a_chance_is_one_half_or_more_and_never_certain(chance: float) -> None:
    with pytest.raises(InputError, match="chance"):
        sigmas(chance)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.16, 0.46), st.sampled_from([0.001, 0.005, 0.01, 0.025]))
def test_rounding_never_breaks_a_row_in_silence(protein: float, step: float) -> None:
    """By hand, in fractions of the printed figures, and not by the row's own arithmetic."""
    found = design(bait_wishes(protein=protein))
    weighed = weighable(found, step)
    assert sum(weighed.shares.values()) == 1
    assert all((share / weighed.step).denominator == 1 for share in weighed.shares.values())
    held = sum(
        share * Fraction(f"{100 * SHELF[name].ingredient.protein:.2f}") / 100
        for name, share in weighed.shares.items()
    )
    asked = Fraction(protein).limit_denominator(10**9)
    told = any(one.wish is found.wishes.rows[0] for one in weighed.broken)
    assert told is (held < asked)


def test_plain_rounding_is_mended_where_it_breaks_a_row() -> None:
    found = design(bait_wishes())
    plain = in_steps(found.shares, Fraction(1, 200))
    assert [one.wish.name for one in recheck(found.wishes, plain)] != []
    weighed = weighable(found, 0.005)
    assert weighed.moved
    assert weighed.broken == ()


def test_a_mix_in_steps_is_exactly_in_them() -> None:
    wishes = Wishes(candidates=CANDIDATES, rows=bait_rows(), rules=weighable_rules(7))
    weighed = weighable(design(wishes), 0.001)
    assert weighed.shares["fishmeal-65"] == Fraction(245, 1000)
    assert weighed.broken == ()
    assert not weighed.moved


def test_every_rule_is_checked_again() -> None:
    wishes = Wishes(candidates=CANDIDATES, rows=(), rules=weighable_rules(2))
    mix = {
        "semolina": Fraction(49, 50),
        "krill-meal": Fraction(1, 100),
        "rice-flour": Fraction(1, 100),
    }
    broken = [one.wish.name for one in recheck(wishes, mix)]
    assert broken == [
        "at most 2 ingredients",
        "rice-flour: at least 2.5 % or none",
        "krill-meal: at least 2.5 % or none",
    ]
    odd = {"semolina": Fraction(9977, 10000), "rice-flour": Fraction(23, 10000)}
    assert "semolina: in steps of 0.5 %" in [one.wish.name for one in recheck(wishes, odd)]


def test_a_step_makes_up_the_whole() -> None:
    with pytest.raises(InputError, match="step"):
        weighable(design(bait_wishes()), 0.003)
