"""A base told by its parts, of which one is gone or another: what is left, and what may come in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.blending.labels import changed_label
from baitwright.blending.mending import Newcomers, comparable, like_before, mending
from baitwright.blending.wanted import named, on_shelf
from baitwright.materials.powders import ingredients
from baitwright.recipe.base_mix import shares_of
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import NONE
from baitwright.workshop.mending.mend_asked import MendAsked, Mishap, next_name
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable
from baitwright.workshop.recipe_files.mix_file import MixAsked


def of_mix(asked: MixAsked, mishap: Mishap) -> MendAsked:
    """What is asked of a mix that is told by its parts.

    Raises
    ------
    InputError: a name that is none of its parts, or a bag that cannot be.
    """
    told = asked.told
    present = shares_of(told.base)
    old = {name: told.candidate(name) for name in present}
    gone = _gone(old, mishap, told)
    known = {**old, **_on_top(told)}
    new = dict(_renewed(known, mishap))
    shelf = {**told.shelf, **new}
    parts = [shelf.get(name, one) for name, one in old.items() if name not in gone]
    coming = _newcomers(told, mishap, gone=[old[name] for name in gone])
    candidates = (*parts, *coming)
    if not candidates:
        raise InputError("with", None, "at least one ingredient to make it of")
    likeness = like_before(list(old.values()), candidates, present)
    newcomers = Newcomers(tuple(one.id for one in coming))
    return MendAsked(
        old=asked,
        wishes=mending(candidates, likeness, present, newcomers=newcomers),
        shelf={**shelf, **{one.id: one for one in coming}},
        gone=tuple(old[name] for name in gone),
        changed=tuple((known[name], one) for name, one in new.items() if name not in gone),
        likeness=likeness,
        name=mishap.name or next_name(told.base.name),
        step=mishap.step,
    )


def _gone(old: Mapping[str, Candidate], mishap: Mishap, told: MixTold) -> dict[str, None]:
    """Ids of what is gone, in the order told."""
    made: dict[str, None] = {}
    for name in mishap.without:
        try:
            made[named(old.values(), name, "without").id] = None
        except InputError as error:
            if on_shelf({}, name, "without").id in _on_top(told):
                accepted = "a part of the base; a hardener lies on top of it and is not mended here"
                raise InputError("without", name, accepted) from None
            raise error from None
    return made


def _on_top(told: MixTold) -> dict[str, Candidate]:
    """The hardener by id, where there is one."""
    if told.hardener is None:
        return {}
    return {told.hardener.ingredient: told.candidate(told.hardener.ingredient)}


def _renewed(known: Mapping[str, Candidate], mishap: Mishap) -> Iterator[tuple[str, Candidate]]:
    """What new bags say of what is in the mix or on top of it."""
    for name, table in mishap.changed.items():
        one = named(known.values(), name, "changed")
        yield one.id, renewed(one, table)


def renewed(one: Candidate, table: IngredientTable) -> Candidate:
    """An ingredient under what its new bag says; what that leaves out is as it was.

    Raises
    ------
    InputError: parts that cannot all be true.
    """
    groups = None if table.allergens is None else tuple(sorted({*table.allergens} - {NONE}))
    return changed_label(one, table.label, allergens=groups, price=table.price, stock=table.stock)


def _newcomers(told: MixTold, mishap: Mishap, *, gone: Iterable[Candidate]) -> list[Candidate]:
    """What may come in: as told, else what is on the shelf, else the table's of the same class."""
    barred = {one.ingredient for one in told.base.parts}
    barred |= _on_top(told).keys()
    own = {**told.shelf, **mishap.shelf}
    if mishap.instead:
        found = [on_shelf(own, name, "with") for name in mishap.instead]
    else:
        found = [one for key, one in mishap.shelf.items() if key not in barred]
        roles = {one.ingredient.role for one in gone}
        if not found:
            rows = (row for row in ingredients().values() if row.role in roles)
            found = list(comparable(own.get(row.id, Candidate(ingredient=row)) for row in rows))
    return list({one.id: one for one in found if one.id not in barred}.values())
