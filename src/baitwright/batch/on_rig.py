"""The bait hung on its rig: what balances it, how it sinks, and what to keep in mind."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.balance import rig_lift
from baitwright.batch.counterweight import (
    MOST_PIECES,
    Combination,
    barred,
    best_combination,
)
from baitwright.batch.rig import RigStage
from baitwright.batch.settle import SettleStage, Sphere, at_depth, settle
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.hooks import weight
from baitwright.physics import buoyancy
from baitwright.quantities import show
from baitwright.recipe.bench import Bench
from baitwright.recipe.rig import Rig
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, declared, given, tabled
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
class OnRig:
    """A bait on its rig: every pull, shot that balances it, and how it sinks without them."""

    stage: RigStage
    counterweight: Counterweight | None
    settles: SettleStage
    notes: tuple[Note, ...]


def put_on_rig(stage: RigStage, rig: Rig, *, bench: Bench, unknowns: Unknowns) -> OnRig:
    """Balance what hangs in the water, and let it sink.

    Parameters
    ----------
    stage: the bait with its rig, from `hang`.
    rig: the same rig, with water and box of shot.
    bench: lake and country.
    unknowns: factors, defaults and draws.

    Raises
    ------
    InputError: too many kinds of shot, or water outside the range of its laws.
    """
    lake = _Lake(unknowns.stated("lake_temperature", bench.lake_temperature), rig)
    held = _held(stage, rig, country=bench.country, lake=lake)
    settles = lake.settle(stage, stage.net)
    notes = (
        *_on_shot(stage, rig, held, country=bench.country),
        *_on_rig(stage, rig),
        *_on_wishes(stage, rig, settles),
        *settles.notes,
    )
    return OnRig(stage, held, settles, notes)


@dataclass(frozen=True, slots=True)
class _Lake:
    """The water everything sinks in."""

    temperature: Quantity
    rig: Rig

    def settle(self, stage: RigStage, net: Quantity) -> SettleStage:
        """Let the bait sink with what is left of its lift."""
        return settle(
            Sphere(stage.diameter, net),
            depth=at_depth(self.rig.depth),
            temperature=self.temperature,
            water_density=stage.water_density,
            current=self.rig.current,
        )


def _held(stage: RigStage, rig: Rig, *, country: str | None, lake: _Lake) -> Counterweight | None:
    """Shot that takes the middle bait of the tray just past balance; none where none is needed."""
    density = median_of(stage.water_density)
    aim = median_of(stage.net) + rig.margin
    if aim <= 0.0:
        return None
    allowed = [piece for piece in rig.stock if not barred(piece, country)]
    found = best_combination(allowed, aim, water_density=density)
    if found is None:
        return None
    metal = weight(found.pieces[0].metal)
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
    stage: RigStage, rig: Rig, held: Counterweight | None, *, country: str | None
) -> list[Note]:
    notes = []
    out = [piece.name for piece in rig.stock if barred(piece, country)]
    if out:
        text = f"Left out for their lead: {', '.join(out)}. Take another metal of the same pull."
        notes.append(Note("balance", text, "uk-si-1986-1992", Weight.CAUTION))
    aim = median_of(stage.net) + rig.margin
    if held is None and aim > 0.0:
        text = (
            f"No {MOST_PIECES} shot of the box pull the {show(aim, 'g', 2)} that it takes; "
            "use putty, or larger shot."
        )
        notes.append(Note("balance", text, "archimedes", Weight.DOUBT))
    return notes


def _on_rig(stage: RigStage, rig: Rig) -> list[Note]:
    notes = []
    band = band_of(stage.net)
    half = 0.5 * (band.high80 - band.low80)
    if half > _UNSURE:
        text = (
            f"From sizes alone the lift is known to ±{show(half, 'g', 2)}, much more than the "
            f"margin of {show(rig.margin, 'g', 2)}: weigh a dozen baits as `baitwright balance` "
            "tells, and trim the rig in a glass."
        )
        notes.append(Note("balance", text, "judgement", Weight.DOUBT))
    hole = rig.hole
    if hole is not None and not hole.sealed:
        text = (
            "An open hole lets water at core and paste: balance the rig again after an hour in "
            "water."
        )
        notes.append(Note("balance", text, "common-practice"))
    drift = median_of(stage.net) - median_of(stage.flooded)
    if drift > rig.margin:
        text = (
            f"Air in the paste holds up {show(drift, 'g', 2)}: as water finds it through the night "
            "the rig grows heavier by up to that. How fast is known only from a soaked bait."
        )
        notes.append(Note("balance", text, "judgement", Weight.DOUBT))
    return notes


def _on_wishes(stage: RigStage, rig: Rig, settles: SettleStage) -> list[Note]:
    """What is wished of the middle bait on its rig, and not met."""
    missed = []
    speed = median_of(settles.speed)
    told = f"the middle bait sinks at {show(speed, 'm/s')}"
    if rig.fastest is not None and speed > rig.fastest:
        missed.append(f"{told}, faster than the {show(rig.fastest, 'm/s')} wished")
    if rig.slowest is not None and 0.0 < speed < rig.slowest:
        missed.append(f"{told}, slower than the {show(rig.slowest, 'm/s')} wished")
    if rig.putty > 0.0 and median_of(stage.balance_point) < rig.putty:
        missed.append(f"the middle bait does not hold up the {show(rig.putty, 'g')} of putty")
    return [
        Note(
            "balance",
            f"{one[0].upper()}{one[1:]}: `baitwright balance` lists the baits that would do it.",
            "haider-levenspiel-1989" if "sinks" in one else "archimedes",
            Weight.DOUBT,
        )
        for one in missed
    ]
