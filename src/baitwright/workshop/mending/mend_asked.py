"""What is asked when a mix is to be mended: the mix as it was, what is gone or changed of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.blending.mending import Likeness
from baitwright.blending.wishes import Wishes
from baitwright.recipe.model import Part
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable
from baitwright.workshop.recipe_files.mix_file import MixAsked

STEP = 0.005
"""Shares of a mended mix are rounded to this for the scale, unless told (judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mishap:
    """What has happened to a mix, and what may be done about it.

    Parameters
    ----------
    without: ingredients that are no longer to be had, by name.
    changed: what new bags say, by ingredient.
    instead: what may come in, by name; where nothing is told, what stands on ``shelf``, and where
        that is empty, the table's ingredients of the same class as what is gone.
    shelf: the maker's own ingredients besides those of the mix.
    name: of the mended base; a free one by its old name where left out.
    step: of the shares for the scale.
    """

    without: tuple[str, ...] = ()
    changed: Mapping[str, IngredientTable] = field(default_factory=dict)
    instead: tuple[str, ...] = ()
    shelf: Mapping[str, Candidate] = field(default_factory=dict)
    name: str = ""
    step: float = STEP


@dataclass(frozen=True, slots=True, kw_only=True)
class MendAsked:
    """A mix to be mended: as it was, what is wished of the new one, and its shelf by id."""

    old: MixAsked
    wishes: Wishes
    shelf: Mapping[str, Candidate]
    gone: tuple[Candidate, ...]
    changed: tuple[tuple[Candidate, Candidate], ...]
    likeness: Likeness
    name: str
    step: float

    @property
    def as_it_stands(self) -> MixAsked | None:
        """The old shares with what the bags say now; None where a part is gone."""
        return None if self.gone else self.made_of(self.wishes.present or {})

    def made_of(self, shares: Mapping[str, float]) -> MixAsked:
        """The mended mix of these shares; what was weighed of the old one is not taken over."""
        told = self.old.told
        parts = tuple(Part(name, share) for name, share in shares.items())
        base = replace(told.base, name=self.name, parts=parts)
        secret = self.old.secret - {one.id for one in self.gone}
        mix = MixTold(base, told.hardener, told.sieve, self.shelf)
        return MixAsked(mix, None, self.old.water, secret)


def next_name(name: str) -> str:
    """A name for the mix that comes after: Copper, Copper 2, Copper 3."""
    stem, _, number = name.rpartition(" ")
    return f"{stem} {int(number) + 1}" if stem and number.isdecimal() else f"{name} 2"
