"""Laws of a mended mix: nothing without need, what is noticed stays, no newcomer by the pinch."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from baitwright.blending.candidate import Candidate
from baitwright.blending.labels import changed_label, own_ingredient
from baitwright.blending.mending import (
    SETTING,
    UNNOTICED,
    Likeness,
    Newcomers,
    like_before,
    mending,
)
from baitwright.blending.search import design, distance
from baitwright.blending.wishes import Wishes
from baitwright.materials.powders import ingredient
from baitwright.terms.errors import InputError

PRESENT = {
    "semolina": 0.40,
    "maize-meal-fine": 0.15,
    "soya-flour-roasted": 0.15,
    "fishmeal-65": 0.15,
    "milk-powder-skimmed": 0.10,
    "maize-meal-coarse": 0.05,
}
COMING = ("krill-meal", "wheat-gluten", "rice-flour", "fish-hydrolysate-powder", "blood-meal")


def of_table(*names: str) -> list[Candidate]:
    return [Candidate(ingredient=ingredient(name)) for name in names]


def asked(*gone: str) -> tuple[Wishes, Likeness]:
    old = of_table(*PRESENT)
    new = of_table(*(name for name in PRESENT if name not in gone), *COMING)
    like = like_before(old, new, PRESENT)
    return mending(new, like, PRESENT, newcomers=Newcomers(COMING)), like


def price(like: Likeness, shares: Mapping[str, float]) -> float:
    """What a mix is exchanged by, and what each figure weighs that has moved."""
    told = [distance(PRESENT, shares)]
    for row in like.rows:
        value = row.value(shares)
        assert value is not None
        size = 1.0 if row.under is None else math.fsum(row.under.values()) / len(row.under)
        told.append(row.weight / (row.asked or 1.0) * row.miss(value) * row.divisor(shares) / size)
    return math.fsum(told)


FOUND = {gone: (design(asked(gone)[0]).shares, asked(gone)[1]) for gone in PRESENT}


def test_a_mix_of_which_nothing_is_gone_stays_as_it_is() -> None:
    assert design(asked()[0]).shares == pytest.approx(PRESENT, abs=1e-7)


@given(st.sampled_from(list(PRESENT)), st.data(), st.floats(0.001, 1.0))
def test_no_mix_beside_it_is_nearer(gone: str, data: st.DataObject, part: float) -> None:
    """Whatever is moved from one part to another, the mix gets no nearer to the old one."""
    shares, like = FOUND[gone]
    into = [name for name in (*PRESENT, *shares) if name != gone]
    one, other = data.draw(st.sampled_from(list(shares))), data.draw(st.sampled_from(into))
    moved = dict(shares)
    moved[one] -= part * shares[one]
    moved[other] = moved.get(other, 0.0) + part * shares[one]
    assume(one not in COMING or moved[one] == 0.0 or moved[one] >= Newcomers().least)
    assert price(like, moved) >= price(like, shares) - 1e-7


@pytest.mark.parametrize("gone", PRESENT)
def test_few_come_in_and_none_by_the_pinch(gone: str) -> None:
    shares, _ = FOUND[gone]
    new = {name: share for name, share in shares.items() if name in COMING}
    assert len(new) <= Newcomers().most
    assert all(share >= Newcomers().least - 1e-9 for share in new.values())
    assert distance(PRESENT, shares) >= PRESENT[gone] - 1e-7


def test_a_poorer_meal_is_made_up_for() -> None:
    """A new bag holds less protein: much of what the mix would lose is made up for."""
    old = of_table(*PRESENT)
    meal = changed_label(old[3], {"protein": 0.50})
    new = [*old[:3], meal, *old[4:], *of_table(*COMING)]
    wishes = mending(new, like_before(old, new, PRESENT), PRESENT, newcomers=Newcomers(COMING))
    found = design(wishes).shares
    was = math.fsum(PRESENT[one.id] * one.ingredient.protein for one in old)
    left = math.fsum(PRESENT.get(one.id, 0.0) * one.ingredient.protein for one in new)
    now = math.fsum(found.get(one.id, 0.0) * one.ingredient.protein for one in new)
    assert was - left > 2.0 * UNNOTICED["protein"]
    assert abs(now - was) <= UNNOTICED["protein"] + 1e-7


def test_setting_protein_and_classes_that_only_one_mix_has() -> None:
    old = of_table("semolina", "egg-albumen")
    present = {"semolina": 0.9, "egg-albumen": 0.1}
    new = of_table("semolina", "whey-protein-80", "milk-powder-skimmed")
    like = like_before(old, new, present)
    about = {row.about for row in like.rows}
    assert f"{SETTING}, as it was" in about
    assert "soluble, as it was" in about
    assert "binder, as it was" in about
    assert "coarse, as it was" not in about


def test_a_figure_nobody_tells_is_named_and_not_taken_for_nothing() -> None:
    dust = own_ingredient("Grey dust", "binder", {"protein": 0.2})
    old, present = [*of_table("semolina"), dust], {"semolina": 0.7, "grey-dust": 0.3}
    like = like_before(old, old, present)
    assert set(like.untold) == set(UNNOTICED) - {
        "protein", "binder", "coarse", "soluble", SETTING, "grains over 1 mm",
    }  # fmt: skip


class TestALaterBag:
    """What a later bag says over what was known."""

    def test_what_it_leaves_out_is_as_it_was(self) -> None:
        first = changed_label(of_table("fishmeal-65")[0], {"protein": 0.62}, price=2.6)
        then = changed_label(first, {"fat": 0.11})
        assert then.figure("protein") == 0.62
        assert then.overridden["fat"] == (0.092, 0.11)
        assert then.price == 2.6
        assert math.fsum(then.ingredient.composition.values()) == pytest.approx(1.0)

    def test_an_ingredient_of_the_maker_s_own_learns_what_it_lacked(self) -> None:
        dust = own_ingredient("Grey dust", "binder", {"protein": 0.2})
        told = {"water": 0.1, "fat": 0.05, "fibre": 0.1, "ash": 0.05}
        full = changed_label(dust, told, allergens=("fish",))
        assert full.figure("carbohydrate") == pytest.approx(0.5)
        assert "allergens" not in full.unstated
        assert "allergens" in dust.unstated

    def test_parts_that_cannot_all_be_true_are_refused(self) -> None:
        with pytest.raises(InputError, match="fishmeal-65"):
            changed_label(of_table("fishmeal-65")[0], {"protein": 0.9})
