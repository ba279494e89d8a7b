"""What dissolves in the pot: the share of soluble attractor lost, and what each bait keeps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from baitwright.batch.state import BaitState
from baitwright.materials.liquids import carrier
from baitwright.physics.leaching import leached_share
from baitwright.terms.quantity import Quantity, declared, given, unwrap
from baitwright.terms.units import GRAMS, PERCENT


@declared(
    "pot_loss",
    label="soluble attractor lost to the pot",
    unit=PERCENT,
    equation="diffusion out of the shell, its core sealed and its surface bare, for D t",
    source="crank-1975",
    note="the exact series, and its short-time form where they agree; D is a guess within 2.5x",
)
def pot_loss(diffusivity: Any, diameter: Any, core_diameter: Any, seconds: Any) -> Any:
    """Share of what dissolves that leaves in the pot."""
    diffused = np.asarray(diffusivity * seconds)
    return leached_share(diffused, outer_radius=0.5 * diameter, core_radius=0.5 * core_diameter)


@declared(
    "liquid_left",
    label="liquid left after boiling",
    unit=GRAMS,
    equation="left = mass (1 - loss x solubility)",
    source="definition",
)
def liquid_left(mass: Any, loss: Any, solubility: Any) -> Any:
    """What one bait keeps of a liquid."""
    return mass * (1.0 - loss * solubility)


def leached(state: BaitState, loss: Quantity) -> BaitState:
    """The bait with less of what dissolves, its account of each liquid closed."""
    solutes, ledger = [], state.ledger
    for solute in state.solutes:
        soluble = carrier(solute.carrier).mixes_with_water
        share = given("solubility", float(soluble), label="dissolves in water")
        left = liquid_left(mass=solute.mass, loss=loss, solubility=share)
        solutes.append(replace(solute, mass=left.labelled(solute.mass.label)))
        before, after = unwrap(solute.mass.value), unwrap(left.value)
        gone = before * unwrap(loss.value) * float(soluble)
        ledger = ledger.with_entry("boil", solute.name, before=before, after=after, gone=gone)
    return replace(state, solutes=tuple(solutes), ledger=ledger)
