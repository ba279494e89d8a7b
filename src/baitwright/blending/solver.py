"""One program handed to HiGHS, and solved again and again from where it was left.

The solver is loaded by the first program, not before. Its own log is silenced: it would stand in
what a command prints.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from typing import Any

import numpy as np

from baitwright.blending.program import Floats, Program
from baitwright.terms.errors import ComputationError

ACCURACY = 1e-9
"""How far a row may be missed and still count as kept, in the row's own numbers."""
_FASTER_ALONE = 200
"""Columns from which the solver is let to simplify a program first; below it takes longer."""


def _nothing() -> Floats:
    return np.empty(0)


_FROM_A_MIX = 4
"""The solver's number for the primal simplex: other prices take less than half its steps."""


class Ended(StrEnum):
    """How a search ended."""

    BEST = "best"
    NONE = "none"
    ENDLESS = "endless"
    TIME = "time"


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: columns in their own scale, and what its rows and columns are worth."""

    ended: Ended
    goal: float = math.nan
    columns: Floats = field(default_factory=_nothing)
    row_duals: Floats = field(default_factory=_nothing)
    column_duals: Floats = field(default_factory=_nothing)
    gap: float = 0.0

    @property
    def is_there(self) -> bool:
        """Whether anything was found."""
        return bool(self.columns.size)


@cache
def _solver() -> type[Any]:
    from highspy import Highs

    class Silent(Highs):
        """Says nothing, from its very first word on."""

        def enableCallbacks(self) -> None:  # noqa: N802  the first thing it does
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Silent


class Session:
    """A program in the solver."""

    def __init__(self, program: Program, *, seconds: float = 60.0) -> None:
        self.program = program
        self._highs = _solver()()
        options: dict[str, float | str] = {
            "primal_feasibility_tolerance": ACCURACY,
            "dual_feasibility_tolerance": ACCURACY,
            "time_limit": seconds,
        }
        if program.is_whole:
            options |= {"mip_rel_gap": 0.0, "mip_abs_gap": ACCURACY}
            options["mip_feasibility_tolerance"] = ACCURACY
        elif len(program.whole) < _FASTER_ALONE:
            options["presolve"] = "off"
        for name, value in options.items():
            self._highs.setOptionValue(name, value)
        self._columns = np.arange(len(program.whole), dtype=np.int32)
        self._highs.passModel(_as_read(program))

    def solve(self, cost: Floats, *, duals: bool = True) -> Found:
        """The columns that cost least.

        Parameters
        ----------
        cost: of each column.
        duals: whether to read what rows and columns are worth, too.

        Raises
        ------
        ComputationError: the solver gave up without an answer.
        """
        highs = self._highs
        highs.changeColsCost(len(cost), self._columns[: len(cost)], cost)
        highs.run()
        ended = _ending(highs.getModelStatus())
        info = highs.getInfo()
        if ended in (Ended.NONE, Ended.ENDLESS) or not math.isfinite(info.objective_function_value):
            return Found(ended)
        if ended is Ended.TIME and info.primal_solution_status != 2:
            return Found(ended)
        solution = highs.getSolution()
        return Found(
            ended,
            info.objective_function_value,
            np.array(solution.col_value),
            np.array(solution.row_dual) if duals else _nothing(),
            np.array(solution.col_dual) if duals else _nothing(),
            info.mip_gap if self.program.is_whole else 0.0,
        )

    def expect_prices_to_move(self) -> None:
        """Begin each search from the last mix, which other prices leave possible."""
        self._highs.setOptionValue("simplex_strategy", _FROM_A_MIX)

    def hold(self, weights: Floats, most: float) -> int:
        """One more row: the weighted sum of the columns is no more than that; where it stands."""
        at = np.flatnonzero(weights).astype(np.int32)
        return self.add(at, weights[at], limits=(-math.inf, most))

    def add(self, index: Any, values: Any, *, limits: tuple[float, float]) -> int:
        """One more row between the columns; where it stands."""
        index = np.asarray(index, dtype=np.int32)
        self._highs.addRow(*limits, len(index), index, np.asarray(values, dtype=float))
        return int(self._highs.getNumRow()) - 1

    def bound(self, row: int, low: float, high: float) -> None:
        """Other limits of a row."""
        self._highs.changeRowBounds(row, low, high)

    def whole(self, columns: Sequence[int], *, whole: bool) -> None:
        """Whether columns come in whole numbers only."""
        from highspy import HighsVarType

        kind = HighsVarType.kInteger if whole else HighsVarType.kContinuous
        for column in columns:
            self._highs.changeColIntegrality(column, kind)


def _as_read(program: Program) -> Any:
    from highspy import HighsLp, HighsVarType, MatrixFormat

    read = HighsLp()
    read.num_col_, read.num_row_ = len(program.whole), len(program.row_low)
    read.col_cost_ = np.zeros(read.num_col_)
    read.col_lower_, read.col_upper_ = program.column_low, program.column_high
    read.row_lower_, read.row_upper_ = program.row_low, program.row_high
    read.a_matrix_.format_ = MatrixFormat.kRowwise
    read.a_matrix_.start_ = program.starts
    read.a_matrix_.index_, read.a_matrix_.value_ = program.index, program.values
    if program.is_whole:
        kinds = (HighsVarType.kContinuous, HighsVarType.kInteger)
        read.integrality_ = [kinds[one] for one in program.whole]
    return read


@cache
def _endings() -> dict[Any, Ended]:
    from highspy import HighsModelStatus

    return {
        HighsModelStatus.kOptimal: Ended.BEST,
        HighsModelStatus.kInfeasible: Ended.NONE,
        HighsModelStatus.kUnbounded: Ended.ENDLESS,
        HighsModelStatus.kUnboundedOrInfeasible: Ended.NONE,
        HighsModelStatus.kTimeLimit: Ended.TIME,
    }


def _ending(status: Any) -> Ended:
    ended = _endings().get(status)
    if ended is None:
        raise ComputationError(f"the mix could not be worked out: {status}")
    return ended
