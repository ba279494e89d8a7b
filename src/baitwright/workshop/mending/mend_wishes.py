"""A file of wishes whose present mix is to be mended: its parts, and the wishes that still hold."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.blending.mending import like_before
from baitwright.blending.wanted import named
from baitwright.blending.wishes import Goal
from baitwright.recipe.model import BaseMix, Part
from baitwright.terms.errors import InputError
from baitwright.workshop.mending.mend_asked import MendAsked, Mishap, next_name
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable, shelf_of
from baitwright.workshop.recipe_files.mix_file import MixAsked
from baitwright.workshop.typed.reading import parse
from baitwright.workshop.wishes.wishes_file import Wanted, wanted_by
from baitwright.workshop.wishes.wishes_limits import present_mix
from baitwright.workshop.wishes.wishes_tables import WishesFile


@dataclass(frozen=True, slots=True)
class WishesKept:
    """A file's fields, everything it knows by id, and the shares of its present mix."""

    file: WishesFile
    known: Mapping[str, Candidate]
    present: Mapping[str, float]
    where: str

    @property
    def parts(self) -> dict[str, Candidate]:
        """The present mix's ingredients by id."""
        return {name: self.known[name] for name in self.present}

    @property
    def dry_mix(self) -> float | None:
        """What one egg takes up of it [kg], where the file tells it."""
        return None if self.file.paste is None else self.file.paste.dry_mix_per_egg

    @property
    def water(self) -> float | None:
        """Of the finished bait, where the file tells it."""
        return None if self.file.paste is None else self.file.paste.water

    def without(self, gone: Collection[str], new: Mapping[str, IngredientTable]) -> Wanted:
        """The wishes without what is gone, and with what new bags say.

        Raises
        ------
        InputError: what is left cannot be wished.
        """
        ids = dict(zip(self.file.ingredients, shelf_of(self.file.ingredients), strict=True))
        kept = {
            name: table if ids[name] not in new else table.model_copy(update=_told(new[ids[name]]))
            for name, table in self.file.ingredients.items()
            if ids[name] not in gone
        }
        try:
            return wanted_by(self.file.model_copy(update={"ingredients": kept}))
        except InputError as error:
            raise error.located(self.where) from None


def _told(table: IngredientTable) -> dict[str, Any]:
    fields = {name: getattr(table, name) for name in IngredientTable.model_fields}
    return {name: value for name, value in fields.items() if value is not None}


def wishes_kept(data: Mapping[str, Any], *, where: str) -> WishesKept:
    """A file of wishes with a present mix.

    Raises
    ------
    InputError: the file, or no present mix in it.
    """
    file = parse(data, WishesFile, where=where)
    try:
        shelf = shelf_of(file.ingredients)
        present, outsiders = present_mix(file, shelf)
    except InputError as error:
        raise error.located(where) from None
    if not present:
        raise InputError("present", None, "your present mix, which is to be mended", where=where)
    return WishesKept(file, {**shelf, **{one.id: one for one in outsiders}}, present, where)


def of_wishes(kept: WishesKept, mishap: Mishap) -> MendAsked:
    """The wishes of a file still hold; likeness and nearness to the present mix come after them."""
    old = kept.parts
    gone = {named(kept.known.values(), name, "without").id: None for name in mishap.without}
    new = {
        named(kept.known.values(), name, "changed").id: one for name, one in mishap.changed.items()
    }
    wanted = kept.without(gone, new)
    likeness = like_before(list(old.values()), wanted.wishes.candidates, kept.present)
    wishes = replace(
        wanted.wishes,
        rows=(*wanted.wishes.rows, *likeness.rows),
        goal=Goal.NEAREST,
        most=None,
        present=kept.present,
        soft_beside=True,
    )
    shelf = {one.id: one for one in wanted.wishes.candidates}
    parts = tuple(Part(name, share) for name, share in kept.present.items())
    told = MixTold(BaseMix(wanted.name, parts), shelf=dict(kept.known))
    return MendAsked(
        old=MixAsked(told, kept.dry_mix, kept.water),
        wishes=wishes,
        shelf=shelf,
        gone=tuple(kept.known[name] for name in gone),
        changed=_pairs(old, shelf, gone),
        likeness=likeness,
        name=mishap.name or next_name(wanted.name),
        step=mishap.step,
    )


def _pairs(
    old: Mapping[str, Candidate], new: Mapping[str, Candidate], gone: Mapping[str, None]
) -> tuple[tuple[Candidate, Candidate], ...]:
    """Each ingredient that is still there and no longer the same, as it was and as it is."""
    kept = ((one, new[key]) for key, one in old.items() if key in new and key not in gone)
    return tuple((one, other) for one, other in kept if one is not other)
