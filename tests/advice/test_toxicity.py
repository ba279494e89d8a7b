"""Laws of the mixture formula, and what it refuses; published examples stand in tests/published."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.advice.toxicity import Part, Standing, screen
from baitwright.materials.acute_toxicity import category_of, point_of
from baitwright.terms.errors import InputError

_ESTIMATE = st.floats(0.01, 1e5)
_WEIGHTS = st.lists(st.tuples(st.floats(0.01, 100.0), _ESTIMATE), min_size=1, max_size=8)


def _blend(weights: list[tuple[float, float]], filled: float = 1.0) -> list[Part]:
    whole = sum(weight for weight, _ in weights)
    return [
        Part.known(f"part {at}", filled * weight / whole, estimate)
        for at, (weight, estimate) in enumerate(weights)
    ]


@given(_WEIGHTS)
def test_a_blend_of_known_parts_lies_between_them(weights: list[tuple[float, float]]) -> None:
    found = screen(_blend(weights), "oral").estimate
    every = [estimate for _, estimate in weights]
    assert found is not None
    assert min(every) * (1 - 1e-6) <= found <= max(every) * (1 + 1e-6)


@given(_WEIGHTS, st.floats(0.2, 0.89))
def test_so_it_does_with_much_unknown(weights: list[tuple[float, float]], filled: float) -> None:
    found = screen(_blend(weights, filled), "oral")
    every = [estimate for _, estimate in weights]
    assert found.estimate is not None
    assert found.is_corrected
    assert min(every) * (1 - 1e-6) <= found.estimate <= max(every) * (1 + 1e-6)


@given(_WEIGHTS, st.floats(0.05, 1.0), st.floats(0.0, 1.0), st.data())
def test_a_part_cut_in_two_changes_nothing(
    weights: list[tuple[float, float]], filled: float, cut: float, data: st.DataObject
) -> None:
    parts = _blend(weights, filled)
    at = data.draw(st.integers(0, len(parts) - 1))
    one = parts[at]
    assert one.estimate is not None
    two = [
        Part.known("one half", one.share * cut, one.estimate),
        Part.known("the other", one.share * (1 - cut), one.estimate),
    ]
    whole = screen(parts, "oral")
    halved = screen([*parts[:at], *two, *parts[at + 1 :]], "oral")
    assert halved.estimate == pytest.approx(whole.estimate, rel=1e-9)


@given(_WEIGHTS, st.floats(0.1, 0.9))
def test_harmless_parts_thin_a_blend(weights: list[tuple[float, float]], filled: float) -> None:
    parts = _blend(weights, filled)
    water = Part("water", 1 - filled, Standing.NOT_RELEVANT)
    neat = screen(_blend(weights), "oral").estimate
    thinned = screen([*parts, water], "oral")
    assert neat is not None
    assert thinned.estimate == pytest.approx(neat / filled, rel=1e-6)
    assert thinned.unknown == pytest.approx(0.0, abs=1e-9)


def test_ten_percent_unknown_is_not_yet_taken_out() -> None:
    known = Part.known("known", 0.90, 500.0)
    edge = screen([known, Part("dark", 0.10, Standing.UNKNOWN)], "oral")
    assert not edge.is_corrected
    assert edge.estimate == pytest.approx(500 / 0.9)


def test_nothing_known_gives_no_number() -> None:
    found = screen([Part("dark", 1.0, Standing.UNKNOWN)], "oral")
    assert (found.estimate, found.category, found.unknown) == (None, None, 1.0)


@pytest.mark.parametrize("parts", [[("a", 0.7), ("b", 0.4)], [("a", -0.1)], [("a", float("nan"))]])
def test_shares_that_cannot_be_are_refused(parts: list[tuple[str, float]]) -> None:
    with pytest.raises(InputError, match="%"):
        screen([Part.known(name, share, 100.0) for name, share in parts], "oral")


@pytest.mark.parametrize("estimate", [0.0, -1.0, float("inf")])
def test_estimates_that_cannot_be_are_refused(estimate: float) -> None:
    with pytest.raises(InputError, match="above 0"):
        Part.known("a", 0.5, estimate)


def test_a_phrase_stands_for_its_point_and_the_worst_it_may_mean() -> None:
    assert point_of("oral", ["H302"]) == 500.0
    assert point_of("oral", ["H300"]) == 0.5
    assert point_of("skin", ["H302"]) is None
    last = category_of("oral", 2000.0)
    assert last is not None
    assert last.category == 4
    assert category_of("oral", 2000.1) is None
