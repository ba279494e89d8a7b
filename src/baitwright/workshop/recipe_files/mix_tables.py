"""What a mix file holds: a base mix without any bait."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.workshop.forms.form_fields import several
from baitwright.workshop.recipe_files.ingredient_tables import Ingredients
from baitwright.workshop.recipe_files.recipe_tables import BaseTable, HardenerTable
from baitwright.workshop.typed import fields
from baitwright.workshop.typed.reading import Table


class ShelfFile(Table):
    """A file of the maker's own ingredients, for any mix."""

    ingredients: Ingredients = Field(default_factory=dict)


class MixForm(BaseTable):
    """A base mix as a page asks for it: parts, a declared analysis, or its name alone."""

    hardener: HardenerTable | None = Field(None, description="Leave it out for none.")
    dry_mix_per_egg: Annotated[
        float | None,
        fields.measured(
            Kind.MASS, "10 g", "300 g", example="80 g", about="Weighed; else it is predicted."
        ),
    ] = None
    water: Annotated[
        float | None,
        fields.measured(
            Kind.SHARE, "1 %", "60 %", example="25 %", about="Of the bait as you bag it."
        ),
    ] = None


class MixFile(MixForm):
    """A base mix in a file, with labels, prices and what is secret of it."""

    ingredients: Ingredients = Field(
        default_factory=dict, description="Labels, prices and stock of what is in it."
    )
    price: Annotated[
        float | None,
        fields.number(
            0, 100_000, whole=False, example=4.5, about="Per kg of a base that is bought ready."
        ),
    ] = None
    secret: Annotated[
        tuple[str, ...],
        several(about="Parts that no customer is to read.", example="liver-powder"),
    ] = ()
