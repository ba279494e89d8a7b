"""What a file of wishes says of one ingredient and in one row."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from baitwright.blending.bases import Basis
from baitwright.blending.candidate import FIGURES
from baitwright.blending.rows import Origin
from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table

_ASKED = (Origin.YOURS, Origin.RULE, Origin.LAW, Origin.WATER)


def share(about: str, low: str = "0 %", high: str = "100 %", *, example: str = "5 %") -> Any:
    """A share of the mix."""
    return fields.measured(Kind.SHARE, low, high, example=example, about=about)


def _limit(about: str) -> fields.Reads:
    """A limit in whatever unit its row has; the row reads it."""
    accepted = 'a share such as "34 %", a density such as "1.35 g/ml", or a number for a ratio'

    def read(value: object) -> str | float:
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise InputError("", value, accepted)
        return value

    schema = {"type": ["string", "number"], "examples": ["34 %", "1.35 g/ml", 0.5]}
    return fields.Reads(read, accepted, about, schema)


_Least = Annotated[str | float | None, _limit("No less than this.")]
_Most = Annotated[str | float | None, _limit("No more than this.")]
Name = Annotated[str, words.text(example="semolina", about="An ingredient.")]


class WishedTable(IngredientTable):
    """One ingredient the mix may be made of, as this maker has it, and how much of it."""

    at_least: Annotated[float | None, share("In every mix.")] = None
    at_most: Annotated[float | None, share("Never more.")] = None
    least_if_used: Annotated[float | None, share("Or none of it.", example="2.5 %")] = None
    step: Annotated[
        float | None, share("In whole steps of this.", "0.001 %", "50 %", example="0.5 %")
    ] = None


class WishRow(Table):
    """One wish: a figure, a class, what a sieve holds, or some ingredients beside others."""

    figure: Annotated[
        str | None, words.one_of(tuple(FIGURES), about="What is counted, where it is a figure.")
    ] = None
    basis: Annotated[Basis, words.word(Basis, about="What the figure is counted on.")] = (
        Basis.DRY_MIX
    )
    class_: Annotated[
        str | None, words.text(example="binder", about="A class, a group, or a list of [classes].")
    ] = Field(None, alias="class")
    sieve: Annotated[
        str | None, words.text(example="kitchen", about="Counts what this sieve holds back.")
    ] = None
    of: tuple[Name, ...] = Field((), description="Ingredients that are counted together.")
    to: tuple[Name, ...] = Field((), description="Those they are compared with, for a ratio.")
    at_least: _Least = None
    at_most: _Most = None
    exactly: Annotated[str | float | None, _limit("Neither more nor less.")] = None
    soft: Annotated[bool, words.yes_or_no(about="May be missed, by as little as can be.")] = False
    weight: Annotated[
        float,
        fields.number(0.001, 1000, whole=False, example=2, about="Of a soft row beside others."),
    ] = 1.0
    chance: Annotated[
        float | None,
        share("Of all lots, how many are to keep it.", "50 %", "99.9 %", example="90 %"),
    ] = None
    by: Annotated[
        str, words.one_of(tuple(str(one) for one in _ASKED), about="Who asks for it.")
    ] = str(Origin.YOURS)
