"""Levels: how they are written, and that a level is the same on every basis."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.quantities import to_si
from baitwright.recipe.levels import Bridge, Measure, Reference, convert, read_level
from baitwright.terms.errors import InputError

POUND = 0.45359237


@pytest.mark.parametrize(
    ("text", "measure", "reference", "amount", "per"),
    [
        ("0.8 ml per egg of 50 ml", Measure.VOLUME, Reference.EGG_VOLUME, 0.8e-6, 50e-6),
        ("0,8 ml per egg of 50 ml", Measure.VOLUME, Reference.EGG_VOLUME, 0.8e-6, 50e-6),
        ("0.8 ml  per each egg of 50 ml", Measure.VOLUME, Reference.EGG_VOLUME, 0.8e-6, 50e-6),
        ("6 ml per 500 g egg", Measure.VOLUME, Reference.EGG_MASS, 6e-6, 0.5),
        ("6 ml per 500 g of egg", Measure.VOLUME, Reference.EGG_MASS, 6e-6, 0.5),
        ("2 ml per 100 ml egg", Measure.VOLUME, Reference.EGG_VOLUME, 2e-6, 100e-6),
        ("12 ml per kg dry mix", Measure.VOLUME, Reference.DRY_MIX, 12e-6, 1.0),
        ("5 ml per lb dry mix", Measure.VOLUME, Reference.DRY_MIX, 5e-6, POUND),
        ("5 g per kg of dry mix", Measure.MASS, Reference.DRY_MIX, 5e-3, 1.0),
        ("9 ml per kg paste", Measure.VOLUME, Reference.PASTE, 9e-6, 1.0),
        ("0.8 % of paste", Measure.MASS, Reference.PASTE, 0.008, 1.0),
        ("4 drops per egg of 55 ml", Measure.DROPS, Reference.EGG_VOLUME, 4.0, 55e-6),
        ("1/2 tsp per egg of 50 ml", Measure.VOLUME, Reference.EGG_VOLUME, 2.5e-6, 50e-6),
        ("1 oz weight per lb dry mix", Measure.MASS, Reference.DRY_MIX, POUND / 16, POUND),
        ("1 UK fl oz per kg dry mix", Measure.VOLUME, Reference.DRY_MIX, 28.4130625e-6, 1.0),
    ],
)
def test_what_makers_write(
    text: str, measure: Measure, reference: Reference, amount: float, per: float
) -> None:
    level = read_level(text, "liquid.level")
    assert (level.measure, level.reference) == (measure, reference)
    assert level.amount == pytest.approx(amount, rel=1e-12)
    assert level.per == pytest.approx(per, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("5 ml", "names no basis"),
        ("5 ml per egg", "which egg"),
        ("5 ml per egg of L", "A grade is no volume"),
        ("5 ml per egg of NZ 7", "A grade is no volume"),
        ("5 ml per egg of 500 ml", "20 to 120 ml"),
        ("5 ml per kilo of love", "not known"),
        ("5 ml per moon", "not known"),
        ("-1 ml per egg of 50 ml", "more than nothing"),
        ("0 ml per egg of 50 ml", "more than nothing"),
        ("5 ml per 0 g egg", "more than nothing"),
        ("5 oz per kg dry mix", "Which ounce"),
        ("5 fl oz per kg dry mix", "Which ounce"),
        ("5 mm per kg dry mix", "ml, g, tsp or drops"),
        ("some per egg of 50 ml", "names its basis"),
        ("nan % of paste", "names its basis"),
        (0.8, "names its basis"),
        (None, "nothing"),
    ],
)
def test_what_is_asked_back(text: object, says: str) -> None:
    with pytest.raises(InputError) as caught:
        read_level(text, "liquid[1].level")
    assert says in str(caught.value)
    error = caught.value
    assert error.field == "liquid[1].level"
    assert str(text) == str(error.got) or str(error.got) in str(text)
    assert "egg" in error.accepted or error.accepted.startswith("a ")


@pytest.mark.parametrize("millilitres", [20, 120])
def test_the_smallest_and_the_largest_egg_are_eggs(millilitres: int) -> None:
    level = read_level(f"5 ml per egg of {millilitres} ml", "level")
    assert level.per == pytest.approx(millilitres * 1e-6, rel=1e-12)


def test_one_drop_is_counted_as_drops_are() -> None:
    one, many = (read_level(f"{text} per kg paste", "level") for text in ("1 drop", "1 drops"))
    assert (one.measure, one.amount, one.per) == (many.measure, many.amount, many.per)
    assert one.measure is Measure.DROPS


@pytest.mark.parametrize("text", ["0.8 ml per egg of 50 ml", "0.8 % of paste"])
def test_a_level_remembers_how_it_was_written(text: str) -> None:
    level = read_level(f" {text} ", "level")
    bridge = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.080)
    moved = convert(level, bridge, reference=Reference.DRY_MIX, per=1.0)
    assert level.text == moved.text == text
    assert moved.measure is level.measure


BRIDGES = st.builds(
    Bridge,
    egg_volume=st.floats(30e-6, 70e-6),
    egg_mass=st.floats(0.03, 0.075),
    dry_mix=st.floats(0.04, 0.15),
    other_liquids=st.floats(0.0, 0.01),
)
BASES = st.sampled_from(
    [
        (Reference.EGG_VOLUME, 50e-6),
        (Reference.EGG_MASS, 0.5),
        (Reference.DRY_MIX, 1.0),
        (Reference.DRY_MIX, POUND),
        (Reference.PASTE, 1.0),
    ]
)


@given(st.floats(1e-8, 1e-4), BRIDGES, BASES, BASES)
def test_every_conversion_comes_back(
    amount: float, bridge: Bridge, start: tuple[Reference, float], other: tuple[Reference, float]
) -> None:
    level = read_level("1 ml per kg dry mix", "level").scaled(amount / 1e-6)
    there = convert(level, bridge, reference=start[0], per=start[1])
    over = convert(there, bridge, reference=other[0], per=other[1])
    back = convert(over, bridge, reference=Reference.DRY_MIX, per=1.0)
    assert back.amount == pytest.approx(level.amount, rel=1e-12)


def test_an_answer_does_not_depend_on_the_basis_it_was_asked_in() -> None:
    """3 ml an egg, 75 g dry mix and 50 g egg: 40 ml/kg, 18.14 ml/lb, 30 ml/500 g (identity)."""
    bridge = Bridge(egg_volume=50e-6, egg_mass=0.050, dry_mix=0.075, other_liquids=0.003)
    level = read_level("3 ml per egg of 50 ml", "level")
    for reference, per, expected in (
        (Reference.DRY_MIX, 1.0, 40.0),
        (Reference.DRY_MIX, POUND, 18.14),
        (Reference.EGG_MASS, 0.5, 30.0),
        (Reference.PASTE, 1.0, 23.4),
    ):
        converted = convert(level, bridge, reference=reference, per=per)
        assert converted.amount / to_si(1, "ml") == pytest.approx(expected, abs=0.05)


def test_a_millilitre_an_egg_at_eighty_grams() -> None:
    """1 ml an egg at 80 g of dry mix is 12.5 ml/kg (identity)."""
    bridge = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.080)
    level = convert(
        read_level("1 ml per egg of 50 ml", "l"), bridge, reference=Reference.DRY_MIX, per=1.0
    )
    assert level.amount == pytest.approx(12.5e-6, rel=1e-12)
