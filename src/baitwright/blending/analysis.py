"""A base mix taken apart: what it holds, weighs, binds and costs, and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from baitwright.blending.bases import Basis, Bowl, OnBases, on_bases
from baitwright.blending.blend import BLENDED, bulk_density_of, density_of, held, lacking
from baitwright.blending.components import InBowl, MixTold, in_bowl
from baitwright.blending.cost import Cost, cost_of
from baitwright.blending.shares import Binding, binding_of, by_class, coarse_grains
from baitwright.materials.powders import Allergen, Ingredient, allergens_in, ingredient
from baitwright.recipe.base_mix import DENSITY_LOG_SD
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, given
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import LogNormal

LOTS = Draws(batches=1024, baits=1)
"""Lots imagined behind the bands: a chance is told to a percent or two."""
EGG = "whole-egg"


@dataclass(frozen=True, slots=True)
class Contains:
    """Allergen groups of a mix with its egg; ``known`` is false where a part may hold any."""

    certain: tuple[Allergen, ...]
    possible: tuple[Allergen, ...]
    known: bool


@dataclass(frozen=True, slots=True)
class MixAnalysis:
    """Everything that is worked out of one mix.

    ``missing`` names, for each figure that is unknown of the mix, the parts of which nobody tells
    it: missing is not zero. ``classes`` and ``binding`` are None for a mix whose parts are unknown.
    """

    told: MixTold
    mix: InBowl
    bowl: Bowl
    bases: OnBases
    missing: Mapping[str, tuple[str, ...]]
    bulk_density: Quantity | None
    classes: Mapping[str, Quantity] | None
    grains: Quantity
    binding: Binding | None
    cost: Cost
    contains: Contains

    def figure(self, name: str, basis: Basis, field: str = "figure") -> Quantity:
        """One figure on one basis.

        Raises
        ------
        InputError: there is no such figure, or it is unknown for want of a part's.
        """
        found = self.bases.figures[basis].get(name)
        if found is not None:
            return found
        lack = self.missing.get(name)
        if lack:
            accepted = f"the {name} of {', '.join(lack)}, from a label"
            raise InputError(field, name, accepted, hint="Missing is not nothing.")
        known = ", ".join(self.bases.figures[basis])
        raise InputError(field, name, f"one of: {known} on the {basis}")

    def quantities(self) -> Iterator[Quantity]:
        """Every number that is told of the mix."""
        yield from (one.share for one in self.mix.parts)
        for figures in self.bases.figures.values():
            yield from figures.values()
        yield from self.bases.densities.values()
        yield from (self.bases.left, self.bowl.dry_mix, self.grains)
        yield from (self.classes or {}).values()
        if self.binding is not None:
            yield from (self.binding.setting, self.binding.hydrating, self.binding.gelling)
        others = (self.bulk_density, self.cost.per_kilogram, self.cost.per_egg)
        yield from (one for one in others if one is not None)


def analyse_mix(told: MixTold, bowl: Bowl, draws: Draws | None = LOTS) -> MixAnalysis:
    """Take a mix apart.

    Parameters
    ----------
    told: base, hardener, sieve and the maker's own ingredients.
    bowl: one egg and the dry mix it takes up, and how far the baits are dried.
    draws: the lots imagined behind the bands; None for the figures as printed.

    Raises
    ------
    InputError: shares that do not sum to 100 %, names on no shelf, or a bait wetter than its paste.
    """
    mix = in_bowl(told, draws)
    dry = held(mix.parts)
    density = density_of(mix.parts, _doubt(mix, draws))
    missing = {name: lacking(mix.parts, name) for name in BLENDED}
    return MixAnalysis(
        told=told,
        mix=mix,
        bowl=bowl,
        bases=on_bases(dry, bowl, density=density, draws=draws),
        missing={name: lack for name, lack in missing.items() if lack},
        bulk_density=bulk_density_of(mix.parts),
        classes=by_class(mix.parts),
        grains=coarse_grains(mix.parts),
        binding=binding_of(mix.parts),
        cost=cost_of(mix, bowl.dry_mix),
        contains=_contains(mix),
    )


def _doubt(mix: InBowl, draws: Draws | None) -> Quantity:
    spread = LogNormal(1.0, DENSITY_LOG_SD[mix.known])
    return given(
        "mix_density_doubt",
        1.0 if draws is None else draws.per_batch("mix/density", spread),
        label=f"density: the mix is known by {mix.known}",
        backing=Backing(Origin.DEFAULT, "judgement", Evidence.JUDGEMENT),
    )


def _contains(mix: InBowl) -> Contains:
    rows: list[Ingredient] = [one.row for one in mix.parts if one.row is not None]
    certain, possible = allergens_in([*rows, ingredient(EGG)])
    return Contains(certain, possible, all(one.tells_allergens for one in mix.parts))
