"""The table of seconds: the plan's own numbers in every cell, from one run on many clocks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.boil_table import Asked, BoilTable, boil_table
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench, Pot
from baitwright.recipe.model import BaitKind, Core, Recipe
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, RECIPE, planned, with_bait

DRAWS = Draws(batches=48, baits=2)


def number(quantity: Quantity) -> float:
    return float(unwrap(quantity.value))


def tabled(
    sizes: tuple[float, ...],
    cores: tuple[float, ...] = (0.0,),
    *,
    recipe: Recipe = RECIPE,
    bench: Bench = BENCH,
) -> BoilTable:
    state = planned(recipe, bench, draws=DRAWS).rolled.bait
    unknowns = Unknowns(DRAWS, prior_factors())
    return boil_table(state, recipe, asked=Asked(sizes, cores), bench=bench, unknowns=unknowns)


@pytest.mark.parametrize(
    ("size", "core"), [(0.012, 0.0), (0.015, 0.009), (0.018, 0.010), (0.024, 0.0), (0.030, 0.012)]
)
@pytest.mark.parametrize("pot", [Pot(), Pot(0.6e-3, 400.0, 60)], ids=["usual", "weak"])
def test_a_cell_is_what_a_plan_says(size: float, core: float, pot: Pot) -> None:
    """In company of far smaller and larger ones, in a pot that dips and in one that hardly does."""
    bench = replace(BENCH, pot=pot)
    cell = tabled((0.010, size, 0.040), (0.0, core) if core else (0.0,), bench=bench).cell(
        size, core
    )
    wanted = Core("cork-ball", core) if core else None
    kind = BaitKind.SINKER if wanted is None else RECIPE.bait.kind
    boil = planned(with_bait(diameter=size, core=wanted, kind=kind), bench, draws=DRAWS).boil
    assert cell is not None
    assert number(cell.middle) == pytest.approx(median_of(boil.set_seconds), rel=2e-3)
    assert abs(number(cell.advised) - number(boil.seconds)) in (0.0, 5.0)


def test_larger_takes_longer_and_a_larger_core_less() -> None:
    sizes, cores = (0.014, 0.016, 0.018), (0.0, 0.006, 0.008, 0.010)
    table = tabled(sizes, cores)
    seconds = np.array([[number(table.cell(s, c).middle) for c in cores] for s in sizes])  # type: ignore[union-attr]
    assert np.all(np.diff(seconds, axis=0) > 0)
    assert np.all(np.diff(seconds, axis=1) < 0)


@settings(max_examples=6, deadline=None)
@given(st.floats(0.5, 2.0))
def test_company_moves_no_cell(more: float) -> None:
    """A cell is the same whichever sizes stand beside it."""
    alone, among = tabled((0.016,)), tabled((0.016, 0.016 * more + 1e-3))
    one, other = alone.cell(0.016, 0.0), among.cell(0.016, 0.0)
    assert one is not None
    assert other is not None
    assert number(other.middle) == pytest.approx(number(one.middle), rel=1e-3)


def test_no_room_and_little_room() -> None:
    table = tabled((0.011, 0.014), (0.0, 0.010, 0.0115))
    assert table.cell(0.011, 0.010) is None
    assert [cell.thin for cell in table.cells if cell.diameter == 0.014] == [False, False, True]


def test_what_never_sets_is_never() -> None:
    weak = replace(BENCH, altitude=4800.0, pot=Pot(0.3e-3, 150.0, 300))
    cell = tabled((0.0112,), (0.006,), bench=weak).cells[0]
    assert math.isinf(number(cell.advised))


def test_sizes_beyond_the_rules_carry_their_warning() -> None:
    assert not tabled((0.015,)).notes
    (note,) = tabled((0.015, 0.050)).notes
    assert "50 mm lies outside" in note.text


@pytest.mark.parametrize(
    ("sizes", "cores", "field"),
    [
        ((), (0.0,), "sizes"),
        ((0.015,), (), "cores"),
        ((0.002,), (0.0,), "sizes"),
        ((0.5,), (0.0,), "sizes"),
        ((math.nan,), (0.0,), "sizes"),
        ((0.015,), (-0.009,), "cores"),
        ((0.010,), (0.0095,), "cores"),
        (tuple(0.01 + 1e-4 * step for step in range(25)), (0.0,), "sizes"),
        ((0.015,), tuple(1e-3 * step for step in range(11)), "cores"),
        (
            tuple(0.01 + 1e-3 * step for step in range(20)),
            tuple(1e-3 * step for step in range(5)),
            "sizes",
        ),
    ],
)
def test_a_table_that_cannot_be_is_named(
    sizes: tuple[float, ...], cores: tuple[float, ...], field: str
) -> None:
    with pytest.raises(InputError) as caught:
        tabled(sizes, cores)
    assert caught.value.field == field


def test_every_number_says_how() -> None:
    for cell in tabled((0.015,), (0.0, 0.009)).cells:
        for quantity in (cell.middle, cell.advised):
            assert {"table_seconds", "paste_layer"} <= {part.name for part in quantity.walk()}
            assert all(part.equation for part in quantity.walk() if part.origin == "computed")
