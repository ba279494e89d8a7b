"""Wishes that cannot all be had: which of them clash, what could be had of each, and the nearest
mix.

The clash is found by leaving wishes out one by one: what is still impossible without a wish does
not need it. What is left cannot be had together, and any one of it left out can; another clash may
lie beside it, which is why what each could come to is worked out with all other wishes kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from baitwright.blending.rows import HELD, Origin, Row, RowKind
from baitwright.blending.rules import AtMost, Rule
from baitwright.blending.search import Design, Search, design
from baitwright.blending.wishes import Goal, Wishes

_FIRM_KINDS = (RowKind.WHOLE, RowKind.BAN, RowKind.STOCK)
_FIRM_ORIGINS = (Origin.LAW, Origin.WATER, Origin.NATURE)


@dataclass(frozen=True, slots=True)
class Reach:
    """One wish of a clash, and what it could come to if it alone gave way.

    ``value`` is the row's number, or the count of a rule about counts; None where giving way does
    not help, or there is no number to it.
    """

    wish: Row | Rule
    helps: bool
    value: float | None = None


@dataclass(frozen=True, slots=True)
class Clash:
    """What cannot be had together, what each of it could come to, and the nearest mix there is."""

    reaches: tuple[Reach, ...]
    nearest: Design | None

    @property
    def wishes(self) -> tuple[Row | Rule, ...]:
        """What clashes."""
        return tuple(reach.wish for reach in self.reaches)


def clash_of(wishes: Wishes, *, seconds: float = 20.0) -> Clash:
    """What clashes in wishes that no mix can keep.

    Parameters
    ----------
    wishes: for which `design` found nothing.
    seconds: for each mix in steps that is looked for.
    """
    members = irreducible(wishes, seconds=seconds)
    reaches = tuple(_reach(wishes, one, seconds=seconds) for one in members)
    return Clash(reaches, nearest_feasible(wishes, seconds=seconds))


def irreducible(wishes: Wishes, *, seconds: float = 20.0) -> tuple[Row | Rule, ...]:
    """Wishes that cannot be had together, none of which can be left out of that.

    Wishes are left out in their order, rules first; of several clashes one is told. Soft rows never
    clash.

    Notes
    -----
    Reference: chinneck-2008, the deletion filter.
    """
    search = Search(_bare(wishes), seconds=seconds, tight=False)
    nothing = np.zeros(len(search.program.whole))

    def impossible() -> bool:
        return not search.best(nothing).is_there

    order = _order(search.program.owners)
    first_rule = len(search.rows)
    rules = [at for at in order if at >= first_rule]
    put_back = [search.without(at) for at in rules]
    if not impossible():
        for take_in in put_back:
            take_in()
    else:
        order = [at for at in order if at < first_rule]
    kept = []
    for at in order:
        take_in = search.without(at)
        if not impossible():
            take_in()
            kept.append(at)
    return tuple(search.program.owners[at] for at in sorted(kept))


def _bare(wishes: Wishes) -> Wishes:
    """The same without a present mix, unless the goal is to be near it."""
    return wishes if wishes.goal is Goal.NEAREST else replace(wishes, present=None)


def _order(owners: Sequence[Row | Rule]) -> list[int]:
    """The order in which wishes are left out: the newest last, arithmetic never."""
    tried = [at for at, one in enumerate(owners) if not _nature(one) and _hard(one)]
    rules = [at for at in tried if not isinstance(owners[at], Row)]
    return rules + [at for at in tried if isinstance(owners[at], Row)]


def _nature(one: Row | Rule) -> bool:
    return isinstance(one, Row) and one.origin is Origin.NATURE


def _hard(one: Row | Rule) -> bool:
    return not isinstance(one, Row) or one.hard


def _reach(wishes: Wishes, one: Row | Rule, *, seconds: float) -> Reach:
    """What a wish could come to with all the others kept."""
    if isinstance(one, AtMost):
        for count in range(one.count + 1, len(one.among) + 1):
            rules = tuple(
                replace(one, count=count) if rule is one else rule for rule in wishes.rules
            )
            if design(replace(_bare(wishes), rules=rules), seconds=seconds).is_there:
                return Reach(one, True, float(count))
        return Reach(one, False)
    if not isinstance(one, Row):
        rules = tuple(rule for rule in wishes.rules if rule is not one)
        found = design(replace(_bare(wishes), rules=rules), seconds=seconds)
        return Reach(one, found.is_there)
    rows = tuple(
        replace(row, hard=False) if row is one else replace(row, hard=True) if row.hard else row
        for row in wishes.rows
    )
    found = design(replace(_bare(wishes), rows=rows), seconds=seconds)
    value = one.value(found.shares) if found.is_there else None
    return Reach(one, value is not None, value)


def nearest_feasible(wishes: Wishes, *, seconds: float = 20.0) -> Design | None:
    """The mix that misses least of what was wished, each row counted by the share of its limit.

    Stock, bans and the rules of law and water are kept. Limits of single ingredients give way only
    where nothing else can.

    Notes
    -----
    Reference: chinneck-2008, the elastic filter.
    """
    for firm in ((*_FIRM_KINDS, *HELD), _FIRM_KINDS):
        rows = tuple(
            row if row.kind in firm or row.origin in _FIRM_ORIGINS else replace(row, hard=False)
            for row in wishes.rows
        )
        found = design(replace(wishes, rows=rows), seconds=seconds)
        if found.is_there:
            return found
    return None
