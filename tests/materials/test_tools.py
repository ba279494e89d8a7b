"""Measuring tools: what a fill can promise."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.materials.tools import (
    Glass,
    Syringe,
    choose_syringe,
    cylinders,
    draw,
    drops,
    pipettes,
    spoon,
    spoons,
    syringe,
    syringe_tolerance,
    syringes,
)
from baitwright.terms.errors import InputError, RangeError

ML = 1e-6
SYRINGES = [tool for tool in syringes().values() if tool.kind == "syringe"]
doses = st.floats(0.02 * ML, 50.0 * ML)


@given(doses)
def test_no_syringe_does_better_than_the_chosen(dose: float) -> None:
    chosen = choose_syringe(dose)
    others = [draw(tool, dose) for tool in SYRINGES if dose <= tool.nominal * (1 + 1e-9)]
    assert chosen.total == min(other.total for other in others)
    assert chosen.volume <= chosen.tool.nominal


@given(doses)
def test_a_fill_adds_up(dose: float) -> None:
    fill = choose_syringe(dose)
    marks = fill.volume / fill.tool.graduation
    assert marks == pytest.approx(round(marks), abs=1e-6)
    assert fill.volume - fill.rounding == pytest.approx(dose, abs=1e-15)
    assert fill.tolerance <= fill.error <= fill.total
    assert fill.u == pytest.approx(fill.error / math.sqrt(3.0))
    assert abs(fill.rounding) <= fill.tool.graduation


@given(st.sampled_from(SYRINGES), st.floats(0.05, 1.0), st.floats(0.05, 1.0))
def test_a_fuller_syringe_is_relatively_better(tool: Syringe, one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert syringe_tolerance(tool, more * tool.nominal) / more <= (
        syringe_tolerance(tool, less * tool.nominal) / less * (1.0 + 1e-12)
    )


def test_two_millilitres_and_four_tenths() -> None:
    fill = choose_syringe(2.4 * ML)
    assert fill.tool.id == "syringe-5"
    assert fill.volume == pytest.approx(2.4 * ML)
    assert fill.error < draw(syringe("2.5 ml"), 2.4 * ML).error


def test_a_smaller_shelf() -> None:
    only = [syringe("10 ml")]
    assert choose_syringe(2.4 * ML, only).tool.id == "syringe-10"
    with pytest.raises(InputError, match="largest being 10 ml"):
        choose_syringe(12 * ML, only)
    with pytest.raises(InputError, match="none at hand"):
        choose_syringe(1 * ML, [])


@pytest.mark.parametrize("dose", [0.0, -1.0 * ML, 60.0 * ML, math.nan])
def test_no_dose_or_too_much(dose: float) -> None:
    with pytest.raises(InputError):
        choose_syringe(dose)
    with pytest.raises(RangeError):
        draw(syringe("50 ml"), dose)
    with pytest.raises(RangeError):
        syringe_tolerance(syringe("50 ml"), dose)


def test_a_full_syringe_is_not_too_much() -> None:
    assert choose_syringe(50.0 * ML).volume == pytest.approx(50.0 * ML)


@pytest.mark.parametrize("text", ["5 ml", "5", "5 ml syringe", "syringe-5", "5ML"])
def test_a_syringe_by_any_name(text: str) -> None:
    assert syringe(text).id == "syringe-5"


def test_an_unknown_syringe_is_refused() -> None:
    with pytest.raises(InputError, match="syringe-"):
        syringe("7 ml")


@pytest.mark.parametrize("row", [*cylinders().values(), *pipettes().values()], ids=lambda r: r.id)
def test_glass_is_marked_coarser_than_a_tenth(row: Glass) -> None:
    assert row.tolerance <= 0.05 * row.nominal
    assert row.graduation <= 0.1 * row.nominal


def test_bands_hold_their_middles() -> None:
    for band in drops().values():
        assert band.low < band.drop < band.high
    for measure in spoons().values():
        assert measure.low < measure.volume < measure.high
    assert spoon("half teaspoon").volume == pytest.approx(2.5 * ML)
