"""The matching free bait: the same base unsieved, at its own level, in kilograms, eggs and ml."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.dose import DoseStage
from baitwright.batch.dose_notes import judged
from baitwright.batch.eggs import EggsStage
from baitwright.batch.mix import MixStage
from baitwright.batch.roll import RollStage
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.dosing import judge
from baitwright.recipe.model import FreeBait
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import GRAMS, KILOGRAMS, MILLILITRES, MILLIMETRES, PERCENT


@declared(
    "free_eggs",
    label="eggs for the free bait",
    equation="eggs = dry mix / dry mix per egg",
    source="definition",
)
def free_eggs(dry_mix: Any, per_egg: Any) -> Any:
    """Eggs of this bowl's size that the free bait's mix will take up."""
    return dry_mix / per_egg


@declared(
    "free_egg_volume",
    label="egg for the free bait",
    unit=MILLILITRES,
    equation="V = eggs x V per egg",
    source="definition",
)
def free_egg_volume(eggs: Any, per_egg: Any) -> Any:
    """Volume of egg for the free bait."""
    return eggs * per_egg


@declared(
    "free_dose",
    label="dose for the free bait",
    unit=MILLILITRES,
    equation="dose = dose here x level share x free bait's egg / egg here",
    source="definition",
)
def free_dose(dose: Any, level_share: Any, free_egg: Any, egg: Any) -> Any:
    """The free bait's dose at its own level."""
    return dose * level_share * free_egg / egg


@declared(
    "free_paste",
    label="paste for the free bait",
    unit=KILOGRAMS,
    equation="paste = dry mix + egg + liquids",
    source="definition",
)
def free_paste(dry_mix: Any, egg: Any, liquids: Any) -> Any:
    """All paste of the free bait."""
    return dry_mix + egg + liquids


@declared(
    "free_baits",
    label="free baits",
    equation="baits = (1 - loss x factor) paste / (paste density x pi D^3 / 6)",
    source="definition",
)
def free_baits(paste: Any, density: Any, diameter: Any, loss: Any, factor: Any) -> Any:
    """How many solid free baits the paste gives; hands lose as much of it as of the hookbait's."""
    return (1.0 - loss * factor) * paste / (density * np.pi / 6.0 * diameter**3)


@declared(
    "free_coarse",
    label="coarse part from the hookbait's sieve to stir back",
    unit=GRAMS,
    equation="the coarse part left on the sieve, no more than the free bait's mix",
    source="definition",
)
def free_coarse(coarse: Any, dry_mix: Any) -> Any:
    """What the hookbait's sieve left, used up in the free bait."""
    return np.minimum(coarse, dry_mix)


@dataclass(frozen=True, slots=True)
class FreeDose:
    """One liquid's dose in the free bait."""

    name: str
    volume: Quantity
    mass: Quantity
    by_weight: bool


@dataclass(frozen=True, slots=True)
class MatchStage:
    """The free bait's mix, eggs, doses, paste and count."""

    diameter: float
    level_share: float
    dry_mix: Quantity
    coarse: Quantity
    eggs: Quantity
    egg_volume: Quantity
    doses: tuple[FreeDose, ...]
    paste: Quantity
    baits: Quantity
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Hookbait:
    """The hookbait's stages that the free bait is matched to."""

    eggs: EggsStage
    doses: DoseStage
    mix: MixStage
    rolled: RollStage


def match_free_bait(wanted: FreeBait, hookbait: Hookbait, *, unknowns: Unknowns) -> MatchStage:
    """The free bait that goes with a hookbait.

    The hardener is left out and the base is not sieved; an unsieved base is taken to hold as much
    egg as the sieved one, since no other figure is known.
    """
    mix = given("free_dry_mix", wanted.dry_mix, label="free bait's dry mix", unit=KILOGRAMS)
    share = given(
        "level_share", wanted.level_share, label="level beside the hookbait's", unit=PERCENT
    )
    eggs = free_eggs(dry_mix=mix, per_egg=hookbait.mix.per_egg)
    volume = free_egg_volume(eggs=eggs, per_egg=hookbait.eggs.per_egg)
    scale = {"level_share": share, "free_egg": volume, "egg": hookbait.eggs.volume}
    doses = tuple(
        FreeDose(
            one.liquid.name,
            free_dose(dose=one.volume, **scale).labelled(one.liquid.name),
            free_mass(dose=one.mass, **scale).labelled(one.liquid.name),
            one.by_weight,
        )
        for one in hookbait.doses.doses
    )
    paste = free_paste(
        dry_mix=mix,
        egg=free_egg_mass(volume=volume, mass=hookbait.eggs.mass, all_volume=hookbait.eggs.volume),
        liquids=free_mass(dose=hookbait.doses.mass, **scale),
    )
    diameter = given(
        "free_diameter", wanted.diameter, label="free bait's diameter", unit=MILLIMETRES
    )
    return MatchStage(
        diameter=wanted.diameter,
        level_share=wanted.level_share,
        dry_mix=mix,
        coarse=free_coarse(coarse=hookbait.mix.preparation.coarse, dry_mix=mix),
        eggs=eggs,
        egg_volume=volume,
        doses=doses,
        paste=paste,
        baits=free_baits(
            paste=paste,
            density=hookbait.rolled.plain_density,
            diameter=diameter,
            loss=unknowns.base("rolling_loss"),
            factor=unknowns.factor("rolling_loss"),
        ),
        notes=tuple(_notes(wanted, hookbait)),
    )


@declared(
    "free_mass",
    label="dose for the free bait",
    unit=GRAMS,
    equation="dose = dose here x level share x free bait's egg / egg here",
    source="definition",
)
def free_mass(dose: Any, level_share: Any, free_egg: Any, egg: Any) -> Any:
    """The free bait's dose by weight."""
    return dose * level_share * free_egg / egg


@declared(
    "free_egg_mass",
    label="egg for the free bait",
    unit=GRAMS,
    equation="mass = V x egg here by weight / egg here by volume",
    source="definition",
)
def free_egg_mass(volume: Any, mass: Any, all_volume: Any) -> Any:
    """Weight of egg for the free bait."""
    return volume * mass / all_volume


def _notes(wanted: FreeBait, hookbait: Hookbait) -> Sequence[Note]:
    notes = []
    for one in hookbait.doses.doses:
        liquid = one.liquid
        if (liquid.powder and liquid.strength_assumed) or liquid.is_by_label:
            continue
        asked = judged(liquid, level_share=wanted.level_share)
        remark = judge(asked, use="free bait", bridge=hookbait.doses.bridge)
        if remark:
            notes.append(Note("match", remark, "common-practice"))
    return notes
