"""The planned bait on its rig: how the balance drifts, what else would do it, how to measure it."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.batch.balance import rest_beside_sizes, rig_lift
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.counterweight import lead_cautions
from baitwright.batch.design import Around, DesignStage, design
from baitwright.batch.on_rig import OnRig, put_on_rig, taken_down_share
from baitwright.batch.protocols import Sizes, Told, measure
from baitwright.batch.rig import RigStage, hang
from baitwright.batch.settle import water_viscosity
from baitwright.batch.soak import LONGEST, SoakStage, lake_of, soak
from baitwright.batch.target import Wish, lost_by
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cautions import Caution
from baitwright.recipe.rig import Rig
from baitwright.terms.quantity import IDENTITY, Quantity, given
from baitwright.uncertainty.bands import median_of


@dataclass(frozen=True, slots=True)
class NightPoint:
    """After some hours in the lake [s]: what is left of the lift, and the share with none left."""

    time: float
    net: Quantity
    taken_down: Quantity


@dataclass(frozen=True, slots=True)
class RigBalance:
    """Everything about one bait on one rig."""

    plan: BatchPlan
    rig: Rig
    on_rig: OnRig
    night: tuple[NightPoint, ...]
    lasts: Quantity
    design: DesignStage
    protocols: tuple[Told, ...]
    cautions: tuple[Caution, ...]


def balance_rig(plan: BatchPlan) -> RigBalance:
    """The planned bait on the rig of its bench through the hours, and other ways to make it.

    Where the bench tells no rig, only the hook hangs on the bait, at the surface.

    Raises
    ------
    InputError: a rig that cannot be, or water outside the range of its laws.
    """
    unknowns = Unknowns(plan.request.draws, plan.request.factors)
    bench, recipe = plan.request.bench, plan.request.recipe
    rig = Rig() if bench.rig is None else bench.rig
    made = plan.rig
    if made is None:
        bare = hang(plan.tray, rig, bench=bench, unknowns=unknowns)
        made = put_on_rig(bare, rig, bench=bench, unknowns=unknowns)
    stage, kind = made.stage, recipe.bait.kind.value
    lake = lake_of(bench, plan.water, time=LONGEST, kind=kind)
    soaked = soak(plan.tray.dried.bait, lake, unknowns=unknowns)
    rest = rest_beside_sizes(
        plan.tray, recipe.bait, lift=stage.alone, water=stage.water_density, unknowns=unknowns
    )
    wish = Wish(lake.carry, rig.slowest, rig.fastest)
    temperature = unknowns.stated("lake_temperature", bench.lake_temperature)
    viscosity = median_of(water_viscosity(temperature=temperature))
    return RigBalance(
        plan=plan,
        rig=rig,
        on_rig=made,
        night=_night(stage, soaked),
        lasts=soaked.lasts,
        design=design(
            plan.tray,
            recipe.bait,
            wish,
            around=Around(stage.water_density, viscosity, stage.burden, soaked.drift, rest),
            bench=bench,
            unknowns=unknowns,
        ),
        protocols=measure(_sizes(plan, stage)),
        cautions=lead_cautions(rig.stock, bench.country),
    )


def _sizes(plan: BatchPlan, stage: RigStage) -> Sizes:
    bait = plan.request.recipe.bait
    return Sizes(
        bait=bait.diameter,
        core=bait.core.diameter if bait.core else 0.0,
        paste_density=median_of(plan.rolled.density),
        core_density=median_of(plan.rolled.core_density),
        water_density=median_of(stage.water_density),
    )


def _night(stage: RigStage, soaked: SoakStage) -> tuple[NightPoint, ...]:
    """What is left for a counterweight, hour by hour."""
    points = []
    for at, point in enumerate(soaked.curve):
        hour = given("hour_told", at, label="hour told", backing=IDENTITY)
        lost = lost_by(drift=soaked.drift, at=hour)
        net = rig_lift(lift=stage.net, hook=lost).labelled("lift left for a counterweight")
        points.append(NightPoint(point.time, net, taken_down_share(net=net)))
    return tuple(points)
