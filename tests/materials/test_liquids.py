"""Carriers and level ranges."""

from __future__ import annotations

import pytest

from baitwright.materials.liquids import (
    Carrier,
    LevelRange,
    carrier,
    carriers,
    level_range,
    strengths,
)
from baitwright.materials.tables import load
from baitwright.materials.tools import drops
from baitwright.terms.errors import InputError


@pytest.mark.parametrize("row", carriers().values(), ids=lambda row: row.id)
def test_a_carrier_says_what_it_does(row: Carrier) -> None:
    assert row.density_low <= row.density <= row.density_high
    assert row.drops in drops()
    for sentence in (row.in_paste, row.in_boil, row.in_lake, row.hazard):
        assert sentence.endswith(".")


def test_what_catches_fire() -> None:
    flammable = {row.id for row in carriers().values() if row.flammable}
    assert flammable == {"ethanol", "isopropanol", "essential-oil", "unknown"}
    assert not carrier("water").flammable


@pytest.mark.parametrize("strength", strengths())
def test_a_free_bait_carries_less(strength: str) -> None:
    hookbait, free = level_range(strength, "hookbait"), level_range(strength, "free bait")
    assert (free.unit, free.basis) == (hookbait.unit, hookbait.basis)
    assert free.high < hookbait.high
    assert free.low <= hookbait.low


@pytest.mark.parametrize("row", load("levels", LevelRange).values(), ids=lambda row: row.id)
def test_a_level_per_egg_names_its_egg(row: LevelRange) -> None:
    assert (row.egg is not None) is (row.basis == "egg")
    if row.egg is not None:
        assert row.egg == pytest.approx(50e-6)


def test_the_trade_figures() -> None:
    quality, weak = level_range("quality", "hookbait"), level_range("weak", "hookbait")
    assert (quality.low, quality.high, quality.basis) == (0.2, 1.0, "egg")
    assert weak.low <= 4.0
    assert weak.high == 5.0
    assert level_range("Essential-Oil", "free-bait").hard_limit


def test_an_unknown_strength_lists_the_known() -> None:
    with pytest.raises(InputError, match="quality, weak, normal"):
        level_range("mild", "hookbait")
    with pytest.raises(InputError):
        level_range("quality", "breakfast")
    with pytest.raises(InputError, match="glycerol"):
        carrier("glycerin")
