"""The designs of a sweep: each value of an axis with each of all others, by number."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baitwright.batch.batch_plan import PlanRequest
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import BaseMix, Core, Hardener, Recipe
from baitwright.recipe.rig import Rig
from baitwright.terms.factors import FactorSet
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.recipe_files.light_tables import BaitCoreTable, as_core


@dataclass(frozen=True, slots=True)
class Mix:
    """A base mix with its hardener and its sieve."""

    base: BaseMix
    hardener: Hardener | None
    sieve: str | None


@dataclass(frozen=True, slots=True)
class Water:
    """A lake by its name, temperature [K] and salinity [kg/kg]."""

    name: str
    temperature: float
    salinity: float


@dataclass(frozen=True, slots=True)
class Design:
    """One of each: base mix, diameter as rolled [m], core, share of the recipe's levels, water."""

    mix: Mix
    size: float
    core: Core | None
    level: float
    water: Water


@dataclass(frozen=True, slots=True)
class Sweep:
    """A recipe and a bench, what is varied of them, and what is told of each design.

    The waters change from one design to the next: baits are made once for all of them.
    """

    recipe: Recipe
    bench: Bench
    factors: FactorSet
    draws: Draws
    mixes: tuple[Mix, ...]
    sizes: tuple[float, ...]
    cores: tuple[Core | None, ...]
    levels: tuple[float, ...]
    waters: tuple[Water, ...]
    tell: tuple[str, ...]

    def __len__(self) -> int:
        """How many designs there are."""
        axes = (self.mixes, self.sizes, self.cores, self.levels, self.waters)
        count = 1
        for one in axes:
            count *= len(one)
        return count

    def design(self, number: int) -> Design:
        """The design of a number from 0 on."""
        rest, water = divmod(number, len(self.waters))
        rest, level = divmod(rest, len(self.levels))
        rest, core = divmod(rest, len(self.cores))
        mix, size = divmod(rest, len(self.sizes))
        return Design(
            self.mixes[mix],
            self.sizes[size],
            self.cores[core],
            self.levels[level],
            self.waters[water],
        )

    def request(self, design: Design) -> PlanRequest:
        """What a plan of a design is asked.

        Raises
        ------
        InputError: a core that leaves no room for paste.
        """
        core, mix = design.core, design.mix
        if core is not None:
            told = BaitCoreTable.model_construct(
                material=core.material, diameter=core.diameter, count=core.count
            )
            core = as_core(told, design.size)
        recipe = replace(
            self.recipe,
            bait=replace(self.recipe.bait, diameter=design.size, core=core),
            base=mix.base,
            hardener=mix.hardener,
            sieve=mix.sieve,
            liquids=tuple(
                replace(one, level=one.level.scaled(design.level)) for one in self.recipe.liquids
            ),
            free_bait=None,
        )
        return PlanRequest(recipe, in_water(self.bench, design.water), self.factors, self.draws)


def in_water(bench: Bench, water: Water) -> Bench:
    """The bench with its baits for a water; other cores of its shelf are not weighed up."""
    rig = bench.rig
    if rig is not None or water.salinity > 0.0:
        rig = replace(Rig() if rig is None else rig, salinity=water.salinity)
    return replace(bench, lake_temperature=water.temperature, rig=rig, cores=())
