"""What goes into the bowl: the base through its sieve and the hardener on top, part by part."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from baitwright.blending.candidate import Candidate
from baitwright.blending.figures import figures_of, figures_of_bought
from baitwright.blending.labels import ALLERGENS
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.materials.sieves import retained_share
from baitwright.recipe.base_mix import Known, analyse, hardener_on_top, known_by, shares_of
from baitwright.recipe.model import BaseMix, Hardener
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import IDENTITY, Backing, Origin, Quantity, declared, given
from baitwright.terms.units import PERCENT
from baitwright.uncertainty.draws import Draws


@declared(
    "share_in_bowl",
    label="share of the dry mix",
    unit=PERCENT,
    equation="share = raw share x (1 - held back) / base passing / (1 + hardener on top)",
    source="definition",
)
def share_in_bowl(raw: Any, held_back: Any, passing: Any, on_top: Any) -> Any:
    """What an ingredient of the base is of the mix that goes into the bowl."""
    return raw * (1.0 - held_back) / passing / (1.0 + on_top)


@declared(
    "hardener_in_bowl",
    label="share of the dry mix",
    unit=PERCENT,
    equation="share = on top / (1 + on top)",
    source="definition",
)
def hardener_in_bowl(on_top: Any) -> Any:
    """What the hardener is of the mix that goes into the bowl."""
    return on_top / (1.0 + on_top)


@dataclass(frozen=True, slots=True)
class MixTold:
    """A mix as it is told: base, hardener on top, sieve, and the maker's own ingredients by id.

    ``price`` is that of a base that is bought ready [per kg].
    """

    base: BaseMix
    hardener: Hardener | None = None
    sieve: str | None = None
    shelf: Mapping[str, Candidate] = field(default_factory=dict)
    price: float | None = None

    def candidate(self, name: str) -> Candidate:
        """An ingredient under the maker's label, or as the table has it.

        Raises
        ------
        InputError: there is none of that name.
        """
        own = self.shelf.get(name)
        return Candidate(ingredient=ingredient(name)) if own is None else own


@dataclass(frozen=True, slots=True)
class Component:
    """One part of the dry mix; ``candidate`` is None for a bought base nobody can take apart.

    ``raw`` is its share of the base before the sieve, or None for the hardener; ``bought_at`` what
    a bought base costs per kg.
    """

    name: str
    share: Quantity
    figures: Mapping[str, Quantity]
    candidate: Candidate | None
    raw: float | None = None
    bought_at: float | None = None

    @property
    def row(self) -> Ingredient | None:
        """Its ingredient, where it is one."""
        return None if self.candidate is None else self.candidate.ingredient

    @property
    def tells_allergens(self) -> bool:
        """Whether somebody says which groups it holds."""
        return self.candidate is not None and ALLERGENS not in self.candidate.unstated

    @property
    def price(self) -> float | None:
        """Per kg; None where nobody told it."""
        return self.bought_at if self.candidate is None else self.candidate.price


@dataclass(frozen=True, slots=True)
class InBowl:
    """Every part of a dry mix, what the sieve kept of its base, and how much is known of that."""

    parts: tuple[Component, ...]
    known: Known
    passing: Quantity
    on_top: Quantity


def in_bowl(mix: MixTold, draws: Draws | None) -> InBowl:
    """The parts of a mix as it goes into the bowl.

    Raises
    ------
    InputError: shares that do not sum to 100 %, a name that is on no shelf, or a sieve that
        nothing passes.
    """
    on_top = given(
        "hardener_on_top",
        hardener_on_top(mix.hardener),
        label="hardener, on top of the base",
        unit=PERCENT,
    )
    passing = given(
        "base_passing",
        1.0 - held_back_of(mix, mix.sieve),
        label="base that passes the sieve",
        unit=PERCENT,
        backing=_JUDGED,
    )
    if mix.base.parts:
        made = [
            _part(mix, name, share, passing=passing, on_top=on_top, draws=draws)
            for name, share in shares_of(mix.base).items()
        ]
    else:
        made = [_bought(mix, on_top, draws)]
    if mix.hardener is not None:
        hard = mix.candidate(mix.hardener.ingredient)
        made.append(_component(hard, hardener_in_bowl(on_top=on_top), draws=draws))
    return InBowl(tuple(made), known_by(mix.base), passing, on_top)


def held_back_of(mix: MixTold, sieve: str | None) -> float:
    """What a sieve holds back of the base, by the kinds of its ingredients.

    Raises
    ------
    InputError: nothing of it would pass.
    """
    if not mix.base.parts:
        return retained_share(None, sieve)
    held = math.fsum(
        share * retained_share(mix.candidate(name).ingredient, sieve)
        for name, share in shares_of(mix.base).items()
    )
    if held > 1.0 - 1e-9:
        raise InputError("base.sieve", sieve, "a sieve that something of the base passes")
    return held


def _bought(mix: MixTold, on_top: Quantity, draws: Draws | None) -> Component:
    """A base nobody can take apart: what passes its sieve is taken to be what is left on it."""
    base = mix.base
    share = share_in_bowl(
        raw=_raw(1.0, base.name), held_back=_held(0.0, base.name), passing=_ALL, on_top=on_top
    )
    make_up = analyse(base, sieve=None).fine.make_up
    figures = figures_of_bought(base.name, make_up, base.analysis, draws=draws)
    share = share.labelled(f"{base.name}, of the dry mix")
    return Component(base.name, share, figures, None, 1.0, mix.price)


def _part(mix: MixTold, name: str, raw: float, **beside: Any) -> Component:
    draws = beside.pop("draws")
    found = mix.candidate(name)
    share = share_in_bowl(
        raw=_raw(raw, found.name),
        held_back=_held(retained_share(found.ingredient, mix.sieve), found.name),
        **beside,
    )
    return _component(found, share, draws=draws, raw=raw)


def _component(
    found: Candidate, share: Quantity, *, draws: Draws | None, raw: float | None = None
) -> Component:
    share = share.labelled(f"{found.name}, of the dry mix")
    return Component(found.name, share, figures_of(found, draws), found, raw)


_JUDGED = Backing(Origin.TABLE, "judgement", Evidence.JUDGEMENT)
_ALL = given("base_passing", 1.0, label="base that is used", unit=PERCENT, backing=IDENTITY)


def _raw(share: float, name: str) -> Quantity:
    return given("raw_share", share, label=f"{name}, of the base", unit=PERCENT)


def _held(share: float, name: str) -> Quantity:
    label = f"{name} held by the sieve"
    return given("held_back", share, label=label, unit=PERCENT, backing=_JUDGED)
