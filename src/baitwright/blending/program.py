"""Rows and rules as the arrays a solver reads, and which row of them came from which wish."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Implies, Rule, Steps
from baitwright.terms.errors import InputError

Floats = NDArray[np.float64]
_HERE = 1e-4
"""The least share that counts as used where nothing else is said: well above a solver's nothing."""
_WHOLE_ENOUGH = 1e-9


@dataclass(slots=True)
class Program:
    """Columns, the rows between them, and where each wish went.

    The first columns are the ingredients in the order of ``names``, each in ``scale`` of itself:
    its step, so that a whole number of it is a share that can be weighed. ``shortfalls`` pairs a
    wish with the column of what it is missed by; ``missed`` are the columns of a mix to stay near.
    """

    names: tuple[str, ...]
    scale: Floats
    column_low: list[float]
    column_high: list[float]
    whole: list[bool]
    starts: list[int] = field(default_factory=lambda: [0])
    index: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    row_low: list[float] = field(default_factory=list)
    row_high: list[float] = field(default_factory=list)
    owners: list[Row | Rule] = field(default_factory=list)
    rows_of: list[list[int]] = field(default_factory=list)
    shortfalls: list[tuple[int, int]] = field(default_factory=list)
    missed: tuple[int, ...] = ()
    at: dict[str, int] = field(default_factory=dict)

    @property
    def is_whole(self) -> bool:
        """Whether anything in it comes in whole numbers only."""
        return any(self.whole)

    def column(self, low: float, high: float, *, whole: bool = False) -> int:
        """One more column; where it stands."""
        self.column_low.append(low)
        self.column_high.append(high)
        self.whole.append(whole)
        return len(self.whole) - 1

    def row(
        self,
        index: Sequence[int],
        values: Sequence[float],
        *,
        low: float = -math.inf,
        high: float = math.inf,
    ) -> int:
        """One more row; where it stands."""
        self.index += index
        self.values += values
        self.starts.append(len(self.index))
        self.row_low.append(low)
        self.row_high.append(high)
        return len(self.row_low) - 1

    def limits(self, owner: int) -> tuple[float, float]:
        """Limits of the row that a wish has become."""
        (row,) = self.rows_of[owner]
        return self.row_low[row], self.row_high[row]

    def stepped_by(self, owner: int) -> list[int]:
        """The columns that a rule about steps has made whole."""
        rule = self.owners[owner]
        if isinstance(rule, Steps) and rule.ingredient in self.at:
            return [self.at[rule.ingredient]]
        return []

    def own(self, owner: Row | Rule, rows: list[int]) -> None:
        """Note which rows a wish has become."""
        self.owners.append(owner)
        self.rows_of.append(rows)


def program_of(
    names: Sequence[str],
    rows: Sequence[Row],
    *,
    rules: Sequence[Rule] = (),
    loose: Sequence[int] = (),
    near: Mapping[str, float] | None = None,
    tight: bool = True,
) -> Program:
    """The arrays of a wish for a mix.

    Parameters
    ----------
    names: the ingredients.
    rows: what the mix must keep.
    rules: about counts and steps.
    loose: which rows may be missed, at a price that is set later.
    near: a mix to stay near to; a column for each of its parts is how much of it is missed.
    tight: whether every row may tell the largest share of an ingredient; not where rows are to be
        left out by turns.

    Raises
    ------
    InputError: a rule needs a largest share of an ingredient and no row tells one.
    """
    steps = {rule.ingredient: rule.step for rule in rules if isinstance(rule, Steps)}
    scale = np.array([steps.get(name, 1.0) for name in names])
    made = Program(
        names=tuple(names),
        scale=scale,
        column_low=[0.0] * len(names),
        column_high=[math.inf] * len(names),
        whole=[name in steps for name in names],
        at={name: at for at, name in enumerate(names)},
    )
    scales = scale.tolist() if steps else None
    for number, row in enumerate(rows):
        _add(made, row, scales, loose=number in loose)
    if rules:
        firm = [row for number, row in enumerate(rows) if row.hard and number not in loose]
        _add_rules(made, largest_shares(names, firm, tight=tight), rules)
    if near is not None:
        made.missed = tuple(
            _miss(made, made.at[name], share) for name, share in near.items() if name in made.at
        )
    return made


def _add(made: Program, row: Row, scales: list[float] | None, *, loose: bool) -> None:
    at, told = made.at, row.coefficients
    if list(told) == list(at):
        index, values = list(at.values()), list(told.values())
    else:
        index = [at[name] for name in told if name in at]
        values = [value for name, value in told.items() if name in at]
    if scales is not None:
        values = [scales[one] * value for one, value in zip(index, values, strict=True)]
    low = -math.inf if row.sense is Sense.AT_MOST else row.limit
    high = math.inf if row.sense is Sense.AT_LEAST else row.limit
    if loose:
        size = _size(row)
        for sign, other in ((1.0, Sense.AT_MOST), (-1.0, Sense.AT_LEAST)):
            if row.sense is not other:
                made.shortfalls.append((len(made.owners), len(made.whole)))
                index.append(made.column(0.0, math.inf))
                values.append(sign * size)
    made.own(row, [made.row(index, values, low=low, high=high)])


def _size(row: Row) -> float:
    """What a shortfall of one in the row's own unit is worth in the solver's row."""
    if row.under is None:
        return 1.0
    return math.fsum(row.under.values()) / max(1, len(row.under))


def _miss(made: Program, at: int, share: float) -> int:
    missed = made.column(0.0, math.inf)
    made.row([missed, at], [1.0, float(made.scale[at])], low=share)
    return missed


def _add_rules(made: Program, most: Mapping[str, float], rules: Sequence[Rule]) -> None:
    least = {rule.ingredient: rule.least for rule in rules if isinstance(rule, IfUsed)}
    named = dict.fromkeys(name for rule in rules for name in _used_in(rule) if name in made.at)
    for name in named:
        if most[name] == math.inf:
            raise InputError(name, None, "a largest share, or shares that sum to 100 %")
    used = {name: made.column(0.0, 1.0, whole=True) for name in named}
    for name, one in used.items():
        _against(made, name, one, share=-most[name])
    for rule in rules:
        found: list[int] = []
        match rule:
            case AtMost(count, among):
                held = [used[name] for name in among if name in used]
                found = [made.row(held, [1.0] * len(held), high=float(count))]
            case IfUsed(name, share) if name in used:
                found = [_against(made, name, used[name], share=-share, low=0.0)]
            case Implies(name, needed) if name in used:
                found = _imply(made, used[name], needed, used=used, least=least)
            case Steps(name) if most.get(name, math.inf) < math.inf:
                at = made.at[name]
                made.column_high[at] = math.floor(most[name] / made.scale[at] + _WHOLE_ENOUGH)
        made.own(rule, found)


def _used_in(rule: Rule) -> tuple[str, ...]:
    """The ingredients that a rule has to know whether they are used."""
    match rule:
        case AtMost(_, among):
            return among
        case IfUsed(name):
            return (name,)
        case Implies(name, needed):
            return (name, needed)
    return ()


def _against(made: Program, name: str, used: int, *, share: float, low: float | None = None) -> int:
    """An ingredient beside its mark of being used: none without it, or not under a share with it.

    Returns
    -------
    Where the row stands.
    """
    at = made.at[name]
    high = 0.0 if low is None else math.inf
    low = -math.inf if low is None else low
    return made.row([at, used], [float(made.scale[at]), share], low=low, high=high)


def _imply(
    made: Program, one: int, needed: str, *, used: Mapping[str, int], least: Mapping[str, float]
) -> list[int]:
    if needed not in used:
        return [made.row([one], [1.0], high=0.0)]
    found = [made.row([used[needed], one], [1.0, -1.0], low=0.0)]
    if needed not in least:
        step = float(made.scale[made.at[needed]])
        share = step if step < 1.0 else _HERE
        found.append(_against(made, needed, used[needed], share=-share, low=0.0))
    return found


def largest_shares(
    names: Sequence[str], rows: Sequence[Row], *, tight: bool = True
) -> dict[str, float]:
    """The most of each ingredient that rows of nothing but positive parts leave room for."""
    most = dict.fromkeys(names, math.inf)
    for row in rows:
        if row.sense is Sense.AT_LEAST or row.under is not None:
            continue
        if not tight and row.kind is not RowKind.WHOLE:
            continue
        if any(value < 0.0 for value in row.over.values()):
            continue
        for name, value in row.over.items():
            if value > 0.0 and name in most:
                most[name] = min(most[name], row.asked / value)
    return {name: max(0.0, share) for name, share in most.items()}
