"""The mix nearest to an old one of which a part is gone or is no longer what it was.

Nearness counts both ways at once: how much of the mix is exchanged, and how far every figure has
moved that the fish and the roller notice. A figure that moves as far as nobody notices weighs as
much as a hundredth of the mix exchanged, and from there on as a twentieth (judgement, as is how far
each figure may move unnoticed).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from baitwright.blending.candidate import FIGURES, Candidate
from baitwright.blending.rows import Row, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Rule
from baitwright.blending.wanted import Ask, class_share, held_back, nutrient
from baitwright.blending.wishes import Goal, Wishes
from baitwright.materials.proteins import binding
from baitwright.terms.errors import InputError

SETTING, GRAINS = "protein that sets by heat", "grains over 1 mm"
UNNOTICED: Mapping[str, float] = MappingProxyType(
    {
        "water": 0.02,
        "protein": 0.01,
        "fat": 0.01,
        "carbohydrate": 0.03,
        "fibre": 0.01,
        "ash": 0.01,
        "density": 10.0,
        "binder": 0.03,
        "coarse": 0.02,
        "soluble": 0.02,
        SETTING: 0.005,
        GRAINS: 0.01,
    }
)
"""How far each figure of a dry mix may move before anybody notices, in SI (judgement)."""
WITHIN, NOTICED = 0.01, 0.04
"""What a figure weighs, as shares of the mix exchanged: moved as far as nobody notices, and as far
again beyond that besides (judgement)."""
_ASK = Ask(Sense.AT_LEAST, 0.0)


@dataclass(frozen=True, slots=True)
class Newcomers:
    """What may come in: by id, how many of it at most, and at least how much of each."""

    names: tuple[str, ...] = ()
    most: int = 2
    least: float = 0.01


@dataclass(frozen=True, slots=True)
class Likeness:
    """Soft rows that hold a new mix to an old one: so that nobody notices, and to the point.

    ``untold`` are figures that cannot be compared.
    """

    unnoticed: tuple[Row, ...]
    exact: tuple[Row, ...]
    untold: tuple[str, ...]

    @property
    def rows(self) -> tuple[Row, ...]:
        """All of them."""
        return (*self.unnoticed, *self.exact)


def like_before(
    old: Sequence[Candidate], new: Sequence[Candidate], present: Mapping[str, float]
) -> Likeness:
    """Rows that keep what is noticed of a mix where it was.

    Parameters
    ----------
    old: the parts of the present mix as they were.
    new: what the new mix may be made of, as it is now.
    present: the present mix's shares.

    A figure that nobody tells of a part is left out and named: missing is not nothing.
    """
    rows: list[Row] = []
    exact: list[Row] = []
    untold: list[str] = []
    for name, tolerance in UNNOTICED.items():
        try:
            was, now = _measured(name, old), _measured(name, new)
        except InputError:
            untold.append(name)
            continue
        value = was.value(present)
        if value is not None and now.over:
            rows += _held(now, value, room=tolerance, worth=NOTICED / tolerance)
            exact += _held(now, value, room=0.0, worth=WITHIN / tolerance)
    return Likeness(tuple(rows), tuple(exact), tuple(untold))


def _measured(name: str, candidates: Sequence[Candidate]) -> Row:
    """What a figure is made of; a class without members is a row of nothing."""
    if name == SETTING:
        over = {one.id: binding(one.ingredient)[0] for one in candidates}
        return _row_of(name, {key: share for key, share in over.items() if share})
    if name == GRAINS:
        return held_back(candidates, "kitchen", _ASK)
    if name in FIGURES:
        return nutrient(candidates, name, _ASK)
    try:
        return class_share(candidates, name, _ASK)
    except InputError:
        return _row_of(name, {})


def _row_of(name: str, over: Mapping[str, float]) -> Row:
    return Row(about=name, kind=RowKind.LIKENESS, over=over, sense=Sense.AT_LEAST, asked=0.0)


def _held(row: Row, value: float, *, room: float, worth: float) -> list[Row]:
    """A row on either side of a value with room; missed by one, it is worth so much of the mix."""
    ends = ((Sense.AT_LEAST, value - room), (Sense.AT_MOST, value + room))
    return [
        replace(
            row,
            about=f"{row.about}, as it was",
            kind=RowKind.LIKENESS,
            sense=sense,
            asked=limit,
            hard=False,
            weight=worth * (limit or 1.0),
        )
        for sense, limit in ends
        if limit > 0.0 or sense is Sense.AT_MOST
    ]


def mending(
    candidates: Sequence[Candidate],
    likeness: Likeness,
    present: Mapping[str, float],
    *,
    newcomers: Newcomers,
) -> Wishes:
    """What is wished of a mix that stands in for an old one: few newcomers, and none by the pinch.

    Parameters
    ----------
    candidates: what it may be made of.
    likeness: to the old one.
    present: shares of the old one.
    newcomers: which of the candidates are not of the old one.

    Raises
    ------
    InputError: nothing is left to make it of.
    """
    rules: list[Rule] = []
    if len(newcomers.names) > newcomers.most:
        rules.append(AtMost(newcomers.most, newcomers.names, "newcomers"))
    names = {one.id: one.name for one in candidates}
    rules += [IfUsed(one, newcomers.least, names[one]) for one in newcomers.names]
    return Wishes(
        candidates=tuple(candidates),
        rows=likeness.rows,
        rules=tuple(rules),
        goal=Goal.NEAREST,
        present=present,
        soft_beside=True,
    )


def tells_enough(one: Candidate) -> bool:
    """Whether an ingredient tells all that a mix is compared by."""
    return all(one.figure(name) is not None for name in UNNOTICED if name in FIGURES)


def comparable(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """Those that tell all that a mix is compared by."""
    return tuple(filter(tells_enough, candidates))
