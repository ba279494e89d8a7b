"""A mix in shares that can be weighed, and every wish checked again on it in exact arithmetic."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from baitwright.blending.cuts import scatter, sigmas
from baitwright.blending.rows import Row, exact
from baitwright.blending.rules import AtMost, IfUsed, Implies, Rule, Steps
from baitwright.blending.search import Design, design
from baitwright.blending.wishes import Goal, Wishes
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Broken:
    """A wish that a mix does not keep, and by how much, in SI; None for a rule."""

    wish: Row | Rule
    by: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Weighable:
    """A mix in whole steps: exact shares, the wishes it breaks, and whether any were moved for it.

    ``moved`` says that plain rounding broke a wish and the nearest mix in steps was taken instead.
    """

    step: Fraction
    shares: Mapping[str, Fraction]
    broken: tuple[Broken, ...]
    moved: bool = False


def weighable(found: Design, step: float) -> Weighable:
    """A mix rounded to steps, so that it breaks no hard wish if that can be helped.

    A mix that was designed in steps is taken in its own.

    Parameters
    ----------
    found: the mix.
    step: of each share.

    Raises
    ------
    InputError: the steps do not make up 100 %.
    """
    told = exact(step)
    if told <= 0 or (1 / told).denominator != 1:
        raise InputError("step", f"{100 * step:g} %", "a step that makes up 100 %, such as 0.1 %")
    own = {name: found.wishes.step_of(name) for name in found.shares}
    plain = in_steps(found.shares, told, own)
    broken = recheck(found.wishes, plain)
    if not _hard(broken):
        return Weighable(told, plain, broken)
    near = _nearest_in_steps(found, step)
    if near is None:
        return Weighable(told, plain, broken)
    again = recheck(found.wishes, near)
    if len(_hard(again)) >= len(_hard(broken)):
        return Weighable(told, plain, broken)
    return Weighable(told, near, again, moved=True)


def in_steps(
    shares: Mapping[str, float], step: Fraction, own: Mapping[str, float | None] | None = None
) -> dict[str, Fraction]:
    """Shares rounded to steps so that they still make up 1: the largest remainders are rounded up.

    ``own`` are steps that an ingredient's share is in already.
    """
    fixed = {
        name: round(share / one) * exact(one)
        for name, share in shares.items()
        if (one := (own or {}).get(name)) is not None
    }
    free = {name: Fraction(share) for name, share in shares.items() if name not in fixed}
    whole = {name: int(share / step) for name, share in free.items()}
    left = round((1 - sum(fixed.values(), Fraction(0))) / step) - sum(whole.values())
    by_rest = sorted(free, key=lambda name: whole[name] - free[name] / step)
    for name in by_rest[: max(0, left)]:
        whole[name] += 1
    made = {name: fixed[name] if name in fixed else whole[name] * step for name in shares}
    return {name: share for name, share in made.items() if share}


def _nearest_in_steps(found: Design, step: float) -> dict[str, Fraction] | None:
    """The mix of the same ingredients in steps that is nearest; None where there is none."""
    wishes = found.wishes
    used = tuple(one for one in wishes.candidates if one.id in found.shares)
    names = {one.id for one in used}
    stepped = {one.ingredient for one in wishes.rules if isinstance(one, Steps)}
    kept = tuple(
        one for one in wishes.rules if not isinstance(one, Steps) or one.ingredient in names
    )
    more = tuple(Steps(one, step) for one in names - stepped)
    near = replace(
        wishes,
        candidates=used,
        rows=tuple(row for row in wishes.rows if row.hard),
        rules=(*kept, *sorted(more, key=lambda rule: rule.ingredient)),
        goal=Goal.NEAREST,
        most=None,
        present=found.shares,
    )
    made = design(near, seconds=5.0)
    if not made.is_there:
        return None
    return in_steps(made.shares, exact(step), {name: near.step_of(name) for name in made.shares})


def recheck(wishes: Wishes, shares: Mapping[str, Fraction]) -> tuple[Broken, ...]:
    """Every wish that a mix breaks, in exact arithmetic."""
    broken: list[Broken] = []
    for row in wishes.all_rows:
        by = row.beyond(shares, margin=_margin(row, shares))
        if by:
            broken.append(Broken(row, by))
    broken += [Broken(rule) for rule in wishes.rules if not _keeps(rule, shares)]
    return tuple(broken)


def _margin(row: Row, shares: Mapping[str, Fraction]) -> Fraction:
    """What a row that is to hold with a chance keeps away from its limit."""
    if row.chance is None:
        return Fraction(0)
    return exact(
        sigmas(row.chance) * scatter(row, {name: float(one) for name, one in shares.items()})
    )


def _keeps(rule: Rule, shares: Mapping[str, Fraction]) -> bool:
    match rule:
        case AtMost(count, among):
            return sum(1 for name in among if shares.get(name)) <= count
        case IfUsed(name, least):
            return not shares.get(name) or shares[name] >= exact(least)
        case Steps(name, step):
            return (shares.get(name, Fraction(0)) / exact(step)).denominator == 1
        case Implies(name, needed):
            return not shares.get(name) or bool(shares.get(needed))


def _hard(broken: tuple[Broken, ...]) -> list[Broken]:
    return [one for one in broken if not isinstance(one.wish, Row) or one.wish.hard]
