"""What must not be in a mix: allergens its maker keeps out, and what the rules of a water ban."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from baitwright.blending import wanted
from baitwright.blending.candidate import Candidate
from baitwright.blending.labels import ALLERGENS
from baitwright.blending.rows import Origin, Row
from baitwright.materials.powders import ROLES, ingredients
from baitwright.materials.tables import slug
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import allergen_group
from baitwright.workshop.wishes.wishes_tables import WaterTable, WishesFile


def bans_of(file: WishesFile, candidates: Sequence[Candidate]) -> list[Row]:
    """A row for every ingredient that is kept out, with the reason.

    Raises
    ------
    InputError: an allergen or a ban that names nothing known.
    """
    rows: list[Row] = []
    for at, name in enumerate(file.no_allergens, start=1):
        try:
            group = allergen_group(name)
        except InputError as error:
            raise InputError(f"no_allergens[{at}]", error.got, error.accepted) from None
        rows += _holding(candidates, group, traces=file.no_traces)
    if file.water is not None:
        rows += _of_the_water(file.water, candidates)
    return list({row.about: row for row in rows}.values())


def _holding(candidates: Iterable[Candidate], group: str, *, traces: bool) -> list[Row]:
    rows = []
    for one in candidates:
        if group in one.ingredient.contains:
            rows.append(wanted.ban(one, f"holds {group}"))
        elif ALLERGENS in one.unstated:
            rows.append(wanted.ban(one, "nobody tells its allergens"))
        elif traces and group in one.ingredient.may_contain:
            rows.append(wanted.ban(one, f"may hold {group}"))
    return rows


def _of_the_water(water: WaterTable, candidates: Sequence[Candidate]) -> list[Row]:
    rows = []
    for at, name in enumerate(water.bans, start=1):
        why = f"{name} is banned on {water.name}"
        _refuse_unknown(name, f"water.bans[{at}]", candidates)
        rows += [
            wanted.ban(one, why, Origin.WATER) for one in candidates if _is_meant(one, slug(name))
        ]
    return rows


def _is_meant(one: Candidate, key: str) -> bool:
    """Whether a word names an ingredient: by id, name, class, group, or an allergen it holds."""
    row = one.ingredient
    names = (row.id, slug(row.name), row.role, slug(row.group))
    return key in (*names, *row.contains, *row.may_contain)


def _refuse_unknown(name: str, field: str, candidates: Sequence[Candidate]) -> None:
    """A ban that names nothing at all is a slip; one of what this mix does not have is kept."""
    key = slug(name)
    if key in ROLES or any(_is_meant(one, key) for one in candidates):
        return
    if any(_is_meant(Candidate(ingredient=row), key) for row in ingredients().values()):
        return
    accepted = "an ingredient, a class, a group of the shelf, or an allergen such as nuts"
    raise InputError(field, name, accepted)
