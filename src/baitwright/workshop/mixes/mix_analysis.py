"""A base mix analysed: what it holds on every basis, what it costs, and what is to be said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from baitwright.batch.eggs import crack_eggs
from baitwright.batch.mix import dry_mix_per_egg, taken_up
from baitwright.batch.prove import Measurement
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.analysis import LOTS, MixAnalysis, analyse_mix
from baitwright.blending.bases import Bowl, egg_of_bowl
from baitwright.blending.carp import Beside, beside_carp
from baitwright.blending.chance import chance
from baitwright.blending.hardener import HardenerAdvice, on_hardener
from baitwright.blending.meshes import ThroughMesh, through_meshes
from baitwright.blending.remarks import in_the_cold, remarks
from baitwright.materials.eggs import egg_form
from baitwright.materials.factors import prior_factors
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.factors import FactorSet
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, given
from baitwright.terms.units import GRAMS
from baitwright.workshop.levels.quick_lines import USUAL_EGG
from baitwright.workshop.mixes.mix_limits import Limit
from baitwright.workshop.recipe_files.mix_file import MixAsked


@dataclass(frozen=True, slots=True, kw_only=True)
class Besides:
    """What goes with a mix: eggs, the maker's factors, limits, another mesh, and carp or not.

    One egg of 50 ml stands for eggs that are not told, and the priors for factors.
    """

    eggs: tuple[Eggs, ...] = ()
    factors: FactorSet = field(default_factory=prior_factors)
    limits: tuple[Limit, ...] = ()
    mesh: str | None = None
    carp: bool = False


@dataclass(frozen=True, slots=True)
class Held:
    """A floor or ceiling, the figure it is of, and the chance that it holds."""

    limit: Limit
    figure: Quantity
    chance: Quantity


@dataclass(frozen=True, slots=True)
class Analysed:
    """A mix taken apart, and everything said of it; ``carp`` only where it was asked for."""

    asked: MixAsked
    made: MixAnalysis
    advice: HardenerAdvice
    meshes: tuple[ThroughMesh, ...]
    remarks: tuple[Note, ...]
    cold: tuple[Note, ...]
    held: tuple[Held, ...] = ()
    carp: tuple[Beside, ...] = ()

    @property
    def readings(self) -> tuple[Measurement, ...]:
        """Measurements that would narrow it: none are kept for a mix."""
        return ()

    def quantities(self) -> list[Quantity]:
        """Every number of it."""
        more = [self.advice.own, self.advice.computed, *(one.chance for one in self.held)]
        more += [one.ours for one in self.carp]
        return [*self.made.quantities(), *(one for one in more if one is not None)]


def analysed(asked: MixAsked, besides: Besides | None = None) -> Analysed:
    """Take a mix apart, and say what there is to say.

    Raises
    ------
    InputError: anything in it that cannot be, told with field and value.
    """
    wanted = besides or Besides()
    made = analyse_mix(asked.told, bowl_of(asked, wanted))
    advice = on_hardener(asked.told, made.mix, LOTS)
    return Analysed(
        asked=asked,
        made=made,
        advice=advice,
        meshes=through_meshes(asked.told, wanted.mesh),
        remarks=remarks(made, advice),
        cold=in_the_cold(made),
        held=held_by(made, wanted.limits),
        carp=beside_carp(made) if wanted.carp else (),
    )


def held_by(made: MixAnalysis, limits: Sequence[Limit]) -> tuple[Held, ...]:
    """Each limit with the chance that the mix keeps it, from lot to lot.

    Raises
    ------
    InputError: a figure that is unknown of the mix.
    """
    return tuple(_held(made, one) for one in limits)


def _held(made: MixAnalysis, limit: Limit) -> Held:
    figure = made.figure(limit.figure, limit.basis, "hold")
    ends = {"at_least" if limit.is_floor else "at_most": limit.value}
    found = chance(figure, **ends).labelled(f"chance of {limit.text}")
    return Held(limit, figure, found)


def bowl_of(asked: MixAsked, wanted: Besides) -> Bowl:
    """One egg of the bowl and its dry mix: weighed where that is told, else as a plan has it."""
    unknowns = Unknowns(LOTS, wanted.factors)
    eggs = crack_eggs(wanted.eggs or (usual_egg(),), unknowns=unknowns)
    egg = egg_of_bowl(mass=eggs.mass, eggs=eggs.count)
    if asked.dry_mix_per_egg is None:
        taken = taken_up(asked.told.base, eggs, unknowns=unknowns)
        return Bowl(egg, dry_mix_per_egg(dry_mix=taken, eggs=eggs.count), asked.water)
    weighed = given("dry_mix_per_egg", asked.dry_mix_per_egg, label="dry mix per egg", unit=GRAMS)
    return Bowl(egg, weighed, asked.water)


def usual_egg() -> Eggs:
    """An egg of 50 ml in the bowl, by its weight, where nobody tells of eggs."""
    return Eggs(EggKind.WHOLE, count=1, contents_mass=USUAL_EGG * egg_form(EggKind.WHOLE).density)
