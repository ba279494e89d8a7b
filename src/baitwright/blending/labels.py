"""What a bag says of an ingredient, put over the table's row: both stay to be seen."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from baitwright.blending.candidate import FIGURES, Candidate
from baitwright.materials.powders import ROLES, Ingredient
from baitwright.materials.tables import CONSTITUENTS, slug
from baitwright.physics.food import CLOSURE_TOLERANCE, Composition, density
from baitwright.quantities import show
from baitwright.recipe.base_mix import ROOM
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence

TOLD = tuple(name for name in FIGURES if name != "gross energy")
"""What a label can tell; gross energy follows from the composition."""
MAKER = "maker"
ALLERGENS = "allergens"
"""Among what is unstated of an ingredient of which nobody tells the groups."""
_CLOSURE = 0.005
"""Declared shares sum to no more than 100 % within half a point of rounding."""


def labelled(
    row: Ingredient,
    label: Mapping[str, float],
    *,
    allergens: tuple[str, ...] = (),
    price: float | None = None,
    stock: float | None = None,
) -> Candidate:
    """A row of the shelf under what its bag says.

    Parameters
    ----------
    row: as the table has it.
    label: figures by name [mass fractions and SI]; where composition is told and carbohydrate is
        not, carbohydrate is what is left, as on a bag that declares by difference.
    allergens: groups that the bag names, besides those of the table.
    price, stock: per kg, and kg at hand; None where nobody told.

    Raises
    ------
    InputError: no such figure, or parts that cannot all be true.
    """
    _refuse_unknown(row.name, label)
    told = {name: value for name, value in label.items() if name in CONSTITUENTS}
    made = replace(row, **_fields(label))
    if allergens:
        others = (one for one in row.allergens if one.removeprefix("?") not in allergens)
        made = replace(made, allergens=(*allergens, *others))
    if told and "carbohydrate" not in told:
        made = replace(made, carbohydrate=_rest(made))
    _refuse_unclosed(made)
    if told:
        # what a table has measured of the whole is no longer that of this bag
        made = replace(made, energy=None, energy_basis="none")
        made = replace(made, composition_density=_density(made))
    both = {name: (_figure(row, name), _figure(made, name)) for name in TOLD}
    changed = {
        name: (before, after)
        for name, (before, after) in both.items()
        if name in label or (before != after and name != "density")
    }
    return Candidate(ingredient=made, price=price, stock=stock, overridden=_known(changed))


def changed_label(
    one: Candidate,
    label: Mapping[str, float],
    *,
    allergens: tuple[str, ...] | None = None,
    price: float | None = None,
    stock: float | None = None,
) -> Candidate:
    """An ingredient under what a later bag says; what that leaves out stays as it was.

    ``overridden`` of it has each figure before and after. Groups are only added: a bag that no
    longer names one does not prove that it is gone.

    Raises
    ------
    InputError: as `labelled`.
    """
    price = one.price if price is None else price
    stock = one.stock if stock is None else stock
    untold = one.unstated - set(label)
    if not untold.isdisjoint(CONSTITUENTS):
        known = {name: one.figure(name) for name in TOLD}
        both = {name: value for name, value in known.items() if value is not None} | dict(label)
        groups = allergens if ALLERGENS in one.unstated else one.ingredient.allergens
        return own_ingredient(
            one.name, one.ingredient.role, both, allergens=groups, price=price, stock=stock
        )
    made = labelled(one.ingredient, label, allergens=allergens or (), price=price, stock=stock)
    return replace(made, unstated=untold - ({ALLERGENS} if allergens is not None else set()))


def own_ingredient(
    name: str,
    role: str,
    label: Mapping[str, float],
    *,
    allergens: tuple[str, ...] | None = None,
    price: float | None = None,
    stock: float | None = None,
) -> Candidate:
    """Something that no table knows, by its bag alone; what the bag leaves out stays unknown.

    So are its ``allergens`` where they are None.

    Raises
    ------
    InputError: as `labelled`, or a class that is none.
    """
    if role not in ROLES:
        raise InputError(f"ingredients.{name}.class", role, f"one of: {', '.join(ROLES)}")
    _refuse_unknown(name, label)
    missing = {one for one in TOLD if one not in label}
    shares: dict[str, Any] = {one: label.get(one, 0.0) for one in CONSTITUENTS}
    row = Ingredient(
        **_nothing_but(name, role, allergens or ()),
        **shares,
        composition_density=math.nan,
        energy=None,
    )
    if missing.isdisjoint(set(CONSTITUENTS) - {"carbohydrate"}) and "carbohydrate" in missing:
        row = replace(row, carbohydrate=_rest(row))
        missing.discard("carbohydrate")
    if missing.isdisjoint(CONSTITUENTS):
        _refuse_unclosed(row)
        row = replace(row, composition_density=_density(row))
    row = replace(row, **_fields({one: label[one] for one in label if one not in CONSTITUENTS}))
    if row.given_density is not None or missing.isdisjoint(CONSTITUENTS):
        missing.discard("density")
    if allergens is None:
        missing.add(ALLERGENS)
    unstated = frozenset(missing)
    return Candidate(ingredient=row, price=price, stock=stock, unstated=unstated)


def _refuse_unknown(name: str, label: Mapping[str, float]) -> None:
    for figure, value in label.items():
        if figure not in TOLD:
            raise InputError(f"ingredients.{name}", figure, f"one of: {', '.join(TOLD)}")
        if not 0.0 <= value < math.inf:
            raise InputError(f"ingredients.{name}.{figure}", value, "nothing below 0")


def _fields(label: Mapping[str, float]) -> dict[str, Any]:
    """Figures by the fields of a row that hold them, with the maker behind what says so."""
    fields: dict[str, Any] = {
        ("given_density" if name == "density" else name.replace(" ", "_")): value
        for name, value in label.items()
    }
    if "bulk_density" in fields:
        fields |= {"bulk_evidence": Evidence.MEASURED, "bulk_source": MAKER}
    if "water_holding" in fields:
        fields |= {"water_holding_evidence": Evidence.MEASURED, "water_holding_source": MAKER}
    return fields


def _rest(row: Ingredient) -> float:
    others = math.fsum(getattr(row, name) for name in CONSTITUENTS if name != "carbohydrate")
    if others > 1.0 + _CLOSURE:
        hint = "What the label leaves out is taken from the table: tell it too."
        got = f"{show(others, '%')} together"
        raise InputError(f"ingredients.{row.id}", got, "parts of 100 % at most", hint=hint)
    return max(0.0, 1.0 - others)


def _refuse_unclosed(row: Ingredient) -> None:
    total = math.fsum(row.composition.values())
    if abs(total - 1.0) > CLOSURE_TOLERANCE:
        got = f"{show(total, '%')} together"
        raise InputError(f"ingredients.{row.id}", got, "parts that sum to 100 % within 3 %")


def _density(row: Ingredient) -> float:
    return float(density(Composition(**row.composition).normalised(), ROOM))


def _figure(row: Ingredient, name: str) -> float | None:
    return Candidate(ingredient=row).figure(name)


def _known(
    changed: Mapping[str, tuple[float | None, float | None]],
) -> dict[str, tuple[float | None, float]]:
    return {name: (before, after) for name, (before, after) in changed.items() if after is not None}


def _nothing_but(name: str, role: str, allergens: tuple[str, ...]) -> dict[str, Any]:
    """The fields of a row of which only name, class and allergens are known."""
    return {
        "id": slug(name),
        "name": name,
        "group": "own",
        "role": role,
        "evidence": Evidence.MEASURED,
        "source": MAKER,
        "energy_basis": "none",
        "given_density": None,
        "bulk_density": None,
        "bulk_evidence": None,
        "water_holding": None,
        "water_holding_evidence": None,
        "allergens": allergens,
        "gluten_cereals": (),
        "dust_sensitiser": False,
        "pet_hazard": False,
        "hazard_evidence": Evidence.JUDGEMENT,
        "hazard_source": "judgement",
    }
