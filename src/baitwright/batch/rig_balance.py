"""The whole rig in the lake: what it holds up, what balances it, how it sinks."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from baitwright.batch.balance import rest_beside_sizes, rig_lift
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.counterweight import (
    MOST_PIECES,
    Combination,
    Piece,
    barred,
    best_combination,
    lead_cautions,
)
from baitwright.batch.design import Around, DesignStage, design
from baitwright.batch.protocols import Sizes, Told, measure
from baitwright.batch.rig import Rig, RigStage, burden, hang
from baitwright.batch.settle import SettleStage, Sphere, at_depth, settle, water_viscosity
from baitwright.batch.soak import LONGEST, Lake, SoakStage, soak
from baitwright.batch.target import LIMITS, Wish, lasts, lost_by, target_of
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cautions import Caution
from baitwright.materials.hooks import weight
from baitwright.physics import buoyancy
from baitwright.quantities import show
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given, tabled
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, PERCENT
from baitwright.uncertainty.bands import band_of, median_of

_UNSURE = 0.05e-3
"""A band of lift wider than this to one side hides the margin, kg (judgement)."""


@declared(
    "shot_pull",
    label="the shot under water",
    unit=GRAMS,
    equation="pull = mass (1 - water density / metal)",
    source="archimedes",
    note="trade weights are round: true shot differ by a tenth, so weigh yours",
)
def shot_pull(mass: Any, metal: Any, water_density: Any) -> Any:
    """What a few shot of one metal weigh under water."""
    return buoyancy.submerged_mass(mass, metal, water_density=water_density)


@declared(
    "taken_down_share",
    label="baits that this counterweight takes down",
    unit=PERCENT,
    equation="share of draws with no lift left",
    source="definition",
)
def taken_down_share(net: Any) -> float:
    """The share of baits that end below balance."""
    return float(np.mean(np.asarray(net) < 0.0))


@dataclass(frozen=True, slots=True)
class Counterweight:
    """Shot for the middle bait of the tray: which, their pull, what is left, who is held down."""

    combination: Combination
    pull: Quantity
    left: Quantity
    taken_down: Quantity
    settles: SettleStage


@dataclass(frozen=True, slots=True)
class RigRequest:
    """What a bait is to be fished on: the rig, the box of shot, the water, and what else is wished.

    ``putty`` is the putty [kg] that the bait is to hold up, ``fastest`` the speed [m/s] at which it
    may sink with its hook, ``current`` the lake's [m/s].
    """

    rig: Rig = field(default_factory=Rig)
    stock: tuple[Piece, ...] = ()
    current: float | None = None
    putty: float = 0.0
    fastest: float | None = None


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
    request: RigRequest
    rig: RigStage
    counterweight: Counterweight | None
    settles: SettleStage
    night: tuple[NightPoint, ...]
    lasts: Quantity
    design: DesignStage
    protocols: tuple[Told, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[Note, ...]


def balance_rig(plan: BatchPlan, request: RigRequest) -> RigBalance:
    """Put the planned bait on a rig and the rig in the lake.

    Raises
    ------
    InputError: a rig that cannot be, or water outside the range of its laws.
    """
    unknowns = Unknowns(plan.request.draws, plan.request.factors)
    bench, recipe = plan.request.bench, plan.request.recipe
    tray = plan.tray
    stage = hang(tray, request.rig, bench=bench, unknowns=unknowns)
    lake = _Lake(
        unknowns.stated("lake_temperature", bench.lake_temperature),
        stage.water_density,
        request,
    )
    held = _held(stage, request, country=bench.country, lake=lake)
    viscosity = median_of(water_viscosity(temperature=lake.temperature))
    kind = recipe.bait.kind.value
    soaked = soak(
        tray.dried.bait,
        Lake(bench.lake_temperature, LONGEST, stage.hung, kind),
        unknowns=unknowns,
    )
    wish = Wish(_carried(request.putty, stage), request.fastest)
    designed = design(
        tray,
        recipe.bait,
        wish,
        around=Around(
            stage.water_density,
            viscosity,
            burden(hung=stage.hung, hole=stage.hole, depth=stage.depth),
            soaked.drift,
            rest_beside_sizes(
                tray, recipe.bait, lift=stage.alone, water=stage.water_density, unknowns=unknowns
            ),
        ),
        bench=bench,
        unknowns=unknowns,
    )
    sizes = Sizes(
        bait=recipe.bait.diameter,
        core=recipe.bait.core.diameter if recipe.bait.core else 0.0,
        paste_density=median_of(plan.rolled.density),
        core_density=median_of(plan.rolled.core_density),
        water_density=median_of(stage.water_density),
    )
    return RigBalance(
        plan=plan,
        request=request,
        rig=stage,
        counterweight=held,
        settles=lake.settle(stage, stage.net),
        night=_night(stage, soaked),
        lasts=lasts(
            alone=stage.alone,
            rig=stage.net,
            drift=soaked.drift,
            target=given("target", target_of(kind, wish), label="wanted", backing=LIMITS),
        ),
        design=designed,
        protocols=measure(sizes),
        cautions=lead_cautions(request.stock, bench.country),
        notes=(*_on_shot(stage, request, held, country=bench.country), *_on_rig(stage, request)),
    )


@dataclass(frozen=True, slots=True)
class _Lake:
    """The water everything sinks in."""

    temperature: Quantity
    density: Quantity
    request: RigRequest

    def settle(self, stage: RigStage, net: Quantity) -> SettleStage:
        """Let the bait sink with what is left of its lift."""
        return settle(
            Sphere(stage.diameter, net),
            depth=at_depth(self.request.rig.depth),
            temperature=self.temperature,
            water_density=self.density,
            current=self.request.current,
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


def _carried(putty: float, stage: RigStage) -> float:
    """What putty of a mass pulls under water [kg]."""
    return weight("putty").submerged(putty, median_of(stage.water_density))


def _held(
    stage: RigStage, request: RigRequest, *, country: str | None, lake: _Lake
) -> Counterweight | None:
    """Shot that takes the middle bait of the tray just past balance; none where none is needed."""
    density = median_of(stage.water_density)
    aim = median_of(stage.net) + request.rig.margin
    if aim <= 0.0:
        return None
    allowed = [piece for piece in request.stock if not barred(piece, country)]
    found = best_combination(allowed, aim, water_density=density)
    if found is None:
        return None
    metal = found.pieces[0].metal
    pull = shot_pull(
        mass=given("shot", found.mass, label="shot", unit=GRAMS),
        metal=given(
            "metal",
            metal.density,
            label=f"density of {metal.name}",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(metal),
        ),
        water_density=stage.water_density,
    )
    left = rig_lift(lift=stage.net, hook=pull).labelled("lift left with the shot on")
    taken = taken_down_share(net=left)
    settles = replace(lake.settle(stage, left), notes=())
    return Counterweight(found, pull, left, taken, settles)


def _on_shot(
    stage: RigStage, request: RigRequest, held: Counterweight | None, *, country: str | None
) -> list[Note]:
    notes = []
    out = [piece.name for piece in request.stock if barred(piece, country)]
    if out:
        text = f"Left out for their lead: {', '.join(out)}. Take another metal of the same pull."
        notes.append(Note("balance", text, "uk-si-1986-1992", Weight.CAUTION))
    aim = median_of(stage.net) + request.rig.margin
    if held is None and aim > 0.0:
        text = (
            f"No {MOST_PIECES} shot of the box pull the {show(aim, 'g', 2)} that it takes; "
            "use putty, or larger shot."
        )
        notes.append(Note("balance", text, "archimedes", Weight.DOUBT))
    return notes


def _on_rig(stage: RigStage, request: RigRequest) -> list[Note]:
    notes = []
    band = band_of(stage.net)
    half = 0.5 * (band.high80 - band.low80)
    if half > _UNSURE:
        text = (
            f"From sizes alone the lift is known to ±{show(half, 'g', 2)}, much more than the "
            f"margin of {show(request.rig.margin, 'g', 2)}: weigh a dozen baits as told below, and "
            "trim the rig in a glass."
        )
        notes.append(Note("balance", text, "judgement", Weight.DOUBT))
    hole = request.rig.hole
    if hole is not None and not hole.sealed:
        text = (
            "An open hole lets water at core and paste: balance the rig again after an hour in "
            "water."
        )
        notes.append(Note("balance", text, "common-practice"))
    drift = median_of(stage.net) - median_of(stage.flooded)
    if drift > request.rig.margin:
        text = (
            f"Air in the paste holds up {show(drift, 'g', 2)}: as water finds it through the night "
            "the rig grows heavier by up to that. How fast is known only from a soaked bait."
        )
        notes.append(Note("balance", text, "judgement", Weight.DOUBT))
    return notes
