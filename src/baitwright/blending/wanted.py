"""The rows a maker can wish for, made of what the ingredients are.

Egg and drying are carried into a row as constants: grams of dry mix per egg, and the water the
bait is dried to. Both are the maker's own, and a row on another basis than the dry mix hangs on
them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from baitwright.blending.bases import WATER_DENSITY, Basis
from baitwright.blending.candidate import FIGURES, Candidate
from baitwright.blending.rows import Origin, Row, RowKind, Sense
from baitwright.materials.eggs import EggForm
from baitwright.materials.powders import ROLES, gross_energy, ingredients
from baitwright.materials.sieves import retained_share
from baitwright.materials.tables import CONSTITUENTS, find, slug
from baitwright.terms.errors import InputError

_BY_VOLUME = ("density", "bulk density")
_MOST_ON_BASIS = (*CONSTITUENTS, "gross energy")


@dataclass(frozen=True, slots=True)
class Bound:
    """How a dry mix becomes bait: liquid egg per kilogram of dry mix, and the water it ends with.

    ``water`` of the finished bait is None where nobody tells how far it is dried.
    """

    egg: EggForm
    egg_per_mix: float
    water: float | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """Sense and limit of a row, in SI, with how firmly it is meant and who asks.

    ``chance`` is of 1 that the row holds for a mix of lots as they come; None for the middle lot.
    """

    sense: Sense
    limit: float
    hard: bool = True
    weight: float = 1.0
    origin: Origin = Origin.YOURS
    chance: float | None = None


def whole(candidates: Iterable[Candidate]) -> Row:
    """The shares of a mix are all of it."""
    return Row(
        about="the mix",
        kind=RowKind.WHOLE,
        over={one.id: 1.0 for one in candidates},
        sense=Sense.EXACTLY,
        asked=1.0,
        origin=Origin.NATURE,
    )


def nutrient(
    candidates: Sequence[Candidate],
    figure: str,
    ask: Ask,
    *,
    basis: Basis = Basis.DRY_MIX,
    bound: Bound | None = None,
    spread: Mapping[str, float] | None = None,
) -> Row:
    """A figure of the mix, the paste or the bait.

    Parameters
    ----------
    candidates: what the mix may be made of.
    figure: one of `FIGURES`.
    ask: sense and limit.
    basis: what the figure is counted on.
    bound: egg and drying, for every basis but the dry mix.
    spread: of the figure by ingredient, for a row that is to hold with a chance.

    Raises
    ------
    InputError: no such figure, one that makes no sense on the basis, an ingredient of which nobody
        tells it, or nothing said of the egg.
    """
    about = _about(figure, basis)
    if figure not in FIGURES:
        raise InputError("figure", figure, f"one of: {', '.join(FIGURES)}")
    if figure in _BY_VOLUME:
        return _by_volume(candidates, figure, ask, basis=basis, bound=bound)
    over = {one.id: one.needed(figure, row=about) for one in candidates}
    row = _row(about, RowKind.NUTRIENT, over, ask=ask, unit=FIGURES[figure])
    if ask.chance is not None:
        row = replace(row, spread=dict(spread or {}))
    if basis is Basis.DRY_MIX:
        return row
    if figure not in _MOST_ON_BASIS or (figure == "water" and basis is not Basis.PASTE):
        accepted = "a basis it has, such as dry mix"
        raise InputError(f"{figure}, basis", str(basis), accepted)
    return _on(row, candidates, figure, basis=basis, bound=_bound_for(about, bound))


def unit_of(figure: str) -> str:
    """The unit a figure's limit is told in."""
    return FIGURES[figure]


def named(candidates: Iterable[Candidate], name: str, field: str) -> Candidate:
    """One of the ingredients by its id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    held = {one.id: one for one in candidates}
    row = find({key: one.ingredient for key, one in held.items()}, name, field)
    return held[row.id]


def on_shelf(own: Mapping[str, Candidate], name: str, field: str) -> Candidate:
    """An ingredient of the maker's own, or of the table.

    Raises
    ------
    InputError: neither has one of that name; the message offers the nearest names.
    """
    rows = {**ingredients(), **{key: one.ingredient for key, one in own.items()}}
    row = find(rows, name, field)
    return own[row.id] if row.id in own else Candidate(ingredient=row)


def _about(figure: str, basis: Basis) -> str:
    return figure if basis is Basis.DRY_MIX else f"{figure} of the {basis}"


def _on(
    row: Row, candidates: Sequence[Candidate], figure: str, *, basis: Basis, bound: Bound
) -> Row:
    """The row of a dry mix with egg in it, and on another basis; the shares sum to 1."""
    egg, per_mix = bound.egg, bound.egg_per_mix
    in_egg = gross_energy(egg) if figure == "gross energy" else egg.composition[figure]
    over = {name: value + per_mix * in_egg for name, value in row.over.items()}
    if basis is Basis.PASTE:
        part = 1.0 / (1.0 + per_mix)
        over = {name: part * value for name, value in over.items()}
        spread = {name: part * value for name, value in row.spread.items()}
        return replace(row, over=over, spread=spread)
    weigh = _dried if basis is Basis.BAIT else _solids
    return replace(row, over=over, under=weigh(row.about, candidates, bound))


def _by_volume(
    candidates: Sequence[Candidate], figure: str, ask: Ask, *, basis: Basis, bound: Bound | None
) -> Row:
    about = _about(figure, basis)
    held = (Basis.DRY_MIX, Basis.PASTE, Basis.BAIT) if figure == "density" else (Basis.DRY_MIX,)
    if basis not in held:
        raise InputError(f"{figure}, basis", str(basis), " or ".join(map(str, held)))
    rooms = {one.id: 1.0 / one.needed(figure, row=about) for one in candidates}
    row = _row(about, RowKind.DENSITY, dict.fromkeys(rooms, 1.0), ask=ask, unit="g/ml")
    row = replace(row, under=rooms)
    return row if basis is Basis.DRY_MIX else _wetted(row, candidates, basis=basis, bound=bound)


def _wetted(row: Row, candidates: Sequence[Candidate], *, basis: Basis, bound: Bound | None) -> Row:
    """The density of paste or bait without air, by weight and room to a kilogram of dry mix.

    A bait has shrunk by all the water that left it, as `density_at_water` has it.
    """
    bound = _bound_for(row.about, bound)
    per_mix, egg = bound.egg_per_mix, bound.egg
    rooms = {name: room + per_mix / egg.density for name, room in (row.under or {}).items()}
    weights = dict.fromkeys(rooms, 1.0 + per_mix)
    if basis is Basis.BAIT:
        wet, weights = weights, _dried(row.about, candidates, bound)
        for name in rooms:
            rooms[name] -= (wet[name] - weights[name]) / WATER_DENSITY
    return replace(row, over=weights, under=rooms)


def _bound_for(about: str, bound: Bound | None) -> Bound:
    if bound is None:
        accepted = "[paste] with dry mix per egg, since egg is part of that basis"
        raise InputError(about, None, accepted)
    return bound


def _solids(about: str, candidates: Iterable[Candidate], bound: Bound) -> dict[str, float]:
    """Dry matter of mix and egg to a kilogram of each ingredient."""
    of_egg = bound.egg_per_mix * (1.0 - bound.egg.water)
    return {one.id: 1.0 - one.needed("water", row=about) + of_egg for one in candidates}


def _dried(about: str, candidates: Iterable[Candidate], bound: Bound) -> dict[str, float]:
    """What a bait weighs to a kilogram of each ingredient, dried to the water that is told."""
    if bound.water is None:
        raise InputError(about, None, "[paste] water, to which the bait is dried")
    held = 1.0 - bound.water
    return {name: dry / held for name, dry in _solids(about, candidates, bound).items()}


def class_share(
    candidates: Sequence[Candidate], name: str, ask: Ask, *, members: Iterable[str] | None = None
) -> Row:
    """The share of a class: a role of the shelf, a group of it, or a list of the maker's own.

    Raises
    ------
    InputError: none of the ingredients is in it.
    """
    held = _members(candidates, name) if members is None else tuple(members)
    known = {one.id for one in candidates}
    over = {one: 1.0 for one in held if one in known}
    if not over:
        accepted = f"a class that an ingredient of this mix is in; classes are {', '.join(ROLES)}"
        raise InputError("class", name, accepted)
    return _row(name, RowKind.CLASS, over, ask=ask)


def _members(candidates: Sequence[Candidate], name: str) -> tuple[str, ...]:
    key = slug(name)
    return tuple(
        one.id for one in candidates if key in (one.ingredient.role, slug(one.ingredient.group))
    )


def held_back(candidates: Sequence[Candidate], sieve: str, ask: Ask) -> Row:
    """What a sieve holds back of the mix."""
    over = {one.id: retained_share(one.ingredient, sieve) for one in candidates}
    return _row(f"left on the {sieve} sieve", RowKind.CLASS, over, ask=ask)


def share_of(one: Candidate, ask: Ask) -> Row:
    """The share of one ingredient."""
    return _row(one.name, RowKind.INGREDIENT, {one.id: 1.0}, ask=ask)


def ratio(
    candidates: Sequence[Candidate], over: Iterable[str], under: Iterable[str], *, ask: Ask
) -> Row:
    """Some ingredients beside others, such as whey to casein; multiplied out, never divided."""
    names = {one.id: one.name for one in candidates}
    above, below = tuple(over), tuple(under)
    about = " to ".join(" + ".join(names.get(one, one) for one in side) for side in (above, below))
    row = _row(about, RowKind.RATIO, dict.fromkeys(above, 1.0), ask=ask, unit="")
    return replace(row, under=dict.fromkeys(below, 1.0))


def stock(one: Candidate, batch: float) -> Row | None:
    """No more of an ingredient than is at hand [kg] for a batch [kg]; None where nobody counts."""
    if one.stock is None or one.stock >= batch:
        return None
    row = _row(one.name, RowKind.STOCK, {one.id: 1.0}, ask=Ask(Sense.AT_MOST, one.stock / batch))
    return replace(row, about=f"{one.name} in stock")


def price(candidates: Sequence[Candidate], ask: Ask) -> Row:
    """What a kilogram of the mix costs.

    Raises
    ------
    InputError: an ingredient has no price, or one below nothing.
    """
    return _row("price", RowKind.PRICE, prices(candidates), ask=ask, unit="per kg")


def prices(candidates: Sequence[Candidate]) -> dict[str, float]:
    """What a kilogram of each ingredient costs.

    Raises
    ------
    InputError: as `price`.
    """
    told = {}
    for one in candidates:
        if one.price is None or not 0.0 <= one.price < math.inf:
            accepted = "a price per kg of 0 or more"
            raise InputError(f"ingredients.{one.id}.price", one.price, accepted)
        told[one.id] = one.price
    return told


def ban(one: Candidate, why: str, origin: Origin = Origin.YOURS) -> Row:
    """None of an ingredient, and why."""
    ask = Ask(Sense.AT_MOST, 0.0, origin=origin)
    return replace(_row(f"{one.name} ({why})", RowKind.BAN, {one.id: 1.0}, ask=ask))


def likeness(
    candidates: Sequence[Candidate], present: Mapping[str, float], tolerances: Mapping[str, float]
) -> list[Row]:
    """What the fish and the roller notice kept within a tolerance of the present mix.

    Parameters
    ----------
    candidates: of this mix; those of the present mix among them.
    present: the present mix's shares.
    tolerances: by figure or class, in SI, either way.
    """
    rows = []
    for name, tolerance in tolerances.items():
        if name not in FIGURES and not _members(candidates, name):
            continue  # neither the present mix nor the new one can have any
        plain = Ask(Sense.AT_LEAST, 0.0)
        made = (
            nutrient(candidates, name, plain)
            if name in FIGURES
            else class_share(candidates, name, plain)
        )
        now = made.value(present)
        if now is None:
            raise InputError(f"present.{name}", None, "a mix that has it")
        made = replace(made, about=f"{made.about}, as now", kind=RowKind.LIKENESS)
        rows += [
            replace(made, sense=Sense.AT_LEAST, asked=max(0.0, now - tolerance)),
            replace(made, sense=Sense.AT_MOST, asked=now + tolerance),
        ]
    return rows


def _row(about: str, kind: RowKind, over: Mapping[str, float], *, ask: Ask, unit: str = "%") -> Row:
    return Row(
        about=about,
        kind=kind,
        over=over,
        sense=ask.sense,
        asked=ask.limit,
        unit=unit,
        hard=ask.hard,
        weight=ask.weight,
        origin=ask.origin,
        chance=ask.chance,
    )
