"""The rows of a file of wishes, each under the place where it stands in the file."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from baitwright.blending import wanted
from baitwright.blending.candidate import Candidate
from baitwright.blending.labels import MAKER
from baitwright.blending.rows import Origin, Row, Sense
from baitwright.blending.wanted import Ask, Bound
from baitwright.materials.tables import CONSTITUENTS
from baitwright.materials.variety import spread_of
from baitwright.quantities import read_number, to_si, unit_name
from baitwright.terms.errors import InputError
from baitwright.workshop.wishes.wishes_row_table import WishRow

_SIDES = {"at_least": Sense.AT_LEAST, "at_most": Sense.AT_MOST, "exactly": Sense.EXACTLY}
_EXAMPLES = {
    "%": '"34 %"',
    "g/ml": '"1.35 g/ml"',
    "kJ/100g": '"1800 kJ/100g"',
    "g/g": "1.2",
    "": "0.5",
}


@dataclass(frozen=True, slots=True)
class Bench:
    """What the rows of one file are made of."""

    candidates: Sequence[Candidate]
    classes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    bound: Bound | None = None

    def ids(self, names: Iterable[str]) -> tuple[str, ...]:
        """The ids of ingredients of this mix.

        Raises
        ------
        InputError: one that is not among them.
        """
        return tuple(one.id for one in map(self.find, names))

    def find(self, name: str, where: str = "ingredient") -> Candidate:
        """An ingredient of this mix.

        Raises
        ------
        InputError: there is none of that name; the nearest names are offered.
        """
        return wanted.named(self.candidates, name, where)


def rows_of(file: Sequence[WishRow], bench: Bench) -> list[Row]:
    """Every row of a file.

    Raises
    ------
    InputError: a row that cannot be; the message names it.
    """
    made: list[Row] = []
    for at, one in enumerate(file, start=1):
        try:
            made += _rows(one, bench)
        except InputError as error:
            raise error.located("", f"row[{at}]") from None
    return made


def _rows(one: WishRow, bench: Bench) -> list[Row]:
    subjects = {"figure": one.figure, "class": one.class_, "sieve": one.sieve, "of": one.of}
    named = [name for name, value in subjects.items() if value]
    if len(named) != 1:
        accepted = "one of: figure, class, sieve, of"
        raise InputError("row", ", ".join(named) or None, accepted)
    sides = {name: getattr(one, name) for name in _SIDES if getattr(one, name) is not None}
    if not sides:
        raise InputError(named[0], subjects[named[0]], "a limit: at_least, at_most or exactly")
    return [_row(one, bench, side=name, limit=limit) for name, limit in sides.items()]


def _row(one: WishRow, bench: Bench, *, side: str, limit: str | float) -> Row:
    unit = wanted.unit_of(one.figure) if one.figure else "" if one.to else "%"
    ask = Ask(
        sense=_SIDES[side],
        limit=read_limit(limit, unit, side),
        hard=not one.soft,
        weight=one.weight,
        origin=Origin(one.by),
        chance=one.chance,
    )
    if one.chance is not None and one.figure not in CONSTITUENTS:
        raise InputError("chance", one.figure, f"a figure: {', '.join(CONSTITUENTS)}")
    if one.figure:
        spread = _spread(bench.candidates, one.figure) if one.chance is not None else None
        return wanted.nutrient(
            bench.candidates, one.figure, ask, basis=one.basis, bound=bench.bound, spread=spread
        )
    if one.class_:
        own = bench.classes.get(one.class_)
        return wanted.class_share(bench.candidates, one.class_, ask, members=own)
    if one.sieve:
        return wanted.held_back(bench.candidates, one.sieve, ask)
    over, under = bench.ids(one.of), bench.ids(one.to)
    if under:
        return wanted.ratio(bench.candidates, over, under, ask=ask)
    about = " + ".join(bench.find(name).name for name in over)
    return wanted.class_share(bench.candidates, about, ask, members=over)


def _spread(candidates: Iterable[Candidate], figure: str) -> dict[str, float]:
    """Standard deviation of a figure from lot to lot, by ingredient."""
    made = {}
    for one in candidates:
        labelled = figure in one.overridden or one.ingredient.source == MAKER
        value = one.needed(figure, row=figure)
        made[one.id] = spread_of(one.ingredient, figure, from_label=labelled).sd_of(value)
    return made


def read_limit(value: str | float, unit: str, side: str) -> float:
    """A limit in SI, typed in the unit of its row.

    Raises
    ------
    InputError: another unit, or none where one is needed.
    """
    accepted = f"a limit such as {_EXAMPLES[unit]}"
    if not isinstance(value, str):
        if unit not in ("", "g/g") or not math.isfinite(value):
            raise InputError(side, value, accepted, hint="Write the unit with the number.")
        number = float(value)
    else:
        typed = read_number(value, side, accepted)
        if unit_name(typed.unit).replace(" ", "") != unit:
            raise InputError(side, value, accepted)
        number = typed.number if unit in ("", "g/g") else to_si(typed.number, unit)
    if number < 0.0 or (unit == "%" and number > 1.0):
        raise InputError(side, value, accepted)
    return number
