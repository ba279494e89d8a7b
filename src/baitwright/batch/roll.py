"""Paste into baits: what to pinch, how many there will be, and the bait each becomes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.cores import NO_CORE, SizedCore, size_core, worked_in
from baitwright.batch.dose import DoseStage
from baitwright.batch.eggs import EggsStage
from baitwright.batch.fillers import Lightening, filled, filled_mass, lighten, room_of
from baitwright.batch.mix import MixStage
from baitwright.batch.paste import left_over, mix_volume, paste_density, paste_mass, paste_volume
from baitwright.batch.state import BaitState, Solute, solute_mass
from baitwright.batch.unknowns import Unknowns
from baitwright.physics.food import Composition
from baitwright.recipe.model import Core, WantedBait
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import GRAMS, MILLILITRES, MILLIMETRES, PERCENT
from baitwright.uncertainty.bands import median_of


@declared(
    "shell_volume",
    label="paste on one bait",
    unit=MILLILITRES,
    equation="V = pi (D^3 - d^3) / 6",
    source="definition",
)
def shell_volume(diameter: Any, core_diameter: Any) -> Any:
    """Volume between core and surface."""
    return np.pi / 6.0 * (diameter**3 - core_diameter**3)


@declared(
    "pinch",
    label="paste to pinch for one bait",
    unit=GRAMS,
    equation="pinch = V x paste density / (1 + dusting)",
    source="definition",
    note="weigh the first two; dusting mix taken up in rolling makes up the rest",
)
def pinch(shell_volume: Any, density: Any, dusting: Any) -> Any:
    """Paste for one bait before dusting."""
    return shell_volume * density / (1.0 + dusting)


@declared(
    "dusting_mix",
    label="dusting mix taken up in two rollings",
    unit=GRAMS,
    equation="dusting = paste x share taken up",
    source="judgement",
)
def dusting_mix(paste: Any, dusting: Any) -> Any:
    """Dry mix that the baits pick up while they are rolled."""
    return paste * dusting


@declared(
    "baits",
    label="baits",
    equation="baits = (1 - loss x factor) paste / (tray's mean pinch)",
    source="definition",
)
def baits(paste: Any, pinch: Any, loss: Any, factor: Any) -> Any:
    """How many baits the paste gives; a tray's mean counts, not one bait's scatter."""
    return (1.0 - loss * factor) * paste / np.mean(pinch, axis=-1, keepdims=True)


@declared(
    "rolled_diameter",
    label="diameter as rolled",
    unit=MILLIMETRES,
    equation="D = wanted x factor + scatter",
    source="judgement",
)
def rolled_diameter(wanted: Any, factor: Any, scatter: Any) -> Any:
    """What the hands make of the diameter wanted."""
    return wanted * factor + scatter


@declared(
    "bait_share",
    label="one bait's share of the paste",
    equation="share = V density / ((1 + dusting) paste)",
    source="definition",
)
def bait_share(shell_volume: Any, density: Any, dusting: Any, paste: Any) -> Any:
    """Which part of all paste one bait holds."""
    return shell_volume * density / ((1.0 + dusting) * paste)


@declared(
    "bait_water",
    label="water in a bait as rolled",
    unit=GRAMS,
    equation="water = share (egg water + mix water) + dusting water",
    source="definition",
)
def bait_water(share: Any, egg_water: Any, dry_mix: Any, mix_water: Any, dust: Any) -> Any:
    """Water one bait holds."""
    return share * (egg_water + dry_mix * mix_water) + dust * mix_water


@declared(
    "bait_dust",
    label="dusting mix on a bait",
    unit=GRAMS,
    equation="dust = V density dusting / (1 + dusting)",
    source="definition",
)
def bait_dust(shell_volume: Any, density: Any, dusting: Any) -> Any:
    """Dry mix that one bait picks up."""
    return shell_volume * density * dusting / (1.0 + dusting)


@declared(
    "bait_solids",
    label="dry matter in a bait",
    unit=GRAMS,
    equation="solids = V density - water - liquids - fillers",
    source="definition",
)
def bait_solids(
    shell_volume: Any, density: Any, water: Any, liquids: Any, **inclusions: Any
) -> Any:
    """All of the shell that is neither water, liquid nor filler."""
    return shell_volume * density - water - liquids - sum(inclusions.values(), 0.0)


@declared(
    "bait_liquid",
    label="liquid in a bait",
    unit=GRAMS,
    equation="mass = share x dose",
    source="definition",
)
def bait_liquid(share: Any, dose: Any) -> Any:
    """What one bait holds of a liquid."""
    return share * dose


@declared(
    "bait_air",
    label="air in a bait",
    unit=MILLILITRES,
    equation="air = (V - fillers) x air fraction",
    source="definition",
)
def bait_air(shell_volume: Any, air_fraction: Any, **fillers: Any) -> Any:
    """Air worked into the paste of one bait."""
    return (shell_volume - sum(fillers.values(), 0.0)) * air_fraction


@dataclass(frozen=True, slots=True)
class RollStage:
    """The paste with its fillers, the pinch, the count, and one bait as rolled.

    ``plain_density`` is the paste's without fillers; of a few small cores ``core_diameter`` and
    ``core_density`` are the mean.
    """

    paste: Quantity
    density: Quantity
    plain_density: Quantity
    fillers: tuple[Quantity, ...]
    volume: Quantity
    pinch: Quantity
    dusting: Quantity
    baits: Quantity
    lost: Quantity
    diameter: Quantity
    core_diameter: Quantity
    core_density: Quantity
    bait: BaitState


@dataclass(frozen=True, slots=True)
class Bowl:
    """What came together before rolling."""

    eggs: EggsStage
    doses: DoseStage
    mix: MixStage


def roll(wanted: WantedBait, bowl: Bowl, *, unknowns: Unknowns) -> RollStage:
    """Work the bowl into paste, its fillers into that, and the paste into baits."""
    filling = _fill(wanted, bowl, unknowns)
    paste, density = filling.paste, filling.density
    diameter = rolled_diameter(
        wanted=given("wanted_diameter", wanted.diameter, label="wanted", unit=MILLIMETRES),
        factor=unknowns.factor("diameter"),
        scatter=unknowns.scatter("diameter_spread"),
    )
    core = size_core(wanted.core, unknowns)
    shell = shell_volume(diameter=diameter, core_diameter=core.room)
    share = {"dusting": unknowns.default("dusting_mix")}
    loss = {"loss": unknowns.base("rolling_loss"), "factor": unknowns.factor("rolling_loss")}
    one = pinch(shell_volume=shell, density=density, **share)
    return RollStage(
        paste=paste,
        density=density,
        plain_density=filling.plain,
        fillers=filling.to_weigh,
        volume=paste_volume(mass=paste, density=density),
        pinch=one,
        dusting=dusting_mix(paste=paste, **share),
        baits=baits(paste=paste, pinch=one, **loss),
        lost=left_over(paste=paste, **loss),
        diameter=diameter,
        core_diameter=core.diameter,
        core_density=core.density,
        bait=_bait(bowl, _Rolled(filling, shell, diameter, core, wanted.core), unknowns),
    )


@dataclass(frozen=True, slots=True)
class _Filled:
    """The paste with its fillers: weight, density, density without them, and each to weigh in."""

    paste: Quantity
    density: Quantity
    plain: Quantity
    fillers: tuple[Lightening, ...]
    to_weigh: tuple[Quantity, ...]


def _fill(wanted: WantedBait, bowl: Bowl, unknowns: Unknowns) -> _Filled:
    eggs, doses, mix = bowl.eggs, bowl.doses, bowl.mix
    mass = paste_mass(egg=eggs.mass, dry_mix=mix.dry_mix, liquids=doses.mass)
    powder = mix_volume(mass=mix.dry_mix, density=mix.density)
    volumes = {"egg_volume": eggs.volume, "mix_volume": powder, "liquid_volume": doses.volume}
    plain = paste_density(
        mass=mass,
        air_fraction=unknowns.default("air_fraction"),
        factor=unknowns.factor("paste_density", mix.name),
        **volumes,
    )
    fillers = lighten(wanted.fillers, unknowns)
    if not fillers:
        return _Filled(mass, plain, plain, (), ())
    density = filled(plain, fillers)
    paste = filled_mass(mass=mass, density=plain, filled=density, room=room_of(fillers))
    to_weigh = tuple(one.to_weigh(paste, density) for one in fillers)
    return _Filled(paste, density, plain, fillers, to_weigh)


@dataclass(frozen=True, slots=True)
class _Rolled:
    """What rolling settles of one bait."""

    filling: _Filled
    shell: Quantity
    diameter: Quantity
    sized: SizedCore
    core: Core | None


def _bait(bowl: Bowl, rolled: _Rolled, unknowns: Unknowns) -> BaitState:
    """One bait of the tray with all it holds."""
    filling, sized = rolled.filling, rolled.sized
    shell = {"shell_volume": rolled.shell, "density": filling.density}
    dusting = unknowns.default("dusting_mix")
    share = bait_share(**shell, dusting=dusting, paste=filling.paste)
    dust = bait_dust(**shell, dusting=dusting)
    mix_water = _mix_water(bowl.mix)
    solutes = tuple(
        Solute(
            dose.liquid.name,
            dose.liquid.carrier,
            bait_liquid(share=share, dose=dose.mass).labelled(f"{dose.liquid.name} in a bait"),
        )
        for dose in bowl.doses.doses
    )
    water = bait_water(
        share=share,
        egg_water=bowl.eggs.water,
        dry_mix=bowl.mix.dry_mix,
        mix_water=mix_water,
        dust=dust,
    )
    liquids = solute_mass(**{f"liquid_{i}": s.mass for i, s in enumerate(solutes)})
    fillers = tuple(
        one.in_bait(share, all_of_it)
        for one, all_of_it in zip(filling.fillers, filling.to_weigh, strict=True)
    )
    corks = worked_in(rolled.core, sized)
    middle = sized if corks is None else NO_CORE
    return BaitState(
        diameter=rolled.diameter,
        core_diameter=middle.diameter,
        core_mass=middle.mass,
        solids=bait_solids(
            **shell,
            water=water,
            liquids=liquids,
            **{f"filler_{at}": one.mass for at, one in enumerate(fillers)},
        ),
        water=water,
        solutes=solutes,
        air=bait_air(
            shell_volume=rolled.shell,
            air_fraction=unknowns.default("air_fraction"),
            **{f"filler_{at}": one.volume for at, one in enumerate(fillers)},
        ),
        make_up=_paste_make_up(bowl),
        temperature=unknowns.stated("paste_temperature", None),
        fillers=fillers,
        corks=corks,
    )


def _mix_water(mix: MixStage) -> Quantity:
    return given(
        "mix_water_share",
        float(mix.prepared.make_up.water),
        label="water in the dry mix",
        unit=PERCENT,
        backing=Backing(Origin.TABLE, "usda-sr28", Evidence.COMPUTED),
    )


def _paste_make_up(bowl: Bowl) -> Composition:
    """The paste's composition at the middle of the weights; it sets how heat moves."""
    parts = [
        (median_of(bowl.eggs.mass), bowl.eggs.make_up),
        (median_of(bowl.mix.dry_mix), bowl.mix.prepared.make_up),
    ]
    parts += [(median_of(dose.mass), dose.as_food) for dose in bowl.doses.doses]
    return Composition.mixed(parts)
