"""From how much to how much makers put of a thing into a base mix: common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class MixRule(Row):
    """A usual share of the dry mix, from ``low`` to ``high``; either end may be open.

    ``figure`` says what is counted: a class of ingredients, named ingredients or groups, what a
    sieve of 1 mm would hold, or a figure of the composition. ``season`` is when it holds.
    """

    about: str
    figure: str = one_of("role:binder", "role:soluble", "ingredients", "groups", "coarse", "fat")
    names: tuple[str, ...]
    season: str = one_of("any", "cold")
    low: float | None
    high: float | None


def mix_rules() -> Mapping[str, MixRule]:
    """Every rule by id."""
    return load("mix_rules", MixRule)
