"""Prove it: the cheapest measurements of this batch, each with the band it is predicted in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.balance import BalanceStage, Tray
from baitwright.batch.drying import at_time
from baitwright.batch.eggs import EggsStage
from baitwright.batch.mix import MixStage, tub_used
from baitwright.physics.radial import MoistureRun
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given
from baitwright.terms.units import GRAMS, HOURS

ASKED = ("tub_used", "twenty_fresh", "twenty_at_8h", "cup_weight", "cup_rise")
"""The three cheapest measurements, five readings of them: the tub before and after, twenty baits
fresh and at 8 h, one bait weighed and pushed under. Each pair says far more than one of it: alone,
a weight at 8 h tells more of the bait's size than of its drying."""
HOW = {
    "egg_in_bowl": "Weigh the egg out of the shell, before anything goes in.",
    "tub_used": (
        "Weigh the tub before the eggs and after the last rolling; write down the difference."
    ),
    "twenty_fresh": "Weigh twenty baits together, boiled and cold.",
    "twenty_at_8h": "Weigh the same twenty together after 8 h on the tray.",
    "cup_weight": "Weigh one dried bait.",
    "cup_rise": "Push the same bait under in a tared cup of water on the scale; read the rise.",
    "baits_made": "Count the baits.",
}
"""How each reading is taken, in one sentence."""
SAMPLE = 20
"""Baits weighed together."""
EARLY = 8.0 * 3600.0
"""When they are weighed, s on the tray."""


@declared(
    "twenty_baits",
    label="twenty baits together",
    unit=GRAMS,
    equation="20 x the tray's mean weight of a bait",
    source="definition",
    note="bait-to-bait scatter is averaged over the tray",
)
def twenty_baits(mass: Any, count: Any) -> Any:
    """Weight of so many baits on one scale."""
    return count * np.mean(np.atleast_2d(mass), axis=-1, keepdims=True)


@declared(
    "mass_at",
    label="weight of a bait on the tray",
    unit=GRAMS,
    equation="weight as boiled - water lost by then",
    source="crank-1975",
)
def mass_at(mass: Any, run: MoistureRun, time: Any) -> Any:
    """Weight of one bait after so long on the tray."""
    return mass - at_time(run, run.evaporated, time, like=mass)


@declared(
    "cup_rise",
    label="rise of the scale under a tared cup",
    unit=GRAMS,
    equation="rise = water density x the bait's volume",
    source="archimedes",
    note="push one bait under on a thin wire; rise less weight is its lift",
)
def cup_rise(diameter: Any, water_density: Any) -> Any:
    """What a scale gains when a bait is held under in a cup on it."""
    return water_density * np.pi / 6.0 * diameter**3


@dataclass(frozen=True, slots=True)
class Measurement:
    """One reading asked for: how it is taken, what it is predicted to be, and what it teaches."""

    name: str
    how: str
    predicted: Quantity
    minutes: int
    factor: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class Made:
    """The stages whose outcome can be weighed."""

    eggs: EggsStage
    mix: MixStage
    tray: Tray
    water: BalanceStage


def measurements(made: Made, *, run: Quantity) -> tuple[Measurement, ...]:
    """Every reading the program knows how to use, the cheapest first."""
    used = tub_used(dry_mix=made.mix.dry_mix, dusting=made.tray.rolled.dusting)
    early = given("weighed_at", EARLY, label="on the tray", unit=HOURS, backing=IDENTITY)
    at_8h = mass_at(mass=made.tray.boiled.mass, run=run, time=early)
    count = given("sample", float(SAMPLE), label="baits weighed together", backing=IDENTITY)
    base = made.mix.name
    return (
        Measurement(
            "egg_in_bowl",
            HOW["egg_in_bowl"],
            made.eggs.mass,
            1,
            "egg_volume",
            _grade(made.eggs),
        ),
        Measurement(
            "tub_used",
            HOW["tub_used"],
            used,
            1,
            "dry_mix_per_egg",
            base,
        ),
        Measurement(
            "twenty_fresh",
            HOW["twenty_fresh"],
            twenty_baits(mass=made.tray.boiled.mass, count=count).labelled("twenty fresh baits"),
            1,
            "diameter",
        ),
        Measurement(
            "twenty_at_8h",
            HOW["twenty_at_8h"],
            twenty_baits(mass=at_8h, count=count).labelled("twenty baits after 8 h"),
            1,
            "drying",
        ),
        Measurement(
            "cup_weight",
            HOW["cup_weight"],
            made.tray.dried.mass.labelled("one dried bait"),
            1,
            "paste_density",
            base,
        ),
        Measurement(
            "cup_rise",
            HOW["cup_rise"],
            cup_rise(diameter=made.tray.dried.diameter, water_density=made.water.water_density),
            3,
            "air_left",
        ),
        Measurement(
            "baits_made",
            HOW["baits_made"],
            made.tray.rolled.baits,
            2,
            "rolling_loss",
        ),
    )


def _grade(eggs: EggsStage) -> str:
    return next((lot.eggs.grade for lot in eggs.lots if lot.eggs.grade), "")
