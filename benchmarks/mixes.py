"""A mix designed from its rows beside the bare solver on the same arrays, and many price lists.

Sixty ingredients and 25 rows, drawn from a seed; the bare side is handed arrays that are made
already and is asked for the same accuracy. A general modelling layer is met as a user would call
it: SciPy's ``linprog``, once for each list of prices.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from statistics import median
from time import perf_counter
from typing import Any

import highspy
import numpy as np
from scipy.optimize import linprog

from baitwright.blending.candidate import Candidate
from baitwright.blending.program import Program, program_of
from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Rule
from baitwright.blending.search import design
from baitwright.blending.solver import ACCURACY
from baitwright.blending.sweep import scenarios
from baitwright.blending.wishes import Wishes
from baitwright.materials.powders import ingredients

INGREDIENTS, ROWS, FEW, SCENARIOS = 60, 25, 6, 1000
LP_GOAL, MILP_GOAL, SCENARIO_GOAL = 1.5, 1.2, 5.0


def wishes(*, few: bool = False) -> Wishes:
    """Sixty ingredients at invented prices and 25 rows that a mix can keep."""
    random = np.random.default_rng(20261128)
    table = [one for one in ingredients().values() if one.role != "liquid"][:INGREDIENTS]
    candidates = tuple(
        Candidate(ingredient=one, price=float(price))
        for one, price in zip(table, random.uniform(1.0, 12.0, INGREDIENTS), strict=True)
    )
    names = [one.id for one in candidates]
    figures = random.uniform(0.0, 1.0, (ROWS - 1, INGREDIENTS))
    middle, room = figures.mean(axis=1), 0.12 if few else 0.01
    rows = []
    for at, told in enumerate(figures):
        sense = Sense.AT_LEAST if at % 2 else Sense.AT_MOST
        limit = middle[at] + (room if sense is Sense.AT_MOST else -room)
        rows.append(
            Row(
                about=f"figure {at}",
                kind=RowKind.NUTRIENT,
                over=dict(zip(names, told.tolist(), strict=True)),
                sense=sense,
                asked=float(limit),
            )
        )
    rules: tuple[Rule, ...] = ()
    if few:
        rules = (AtMost(FEW, tuple(names)), *(IfUsed(name, 0.025) for name in names))
    return Wishes(candidates=candidates, rows=tuple(rows), rules=rules)


@dataclass(frozen=True)
class Arrays:
    """A program as a caller of the bare solver would have it."""

    starts: Any
    index: Any
    values: Any
    limits: tuple[Any, Any]
    bounds: tuple[Any, Any]
    whole: bool
    kinds: list[Any]


def arrays_of(made: Program) -> Arrays:
    """The arrays of a program, made before the clock runs."""
    kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
    return Arrays(
        np.array(made.starts, dtype=np.int32),
        np.array(made.index, dtype=np.int32),
        np.array(made.values),
        (np.array(made.row_low), np.array(made.row_high)),
        (np.array(made.column_low), np.array(made.column_high)),
        made.is_whole,
        [kinds[one] for one in made.whole],
    )


def bare(arrays: Arrays, cost: Any) -> float:
    """The same program by the solver's own calls; what it finds and what its rows are worth."""
    highs = highspy.Highs()
    options: dict[str, Any] = {
        "output_flag": False,
        "primal_feasibility_tolerance": ACCURACY,
        "dual_feasibility_tolerance": ACCURACY,
    }
    if arrays.whole:
        options |= {"mip_rel_gap": 0.0, "mip_abs_gap": ACCURACY}
        options["mip_feasibility_tolerance"] = ACCURACY
    else:
        options["presolve"] = "off"  # which is quicker at this size
    for name, value in options.items():
        highs.setOptionValue(name, value)
    read = highspy.HighsLp()
    read.num_col_, read.num_row_ = len(cost), len(arrays.limits[0])
    read.col_cost_ = cost
    read.col_lower_, read.col_upper_ = arrays.bounds
    read.row_lower_, read.row_upper_ = arrays.limits
    read.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    read.a_matrix_.start_, read.a_matrix_.index_ = arrays.starts, arrays.index
    read.a_matrix_.value_ = arrays.values
    if arrays.whole:
        read.integrality_ = arrays.kinds
    highs.passModel(read)
    highs.run()
    solution = highs.getSolution()
    _ = list(solution.col_value), list(solution.row_dual), list(solution.col_dual)
    return float(highs.getInfo().objective_function_value)


def timed(*sides: Callable[[], float], rounds: int) -> tuple[list[float], list[float]]:
    """Median seconds of each side, turn by turn, and what each found last."""
    took: list[list[float]] = [[] for _ in sides]
    found = [0.0 for _ in sides]
    for _ in range(rounds):
        for at, side in enumerate(sides):
            began = perf_counter()
            found[at] = side()
            took[at].append(perf_counter() - began)
    return [median(one) for one in took], found


def beside(made: Wishes, *, rounds: int) -> tuple[float, float, float]:
    """Seconds of ours and of the bare solver, and how far apart their answers lie."""
    program = program_of(made.names, made.all_rows, rules=made.rules)
    arrays, cost = arrays_of(program), np.zeros(len(program.whole))
    cost[:INGREDIENTS] = [one.price for one in made.candidates]
    (ours, theirs), found = timed(
        lambda: design(made).goal, lambda: bare(arrays, cost), rounds=rounds
    )
    return ours, theirs, abs(found[0] - found[1])


def cold(made: Wishes, prices: Any) -> list[float]:
    """The best cost under each list of prices, each a call of its own."""
    sides: dict[Sense, list[list[float]]] = {sense: [] for sense in Sense}
    limits: dict[Sense, list[float]] = {sense: [] for sense in Sense}
    for row in made.all_rows:
        sign = -1.0 if row.sense is Sense.AT_LEAST else 1.0
        sides[row.sense].append([sign * row.over[name] for name in made.names])
        limits[row.sense].append(sign * row.asked)
    above = np.array(sides[Sense.AT_MOST] + sides[Sense.AT_LEAST])
    most = np.array(limits[Sense.AT_MOST] + limits[Sense.AT_LEAST])
    return [
        linprog(
            one,
            A_ub=above,
            b_ub=most,
            A_eq=np.array(sides[Sense.EXACTLY]),
            b_eq=np.array(limits[Sense.EXACTLY]),
            method="highs",
        ).fun
        for one in prices
    ]


def report(*, quick: bool) -> Iterator[str]:
    """Ratios beside the goals."""
    design(replace(wishes(), rows=()))  # loads the solver
    for name, few, goal in (("LP", False, LP_GOAL), ("MILP", True, MILP_GOAL)):
        rounds = 3 if quick else (7 if few else 101)
        ours, theirs, apart = beside(wishes(few=few), rounds=rounds)
        kept = f"at most {FEW} of " if few else ""
        yield (
            f"{name}, {kept}{INGREDIENTS} ingredients, {ROWS} rows: {1e3 * ours:.2f} ms, bare "
            f"{1e3 * theirs:.2f} ms, ratio {ours / theirs:.2f} (goal {goal:g} at most), "
            f"answers {apart:.0e} apart"
        )
    count = 50 if quick else SCENARIOS
    made = wishes()
    now = np.array([one.price for one in made.candidates])
    prices = now * np.random.default_rng(1).lognormal(0.0, 0.15, (count, INGREDIENTS))
    began = perf_counter()
    ours_found = scenarios(made, prices).costs
    ours = perf_counter() - began
    began = perf_counter()
    theirs_found = cold(made, prices)
    theirs = perf_counter() - began
    apart = float(np.abs(ours_found - np.array(theirs_found)).max())
    yield (
        f"{count} price lists: {ours:.2f} s, as many cold calls of linprog {theirs:.2f} s, "
        f"{theirs / ours:.1f} times as quick (goal {SCENARIO_GOAL:g} at least), "
        f"answers {apart:.0e} apart"
    )


if __name__ == "__main__":
    print("\n".join(report(quick=False)))
