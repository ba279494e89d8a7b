"""Errors, bands, factors and the record a declared number keeps."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import numpy as np
import pytest

from baitwright.terms.band import Band
from baitwright.terms.errors import ComputationError, InputError, RangeError
from baitwright.terms.factors import Factor, FactorSet
from baitwright.terms.quantity import Declared, Origin, PerBait, PerBatch, given, rewrap, unwrap
from baitwright.terms.units import GRAMS


def make(function: Any) -> Declared:
    return Declared(function, "made", "made", GRAMS, "made = a + b", "definition", "")


def test_an_error_names_field_value_and_what_is_accepted() -> None:
    error = InputError("bait.core", "17 mm", "a core smaller than the bait", where="mine.toml")
    assert str(error) == (
        "mine.toml: bait.core: got '17 mm', but it takes a core smaller than the bait."
    )
    moved = error.located("other.toml", "recipe")
    assert str(moved).startswith("other.toml: recipe.bait.core: got '17 mm'")


def test_a_range_is_said_with_its_unit() -> None:
    error = RangeError("humidity", 1.2, low=0, high=1, hint="Is it a share?")
    assert str(error) == "humidity: got 1.2, but it takes 0 to 1. Is it a share?"


def test_a_band_says_which_of_its_ranges_holds_a_value() -> None:
    band = Band("x", "kg", 5.0, 4.0, 6.0, 3.0, 7.0, 2.0, 8.0, 100)
    assert [band.holds(v) for v in (5.5, 3.5, 7.5, 9.0)] == [50, 80, 95, 0]
    assert Band.known("x", 5.0, "kg").is_known


def test_a_declared_number_keeps_what_it_was_made_from() -> None:
    total = make(lambda a, b: a + b)
    one = given("a", PerBatch(np.array([[1.0], [2.0]])), label="a")
    two = given("b", PerBait(np.array([[1.0, 2.0], [3.0, 4.0]])), label="b")
    three = given("c", 10.0, label="c")
    both = total(a=one, b=two)
    assert isinstance(both.value, PerBait)
    assert both.origin is Origin.COMPUTED
    assert [quantity.name for quantity in both.walk()] == ["made", "a", "b"]
    known = total(a=three, b=three)
    assert known.value == 20.0
    assert [quantity.name for quantity in known.walk()] == ["made", "c"]
    assert isinstance(total(a=one, b=three).value, PerBatch)


def test_a_number_that_is_none_stops_the_plan() -> None:
    broken = make(lambda a, b: a / b * np.nan)
    with pytest.raises(ComputationError, match="made"):
        broken(a=given("a", 1.0, label="a"), b=given("b", 1.0, label="b"))
    with pytest.raises(ComputationError, match="made"):
        make(lambda a: a)(a=given("a", PerBatch(np.array([[1.0], [np.nan]])), label="a"))
    never = make(lambda a: a)(a=given("a", np.inf, label="a"))
    assert unwrap(never.value) == np.inf


def test_two_functions_cannot_make_one_number() -> None:
    from baitwright.terms.quantity import declared

    @declared("tests_only", label="a", equation="a", source="definition")
    def first(a: Any) -> Any:
        return a

    with pytest.raises(ValueError, match="tests_only"):
        declared("tests_only", label="a", equation="a", source="definition")(first.function)


def test_the_shape_tells_what_varies() -> None:
    assert rewrap(np.float64(2.0)) == 2.0
    assert rewrap(np.array(2.0)) == 2.0
    assert isinstance(rewrap(np.ones((3, 1))), PerBatch)
    assert isinstance(rewrap(np.ones((3, 2))), PerBait)


def test_a_particular_factor_comes_before_the_general_one() -> None:
    general = Factor("dry_mix_per_egg", "", 0.0, 1.0, 4.0, 0.01, "judgement")
    copper = Factor("dry_mix_per_egg", "Copper", 0.1, 3.0, 6.0, 0.01, "maker", 2)
    old = FactorSet("priors", None, (general,))
    new = old.with_factors([copper], name="mine", made_on=datetime(2026, 11, 26))
    assert new.find("dry_mix_per_egg", "Copper") is copper
    assert new.find("dry_mix_per_egg", "Chalk") is general
    assert old.find("dry_mix_per_egg", "Copper") is general
    assert copper.median == pytest.approx(np.exp(0.1))
    assert copper.scale < general.scale
    with pytest.raises(InputError, match="dry_mix_per_egg"):
        new.find("no_such_factor")
