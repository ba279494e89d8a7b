"""The maker's own ingredients in a file: what a bag says, what was paid, what is at hand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated, Any

from pydantic import Field

from baitwright.blending.candidate import Candidate
from baitwright.blending.labels import TOLD, labelled, own_ingredient
from baitwright.materials.powders import ROLES, ingredient, ingredients
from baitwright.materials.tables import slug
from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import NONE, allergen_groups
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table


def _share(about: str) -> Any:
    return fields.measured(
        Kind.SHARE, "0 %", "100 %", example="25 %", about=f"{about}, as its bag declares it."
    )


class IngredientTable(Table):
    """One ingredient as this maker has it; what is left out is the table's."""

    role: Annotated[
        str | None, words.one_of(ROLES, about="Its class; needed only of one that no table has.")
    ] = None
    price: Annotated[
        float | None,
        fields.number(0, 100_000, whole=False, example=2.60, about="Per kg, in your own money."),
    ] = None
    stock: Annotated[
        float | None,
        fields.measured(Kind.MASS, "0 g", "100000 kg", example="5 kg", about="At hand."),
    ] = None
    water: Annotated[float | None, _share("Water")] = None
    protein: Annotated[float | None, _share("Protein")] = None
    fat: Annotated[float | None, _share("Fat or oil")] = None
    carbohydrate: Annotated[float | None, _share("Carbohydrate without fibre")] = None
    fibre: Annotated[float | None, _share("Fibre")] = None
    ash: Annotated[float | None, _share("Ash")] = None
    density: Annotated[
        float | None, fields.density(0.05, 5.0, about="Without air between its grains.")
    ] = None
    bulk_density: Annotated[
        float | None, fields.density(0.02, 5.0, about="Poured loosely: a full cup weighed.")
    ] = None
    water_holding: Annotated[
        float | None,
        fields.number(0, 50, whole=False, example=1.2, about="Grams of water that 1 g holds."),
    ] = None
    allergens: Annotated[
        tuple[str, ...] | None,
        allergen_groups(about="Groups that its bag names, or none."),
    ] = None

    @property
    def label(self) -> dict[str, float]:
        """What the bag says of its figures."""
        told = {name: getattr(self, name.replace(" ", "_")) for name in TOLD}
        return {name: value for name, value in told.items() if value is not None}


Ingredients = Annotated[
    dict[str, IngredientTable],
    Field(
        description="Ingredients by name with what the maker tells of them.",
        examples=[{"fishmeal-65": {"price": 2.60, "protein": "62 %"}}],
    ),
]


def shelf_of(
    told: Mapping[str, IngredientTable], field: str = "ingredients"
) -> dict[str, Candidate]:
    """Ingredients by id, each under its label.

    Raises
    ------
    InputError: one that no table has and that tells no class, one told twice, or parts that cannot
        all be true.
    """
    made: dict[str, Candidate] = {}
    for name, table in told.items():
        one = _candidate(name, table, f"{field}.{name}")
        if one.id in made:
            accepted = f"each ingredient once; {one.id} is there already"
            raise InputError(f"{field}.{name}", name, accepted)
        made[one.id] = one
    return made


def _candidate(name: str, told: IngredientTable, field: str) -> Candidate:
    named = None if told.allergens is None else tuple(sorted({*told.allergens} - {NONE}))
    if told.role is not None and slug(name) not in ingredients():
        return own_ingredient(
            name, told.role, told.label, allergens=named, price=told.price, stock=told.stock
        )
    try:
        row = ingredient(name, field)
    except InputError as error:
        hint = 'Or tell its class, such as role = "binder", if it is your own.'
        raise InputError(error.field, error.got, error.accepted, hint=hint) from None
    return labelled(row, told.label, allergens=named or (), price=told.price, stock=told.stock)


def part_id(name: str, shelf: Iterable[str], field: str) -> str:
    """The id of a part: of the maker's own shelf, or of the table.

    Raises
    ------
    InputError: neither has one of that name; the nearest names are offered.
    """
    return slug(name) if slug(name) in shelf else ingredient(name, field).id
