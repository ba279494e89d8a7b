"""Mixes whose best is published: a diet, three blends, a refinery of oils, and Pearson's square.

Where a source prints few digits the figure was recomputed from the source's own data, and the test
holds both: ours to the recomputed digits, and to what was printed within its rounding.
"""

from __future__ import annotations

import csv
import itertools
import math
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
import pytest

from baitwright.blending.pearson import pearson_square
from baitwright.blending.program import Program, program_of
from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Implies, Rule
from baitwright.blending.solver import Ended, Found, Session
from baitwright.terms.errors import RangeError

pytestmark = pytest.mark.published

LEAST, MOST, EXACTLY = Sense.AT_LEAST, Sense.AT_MOST, Sense.EXACTLY
STIGLER = Path(__file__).with_name("data") / "stigler-1945.csv"


def row(about: str, over: Mapping[str, float], sense: Sense, asked: float) -> Row:
    return Row(about=about, kind=RowKind.NUTRIENT, over=over, sense=sense, asked=asked, unit="")


def cheapest(
    cost: Mapping[str, float], rows: Sequence[Row], rules: Sequence[Rule] = ()
) -> tuple[Program, Found]:
    """The columns that cost least, by the same rows, rules and session as a mix."""
    program = program_of(tuple(cost), rows, rules=rules)
    costs = np.zeros(len(program.whole))
    costs[: len(cost)] = list(cost.values())
    found = Session(program).solve(costs)
    assert found.ended is Ended.BEST
    return program, found


def shares(program: Program, found: Found) -> dict[str, float]:
    return dict(zip(program.names, found.columns.tolist(), strict=False))


# The least a day: kcal in thousands, g, g, mg, thousand IU, mg, mg, mg, mg.
NEEDS = {
    "kcal_k": 3.0,
    "protein_g": 70.0,
    "calcium_g": 0.8,
    "iron_mg": 12.0,
    "vitA_kIU": 5.0,
    "B1_mg": 1.8,
    "B2_mg": 2.7,
    "niacin_mg": 18.0,
    "vitC_mg": 75.0,
}


def diet() -> tuple[Program, Found]:
    with STIGLER.open(encoding="utf-8", newline="") as file:
        foods = list(csv.DictReader(file))
    assert len(foods) == 77
    rows = [
        row(need, {food["commodity"]: float(food[need]) for food in foods}, LEAST, limit)
        for need, limit in NEEDS.items()
    ]
    return cheapest({food["commodity"]: 1.0 for food in foods}, rows)


def test_the_diet_of_stigler() -> None:
    """stigler-1945, nutrients in a dollar's worth of each of 77 foods as carried by ortools-diet.

    The classical answer is 39.69 dollars a year; that is the day times 365.25.
    """
    program, found = diet()
    assert found.goal == pytest.approx(0.10866227820676, abs=1e-9)
    assert 365.0 * found.goal == pytest.approx(39.661732, abs=1e-5)
    assert 365.25 * found.goal == pytest.approx(39.69, abs=5e-3)
    eaten = {name: 365 * one for name, one in shares(program, found).items() if one > 1e-9}
    assert eaten == pytest.approx(
        {
            "Wheat Flour (Enriched)": 10.774458,
            "Liver (Beef)": 0.690783,
            "Cabbage": 4.093269,
            "Spinach": 1.827796,
            "Navy Beans, Dried": 22.275426,
        },
        abs=1e-5,
    )


def test_what_the_diet_pays_for_each_need() -> None:
    """Recomputed duals, dollars a day for one more of each need; together they are the cost."""
    _, found = diet()
    duals = dict(zip(NEEDS, found.row_duals.tolist(), strict=True))
    assert duals == pytest.approx(
        {
            "kcal_k": 0.00876515,
            "protein_g": 0.0,
            "calcium_g": 0.03173771,
            "iron_mg": 0.0,
            "vitA_kIU": 0.00040023,
            "B1_mg": 0.0,
            "B2_mg": 0.01635803,
            "niacin_mg": 0.0,
            "vitC_mg": 0.00014412,
        },
        abs=1e-8,
    )
    paid = math.fsum(duals[need] * limit for need, limit in NEEDS.items())
    assert paid == pytest.approx(found.goal, rel=1e-12)


PET_FOOD = {
    "chicken": (0.013, 0.100, 0.080, 0.001, 0.002),
    "beef": (0.008, 0.200, 0.100, 0.005, 0.005),
    "mutton": (0.010, 0.150, 0.110, 0.003, 0.007),
    "rice": (0.002, 0.000, 0.010, 0.100, 0.002),
    "wheat": (0.005, 0.040, 0.010, 0.150, 0.008),
    "gel": (0.001, 0.000, 0.000, 0.000, 0.000),
}


def pet_food(*meats: str) -> tuple[Program, Found]:
    held = meats or tuple(PET_FOOD)
    column = [{name: PET_FOOD[name][at] for name in held} for at in range(5)]
    cost, protein, fat, fibre, salt = column
    rows = [
        row("whole", dict.fromkeys(held, 1.0), EXACTLY, 100.0),
        row("protein", protein, LEAST, 8.0),
        row("fat", fat, LEAST, 6.0),
        row("fibre", fibre, MOST, 2.0),
        row("salt", salt, MOST, 0.4),
    ]
    return cheapest(cost, rows)


def test_a_blend_of_pet_food() -> None:
    """pulp-blending, cents in 100 g: 60 of beef and 40 of gel at 0.52, with the duals behind it."""
    program, found = pet_food()
    assert found.goal == pytest.approx(0.52, abs=1e-9)
    held = shares(program, found)
    assert (held["beef"], held["gel"]) == pytest.approx((60.0, 40.0), abs=1e-7)
    whole, protein, fat, fibre, salt = found.row_duals
    assert (whole, fat) == pytest.approx((0.001, 0.07), abs=1e-9)
    assert (protein, fibre, salt) == (0.0, 0.0, 0.0)


def test_the_same_of_chicken_and_beef() -> None:
    """pulp-blending, the simplified case: a third of chicken at 0.97."""
    program, found = pet_food("chicken", "beef")
    assert found.goal == pytest.approx(0.9666667, abs=1e-6)
    held = shares(program, found)
    assert (held["chicken"], held["beef"]) == pytest.approx((100 / 3, 200 / 3), abs=1e-7)


def test_a_blend_of_feed() -> None:
    """limsolve-blending, printed to four digits: 0.5909, 0.1364 and 0.2727."""
    names = ("f1", "f2", "f3")
    feeds = {name: dict(zip(names, values, strict=True)) for name, values in FEED.items()}
    rows = [
        row("whole", dict.fromkeys(names, 1.0), EXACTLY, 1.0),
        *(row(name, feeds[name], LEAST, FEED_NEEDS[name]) for name in FEED_NEEDS),
    ]
    program, found = cheapest(feeds["cost"], rows)
    held = [shares(program, found)[name] for name in names]
    assert held == pytest.approx([13 / 22, 3 / 22, 6 / 22], abs=1e-9)
    assert held == pytest.approx([0.5909, 0.1364, 0.2727], abs=5e-5)
    assert found.goal == pytest.approx(350 / 11, abs=1e-8)
    duals = dict(zip(FEED_NEEDS, found.row_duals[1:].tolist(), strict=True))
    assert duals == pytest.approx({"A": 0.0, "B": 4 / 11, "C": 6 / 11, "D": 0.0}, abs=1e-8)


FEED = {
    "cost": (40.0, 60.0, 0.0),
    "A": (100.0, 200.0, 0.0),
    "B": (50.0, 150.0, 0.0),
    "C": (40.0, 10.0, 0.0),
    "D": (10.0, 0.0, 0.0),
}
FEED_NEEDS = {"A": 80.0, "B": 50.0, "C": 25.0, "D": 5.0}

MONTHS = range(6)
HARDNESS = {"VEG1": 8.8, "VEG2": 6.1, "OIL1": 2.0, "OIL2": 4.2, "OIL3": 5.0}
PAID = {
    "VEG1": (110, 130, 110, 120, 100, 90),
    "VEG2": (120, 130, 140, 110, 120, 100),
    "OIL1": (130, 110, 130, 120, 150, 140),
    "OIL2": (110, 90, 100, 120, 110, 80),
    "OIL3": (115, 115, 95, 125, 105, 135),
}


def refinery(*, logical: bool) -> float:
    """Profit of six months of buying, storing and refining five oils."""
    cost: dict[str, float] = {}
    rows: list[Row] = []
    rules: list[Rule] = []
    for oil, month in itertools.product(HARDNESS, MONTHS):
        cost[f"buy {oil} {month}"] = float(PAID[oil][month])
        cost[f"use {oil} {month}"] = -150.0
        cost[f"keep {oil} {month}"] = 5.0
        before = {f"keep {oil} {month - 1}": 1.0} if month else {}
        moved = {f"buy {oil} {month}": 1.0, f"use {oil} {month}": -1.0}
        rows.append(
            row(
                "tank",
                {**before, **moved, f"keep {oil} {month}": -1.0},
                EXACTLY,
                -500.0 * (not month),
            )
        )
        end = EXACTLY if month == 5 else MOST
        rows.append(row("room", {f"keep {oil} {month}": 1.0}, end, 500.0 if month == 5 else 1000.0))
    for month in MONTHS:
        used = {oil: f"use {oil} {month}" for oil in HARDNESS}
        rows.append(row("veg", {used["VEG1"]: 1.0, used["VEG2"]: 1.0}, MOST, 200.0))
        rows.append(row("oil", {used[oil]: 1.0 for oil in used if oil[0] == "O"}, MOST, 250.0))
        for sense, limit in ((MOST, 6.0), (LEAST, 3.0)):
            hard = {used[oil]: value - limit for oil, value in HARDNESS.items()}
            rows.append(row("hardness", hard, sense, 0.0))
        rules.append(AtMost(3, tuple(used.values())))
        rules += [IfUsed(one, 20.0) for one in used.values()]
        rules += [Implies(used[oil], used["OIL3"]) for oil in ("VEG1", "VEG2")]
    return -cheapest(cost, rows, rules if logical else ())[1].goal


def test_a_refinery_of_oils() -> None:
    """williams-model-building, food manufacture 1: 107,843 pounds; recomputed 107842.5926."""
    assert refinery(logical=False) == pytest.approx(107842.592593, abs=1e-3)


def test_a_refinery_that_uses_three_oils_a_month() -> None:
    """williams-model-building, food manufacture 2: at most three oils, 20 t of each or none, and
    the third oil wherever there is a vegetable one: 100,279 pounds; recomputed 100278.7037.
    """
    assert refinery(logical=True) == pytest.approx(100278.703704, abs=1e-3)


def test_pearsons_square() -> None:
    """pearson-square-page: maize of 10 % and soya meal of 45 % for 14 %; 88.57 and 11.43 %."""
    maize, soya = pearson_square(0.10, 0.45, 0.14)
    assert (100 * maize, 100 * soya) == pytest.approx((88.571429, 11.428571), abs=1e-6)


@pytest.mark.parametrize("wanted", [0.05, 0.5])
def test_pearsons_square_has_no_share_below_nothing(wanted: float) -> None:
    with pytest.raises(RangeError, match="wanted"):
        pearson_square(0.10, 0.45, wanted)
