"""What a sieve holds back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.materials.powders import ROLES, ingredient, ingredients
from baitwright.materials.sieves import Retention, retained_share, retention, sieve, sieves
from baitwright.materials.tables import load
from baitwright.terms.errors import InputError

parts = st.sampled_from(list(ingredients().values()))


def test_every_role_and_only_known_ingredients_have_a_share() -> None:
    rows = load("sieve_retention", Retention).values()
    roles = {row.id for row in rows if row.applies_to == "role"}
    assert roles == {*ROLES, "unknown"}
    assert {row.id for row in rows if row.applies_to == "ingredient"} <= ingredients().keys()


@given(parts)
def test_a_share_lies_in_its_band(part: object) -> None:
    assert isinstance(part, type(ingredient("semolina")))
    row = retention(part)
    assert 0.0 <= row.low <= row.fraction <= row.high <= 1.0
    assert retained_share(part, "kitchen") == row.fraction
    assert retained_share(part, "1 mm") == row.fraction


@given(parts, st.permutations([name for name in sieves() if name != "kitchen"]))
def test_a_finer_sieve_holds_no_less(part: object, names: list[str]) -> None:
    assert isinstance(part, type(ingredient("semolina")))
    one, other = names[0], names[1]
    finer, coarser = sorted((one, other), key=lambda name: sieves()[name].opening)
    assert retained_share(part, finer) >= retained_share(part, coarser)


def test_an_own_row_wins_over_the_role() -> None:
    assert retention(ingredient("millet-seed")).fraction == 1.0
    assert retention(ingredient("wheat-flour")) is retention(ingredient("rye-flour"))
    assert retention(None).id == "unknown"


def test_no_sieve_holds_nothing() -> None:
    assert retained_share(ingredient("millet-seed"), None) == 0.0


@pytest.mark.parametrize("text", ["1.12 mm", "1.12", "iso-1.12", "test sieve 1.12 mm"])
def test_a_sieve_by_any_name(text: str) -> None:
    assert sieve(text).opening == pytest.approx(1.12e-3)


def test_a_kitchen_sieve_has_a_band() -> None:
    row = sieve("kitchen sieve")
    assert (row.low, row.opening, row.high) == pytest.approx((0.8e-3, 1e-3, 1.5e-3))
    assert row.wire is None
    with pytest.raises(InputError, match="kitchen"):
        sieve("kitchn")
