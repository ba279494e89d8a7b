"""The whole batch in order: the one place that knows which stage follows which."""

from __future__ import annotations

from dataclasses import replace

from baitwright import __version__
from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.cautions import take_care
from baitwright.batch.coat import beside_bare
from baitwright.batch.day import Made as MadeInTime
from baitwright.batch.day import plan_day
from baitwright.batch.in_lake import in_lake, through_the_night
from baitwright.batch.keep import keep
from baitwright.batch.match import Hookbait, MatchStage, match_free_bait
from baitwright.batch.mix import tub_left, tub_used
from baitwright.batch.notes import remarks
from baitwright.batch.on_rig import OnRig, put_on_rig
from baitwright.batch.prove import Made, measurements
from baitwright.batch.rig import RigStage
from baitwright.batch.to_tray import OnTray, to_tray
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench

__all__ = ["BatchPlan", "PlanRequest", "plan"]


def plan(request: PlanRequest) -> BatchPlan:
    """Plan a batch.

    Raises
    ------
    InputError: no binding liquid, a core as large as the bait, or anything a stage refuses.
    """
    dry = to_tray(request)
    request, unknowns, bowl, rolled = dry.request, dry.unknowns, dry.bowl, dry.rolled
    recipe, bench = request.recipe, request.bench
    lying = in_lake(dry, bench)
    readings = measurements(Made(bowl.eggs, bowl.mix, dry.tray, lying.bare), run=dry.dried.run)
    used = tub_used(dry_mix=bowl.mix.dry_mix, dusting=rolled.dusting)
    coated, kind = dry.coated, recipe.bait.kind.value
    timed = MadeInTime(bowl.eggs, rolled, dry.boiled, dry.dried, lying.glugged)
    made = BatchPlan(
        request=request,
        version=__version__,
        eggs=bowl.eggs,
        mix=bowl.mix,
        doses=bowl.doses,
        rolled=rolled,
        tub_used=used,
        tub_left=tub_left(tub=bowl.mix.tub, used=used),
        boil=dry.boiled,
        coat=None if coated is None else beside_bare(coated, lying.water, kind),
        dry=dry.dried,
        glug=lying.glugged,
        keep=keep(lying.tray.dried, recipe, bench=bench, unknowns=unknowns),
        water=lying.water,
        rig=_on_rig(lying.hung, bench, unknowns),
        soak=through_the_night(lying, dry, bench),
        day=plan_day(timed, bench, unknowns=unknowns),
        free_bait=_free_bait(dry),
        care=take_care(recipe, bench, bowl.mix, bridge=bowl.doses.bridge),
        readings=readings,
        notes=(),
    )
    return replace(made, notes=remarks(made))


def _on_rig(hung: RigStage | None, bench: Bench, unknowns: Unknowns) -> OnRig | None:
    if hung is None or bench.rig is None:
        return None
    return put_on_rig(hung, bench.rig, bench=bench, unknowns=unknowns)


def _free_bait(made: OnTray) -> MatchStage | None:
    wanted, bowl = made.request.recipe.free_bait, made.bowl
    if wanted is None:
        return None
    hookbait = Hookbait(bowl.eggs, bowl.doses, bowl.mix, made.rolled)
    return match_free_bait(wanted, hookbait, unknowns=made.unknowns)
