"""The quick answer against what the trade commonly finds and against a peer for its errors."""

from __future__ import annotations

import math

import pytest
from uncertainties import ufloat

from baitwright.materials.liquids import level_range, strengths
from baitwright.recipe.levels import Reference
from baitwright.workshop.levels.levels import Answer, levels
from baitwright.workshop.levels.levels_request import Asked, understand

pytestmark = pytest.mark.published

ML = 1e-6


def answer(level: str, *, eggs: str, dry_mix: str | None = None) -> Answer:
    return levels(understand(Asked((level,), eggs, dry_mix))).answers[0]


@pytest.mark.parametrize(("amount", "expected"), [("0.2", 0.16), ("1.0", 0.80)])
def test_a_level_for_fifty_in_an_egg_of_forty(amount: str, expected: float) -> None:
    """common-practice: 0.2 and 1.0 ml in a 50 ml egg are 0.16 and 0.80 ml in one of 40."""
    dose = answer(f"{amount} ml per egg of 50 ml", eggs="1 x 40 ml").dose
    assert dose.middle == pytest.approx(expected * ML, rel=1e-12)
    assert dose.fill is not None
    assert dose.fill.volume == pytest.approx(expected * ML, rel=1e-12)
    assert dose.fill.tool.id == "syringe-1"


@pytest.mark.parametrize(
    ("per", "expected"),
    [
        ("per kg dry mix", 40.0),
        ("per lb dry mix", 18.14),
        ("per 500 g egg", 30.0),
        ("per kg paste", 23.4),
    ],
)
def test_the_bridge_between_the_bases(per: str, expected: float) -> None:
    """Conversion identities, recomputed: 3 ml an egg, 75 g dry mix, 50 g egg; printed digits hold.

    The paste counts the flavour's own weight, here of glycol: 3 / (75 + 50 + 3.1).
    """
    found = answer("3 ml per 50 g egg", eggs="1 x 50 g in the bowl", dry_mix="75 g per egg")
    (basis,) = (basis for basis in found.bases if basis.per == per)
    assert basis.low == basis.high
    assert basis.low / ML == pytest.approx(expected, abs=0.05 if expected == 23.4 else 0.005)


def test_dry_mix_unknown_is_the_trades_range() -> None:
    """common-practice: an egg takes 70 to 95 g of dry mix where nobody has weighed it."""
    found = answer("3 ml per egg of 50 ml", eggs="1 x 50 ml")
    (per_kg,) = (basis for basis in found.bases if basis.per == "per kg dry mix")
    assert (per_kg.low / ML, per_kg.high / ML) == pytest.approx((3 / 0.095, 3 / 0.070))


@pytest.mark.parametrize(
    ("level", "reference"),
    [
        ("0.8 ml per egg of 50 ml", Reference.EGG_VOLUME),
        ("12 ml per kg dry mix", Reference.DRY_MIX),
        ("9 ml per kg paste", Reference.PASTE),
    ],
)
def test_errors_as_a_peer_propagates_them(level: str, reference: Reference) -> None:
    """gum-2008, 5.1.2, by the uncertainties package: first order, so second-order terms part them.

    The largest input error is 9 %: its square is below one in a hundred of itself.
    """
    found = levels(understand(Asked((level,), "3 x 40 ml")))
    dose, one = found.answers[0].dose, found.bridges.middle
    assert dose.fill is not None
    fill = ufloat(dose.fill.volume, dose.fill.u)
    egg = ufloat(120e-6, 0.05 * 120e-6 / math.sqrt(3.0))
    dry = ufloat(one.dry_mix, (found.bridges.high.dry_mix - one.dry_mix) / math.sqrt(3.0))
    against = {
        Reference.EGG_VOLUME: egg,
        Reference.DRY_MIX: 3 * dry,
        Reference.PASTE: egg * one.egg_mass / one.egg_volume + 3 * (dry + one.other_liquids),
    }
    peer = fill / against[reference]
    assert dose.strength.value == pytest.approx(peer.nominal_value, rel=1e-9)
    assert dose.strength.u == pytest.approx(peer.std_dev, rel=0.01)


@pytest.mark.parametrize("strength", strengths())
def test_hookbaits_carry_more_than_free_baits(strength: str) -> None:
    """common-practice, no source: a free bait is made at about half of its hookbait's level."""
    hookbait, free = (level_range(strength, use) for use in ("hookbait", "free bait"))
    assert (hookbait.unit, hookbait.basis) == (free.unit, free.basis)
    assert hookbait.high > free.high
    assert hookbait.low >= free.low
    level = "0.8 ml per egg of 50 ml"
    usual = [
        levels(understand(Asked((level,), "3 x 50 ml", strengths=(strength,), use=use)))
        .answers[0]
        .usual[1]
        for use in ("hookbait", "free bait")
    ]
    assert usual[0] > usual[1]


@pytest.mark.parametrize(
    ("amount", "inside"), [("0.19", False), ("0.2", True), ("1", True), ("4", False), ("5", False)]
)
def test_a_quality_flavour_at_a_fifth_to_one_millilitre(amount: str, *, inside: bool) -> None:
    """common-practice, no source: 0.2 to 1 ml an egg; 4 to 5 ml belongs to weak flavours."""
    level = f"{amount} ml per egg of 50 ml"
    quality, weak = (
        levels(understand(Asked((level,), "2 x 50 ml", strengths=(one,)))).answers[0]
        for one in ("quality", "weak")
    )
    assert (quality.remark is None) is inside
    assert (weak.remark is None) is (amount in ("4", "5"))
