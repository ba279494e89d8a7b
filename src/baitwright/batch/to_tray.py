"""From the bowl to the tray: the part of a plan that hangs on no lake, but for a coat's."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from baitwright.batch.balance import Tray
from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.boil import BoilStage, boil
from baitwright.batch.coat import CoatStage, coat
from baitwright.batch.dose import dose_liquids
from baitwright.batch.dry import DryStage, dry
from baitwright.batch.eggs import crack_eggs
from baitwright.batch.mix import plan_mix
from baitwright.batch.roll import Bowl, RollStage, roll
from baitwright.batch.sorption import sorption
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.uncertainty.bands import quantile_of


@dataclass(frozen=True, slots=True)
class OnTray:
    """A batch up to when its baits are dry; ``request`` has its eggs counted."""

    request: PlanRequest
    unknowns: Unknowns
    bowl: Bowl
    rolled: RollStage
    boiled: BoilStage
    coated: CoatStage | None
    dried: DryStage

    @property
    def tray(self) -> Tray:
        """The bait as it is before a glug."""
        fresh = self.boiled.bait if self.coated is None else self.coated.bait
        return Tray(self.rolled, fresh, self.dried)


def to_tray(request: PlanRequest) -> OnTray:
    """Work a batch from the eggs to dry baits.

    Raises
    ------
    InputError: no binding liquid, a core as large as the bait, or anything a stage refuses.
    """
    request = _with_eggs(request)
    recipe, bench = request.recipe, request.bench
    unknowns = Unknowns(request.draws, request.factors)
    bowl = _bowl(request, unknowns)
    rolled = roll(recipe.bait, bowl, unknowns=unknowns)
    boiled = boil(rolled.bait, recipe, bench=bench, unknowns=unknowns)
    coated = None
    if recipe.coat is not None:
        coated = coat(
            boiled.bait,
            recipe.coat,
            baits=rolled.baits,
            lake_temperature=bench.lake_temperature,
            unknowns=unknowns,
        )
    fresh = boiled.bait if coated is None else coated.bait
    holds = sorption(recipe, bowl.eggs, bowl.mix, doses=bowl.doses)
    dried = dry(fresh, bench.room, holds=holds, unknowns=unknowns)
    return OnTray(request, unknowns, bowl, rolled, boiled, coated, dried)


def _bowl(request: PlanRequest, unknowns: Unknowns) -> Bowl:
    recipe, bench = request.recipe, request.bench
    eggs = crack_eggs(bench.eggs, unknowns=unknowns)
    mix = plan_mix(recipe, eggs, tub=bench.tub, unknowns=unknowns)
    doses = dose_liquids(recipe.liquids, eggs, mix, bench=bench)
    return Bowl(eggs, doses, mix)


def _with_eggs(request: PlanRequest) -> PlanRequest:
    """The request with its eggs counted, where the maker asked for baits instead."""
    bench = request.bench
    if bench.baits_wanted is None or any(_is_counted(eggs) for eggs in bench.eggs):
        return request
    kind = bench.eggs[0] if bench.eggs else Eggs(EggKind.WHOLE)
    one = replace(kind, count=1, usual=kind.grade is None)
    trial = replace(request, bench=replace(bench, eggs=(one,)))
    unknowns = Unknowns(trial.draws, trial.factors)
    rolled = roll(trial.recipe.bait, _bowl(trial, unknowns), unknowns=unknowns)
    count = math.ceil(bench.baits_wanted / quantile_of(rolled.baits, 0.1))
    return replace(request, bench=replace(bench, eggs=(replace(one, count=count),)))


def _is_counted(eggs: Eggs) -> bool:
    measured = (eggs.count, eggs.shell_mass, eggs.contents_mass, eggs.contents_volume)
    return any(value is not None for value in measured)
