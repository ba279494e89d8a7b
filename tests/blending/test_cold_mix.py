"""A base for cold water: shares stay whole, rules are kept where they can be, moves are told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.blending.cold_mix import THICKEN, cold_base, moved
from baitwright.blending.components import MixTold
from baitwright.materials.powders import ingredient
from baitwright.recipe.cold import OIL, SOLUBLE
from baitwright.recipe.model import BaseMix, Hardener, HardenerBasis, Part
from baitwright.terms.errors import InputError

NAMES = (
    *("semolina", "maize-meal-coarse", "soya-flour", "fishmeal-65", "krill-meal"),
    *("salmon-oil", "hemp-oil", "whey-powder", "liver-powder", "salt"),
)
WEIGHTS = st.lists(
    st.one_of(st.just(0.0), st.floats(0.01, 1.0)), min_size=len(NAMES), max_size=len(NAMES)
).filter(lambda found: found[0] > 0.0)
ON_TOP = Hardener(0.10, HardenerBasis.ON_TOP, "egg-albumen")
STEP = 0.00051 * len(NAMES)


def told(shares: dict[str, float], hardener: Hardener | None = None) -> MixTold:
    return MixTold(BaseMix("Red", tuple(Part(*one) for one in shares.items())), hardener)


def mix_of(weights: list[float]) -> dict[str, float]:
    whole = sum(weights)
    return {name: one / whole for name, one in zip(NAMES, weights, strict=True) if one}


@given(WEIGHTS)
def test_a_base_for_the_cold_is_whole_and_keeps_the_rules(weights: list[float]) -> None:
    made = cold_base(told(mix_of(weights)))
    shares = {one.ingredient: one.share for one in made.base.parts}
    assert sum(shares.values()) == pytest.approx(1.0, abs=1e-12)
    assert min(shares.values()) > 0.0
    rows = {name: ingredient(name) for name in shares}
    assert not THICKEN & shares.keys()
    marine = sum(one for name, one in shares.items() if rows[name].group == "marine meal")
    assert marine <= 0.30 + STEP
    soluble = sum(one for name, one in shares.items() if rows[name].role == "soluble")
    assert soluble >= 0.10 - STEP
    assert shares.get("hemp-oil", 0.0) <= 0.01 + STEP


@given(WEIGHTS)
def test_nothing_moves_in_silence_and_what_is_kept_does_not_move(weights: list[float]) -> None:
    mix = told(mix_of(weights))
    made = cold_base(mix)
    shifts = [name for name, was, now in moved(mix.base, made.base) if abs(now - was) > STEP]
    assert bool(made.turns) or not shifts
    assert (made.base.name == "Red") is not bool(made.turns)
    again = cold_base(mix, keep=frozenset((OIL, SOLUBLE)))
    assert again.base is mix.base
    assert again.turns == ()


def test_rules_go_by_the_mix_with_its_hardener() -> None:
    made = cold_base(told({"semolina": 0.6, "fishmeal-65": 0.4}, ON_TOP))
    shares = {one.ingredient: one.share for one in made.base.parts}
    assert shares["milk-powder-skimmed"] == pytest.approx(0.11)
    assert shares["fishmeal-65"] == pytest.approx(0.33)
    assert [(one.about, one.before, one.after) for one in made.turns] == [
        ("fish meals", "36.4 %", "30 %"),
        ("soluble part", "none", "10 %"),
    ]
    assert "which brings milk into the base" in made.turns[1].why


def test_the_own_soluble_part_is_raised_unless_another_is_named() -> None:
    own = cold_base(told({"semolina": 0.94, "whey-powder": 0.04, "salt": 0.02})).base
    assert [(one.ingredient, one.share) for one in own.parts] == [
        ("semolina", pytest.approx(0.90)),
        ("whey-powder", pytest.approx(0.08)),
        ("salt", pytest.approx(0.02)),
    ]
    salty = told({"semolina": 0.95, "salt": 0.05})
    assert "milk-powder-skimmed" in {one.ingredient for one in cold_base(salty).base.parts}
    named = cold_base(salty, soluble="yeast-extract").base
    assert named.parts[-1] == Part("yeast-extract", pytest.approx(0.05))
    with pytest.raises(InputError, match="dissolves"):
        cold_base(salty, soluble="semolina")


def test_fat_comes_down_by_the_parts_that_are_rich_in_it() -> None:
    made = cold_base(told({"semolina": 0.3, "soya-flour": 0.6, "whey-powder": 0.1}))
    fat = sum(one.share * ingredient(one.ingredient).fat for one in made.base.parts)
    assert fat == pytest.approx(0.08, abs=3e-4)
    stuck = cold_base(told({"soya-flour": 0.9, "whey-powder": 0.1}))
    assert stuck.turns == ()
    assert stuck.left[-2].startswith("Fat stays at")


def test_a_bought_base_is_left_and_that_is_told() -> None:
    made = cold_base(MixTold(BaseMix("Sack")))
    assert (made.base.name, made.turns) == ("Sack", ())
    assert "not known" in made.left[0]
