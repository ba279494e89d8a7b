"""Frozen egg, paste and baits: how long a pack takes to thaw, and so when it has to come out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from baitwright.batch.dry import DryStage
from baitwright.batch.drying import as_moist, bait_activity
from baitwright.batch.eggs import EggsStage
from baitwright.batch.free_water import dry_matter, freezing_starts, ice_in_bait
from baitwright.batch.keep import CONDUCTIVITY, HEAT_CAPACITY
from baitwright.batch.roll import RollStage
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.physics import food
from baitwright.physics.constants import MOLAR_MASS
from baitwright.physics.freezing import HEAT_OF_FUSION, Shape
from baitwright.physics.thawing import (
    ThawingBody,
    ThawingCourse,
    packed_conductivity,
    thawing_time,
)
from baitwright.recipe.bench import Bench, FromFreezer, Frozen, ThawsIn
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import CELSIUS, GRAMS_PER_MILLILITRE, HOURS, KILOJOULES_PER_100_GRAMS

_FUSION = HEAT_OF_FUSION / MOLAR_MASS
_ICE_POINT = 273.15
_EGG_MELTS = _ICE_POINT - 0.5
"""Egg begins to freeze half a kelvin below water, K (fricke-becker-2001)."""
_BOUND_BY_PROTEIN = 0.4
"""Water that a gram of protein keeps from freezing, g (fricke-becker-2001)."""
_PLANNED = 0.9
_HALF_HOUR = 1800.0
_BY_PARTS = Backing(Origin.TABLE, "choi-okos-1986", Evidence.COMPUTED)


@declared(
    "ice_heat",
    label="heat that the ice of a pack takes up",
    unit=KILOJOULES_PER_100_GRAMS,
    equation="heat = ice / weight x heat of fusion",
    source="iapws-r10-06",
)
def ice_heat(ice: Any, mass: Any) -> Any:
    """Heat of melting of paste or baits, by weight of the whole."""
    share = np.mean(ice, axis=-1, keepdims=True) / np.mean(mass, axis=-1, keepdims=True)
    return _FUSION * share


@declared(
    "egg_ice_heat",
    label="heat that the ice in frozen egg takes up",
    unit=KILOJOULES_PER_100_GRAMS,
    equation="heat = (water - 0.4 protein) (1 - Tm / T) x heat of fusion, in Celsius",
    source="fricke-becker-2001",
)
def egg_ice_heat(water: Any, protein: Any, start: Any) -> Any:
    """Heat of melting of egg, by weight."""
    frozen = 1.0 - (_ICE_POINT - _EGG_MELTS) / np.maximum(_ICE_POINT - start, 0.6)
    return _FUSION * (water - _BOUND_BY_PROTEIN * protein) * frozen


@declared(
    "ice_melts",
    label="its ice has melted at",
    unit=CELSIUS,
    equation="the tray's mean freezing point, no colder than the freezer",
    source="murphy-koop-2005",
)
def ice_melts(starts: Any, freezer: Any) -> Any:
    """Melting point of a pack; the freezer's where it holds no ice."""
    return np.maximum(np.mean(starts, axis=-1, keepdims=True), freezer)


@declared(
    "pack_density",
    label="a bag of baits by its room",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = share that round baits fill x mass / (pi D^3 / 6)",
    source="scott-1960",
)
def pack_density(mass: Any, diameter: Any, packing: Any) -> Any:
    """Weight of baits in a litre of bag."""
    volume = np.mean(np.pi / 6.0 * diameter**3, axis=-1, keepdims=True)
    return packing * np.mean(mass, axis=-1, keepdims=True) / volume


@declared(
    "pack_of_paste_density",
    label="a bag of free baits by its room",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = share that round baits fill x paste density",
    source="scott-1960",
)
def pack_of_paste_density(density: Any, packing: Any) -> Any:
    """Weight of solid baits in a litre of bag."""
    return packing * density


@declared(
    "pack_conductivity",
    label="a bag of baits conducts",
    unit=CONDUCTIVITY,
    equation="k = k bait^p x k air^(1 - p)",
    source="woodside-messmer-1961",
)
def pack_conductivity(bait: Any, packing: Any) -> Any:
    """Conductivity of baits with air between them."""
    return packed_conductivity(bait, packing)


@declared(
    "thaw_time",
    label="thawed in",
    unit=HOURS,
    equation="t = rho d/2 (1/h + d/(4 k)) (c (Tm - T0)/(Ta - (T0 + Tm)/2) + dH/(Ta - Tm))",
    source="plank-1913",
    note="a flat pack with both faces free, until its last ice has melted; a stack takes longer",
)
def thaw_time(thickness: Any, pack: Any, start: Any, around: Any, film: Any) -> Any:
    """Time in air or water."""
    course = ThawingCourse(start, pack.melts, around, film)
    return thawing_time(thickness, Shape.SLAB, body=pack.body, course=course)


@dataclass(frozen=True, slots=True)
class Pack:
    """What thaws, and where its ice melts [K]."""

    body: ThawingBody
    melts: Any


@declared(
    "frozen_pack",
    label="the pack as a slab that thaws",
    equation="density, heat of its ice, heat capacity, conductivity, melting point",
    source="definition",
)
def frozen_pack(density: Any, ice: Any, capacity: Any, conducts: Any, melts: Any) -> Pack:
    """What the thawing of a pack needs."""
    return Pack(ThawingBody(density, ice, capacity, conducts), melts)


@declared(
    "thaw_planned",
    label="out of the freezer beforehand",
    unit=HOURS,
    equation="the time by which 9 packs in 10 have thawed, in half hours",
    source="judgement",
)
def thaw_planned(time: Any) -> float:
    """How long before it is wanted a pack comes out."""
    return float(_HALF_HOUR * np.ceil(np.quantile(time, _PLANNED) / _HALF_HOUR - 1e-9))


@dataclass(frozen=True, slots=True)
class Thaw:
    """A pack that thaws: how thick, when its ice melts, how long it takes, how long to plan for."""

    frozen: FromFreezer
    thickness: Quantity
    melts: Quantity
    time: Quantity
    planned: Quantity

    @property
    def is_first(self) -> bool:
        """Whether there is nothing to work with before it has thawed."""
        return self.frozen.what in FIRST


FIRST = (Frozen.EGG, Frozen.PASTE)
"""What has to thaw before a batch is begun; baits thaw beside it."""


class Thawable(Protocol):
    """The stages that a pack may have come from."""

    @property
    def eggs(self) -> EggsStage:
        """The egg in the bowl."""
        ...

    @property
    def rolled(self) -> RollStage:
        """The paste."""
        ...

    @property
    def dry(self) -> DryStage:
        """The dried baits."""
        ...


def thaw(told: FromFreezer, made: Thawable, *, bench: Bench, unknowns: Unknowns) -> Thaw:
    """How long a pack takes to thaw.

    Parameters
    ----------
    told: what it is, how thick, and where it thaws.
    made: the egg, paste and baits of the plan, which the pack is taken to be like.
    bench: fridge, freezer, room and cold water.
    unknowns: defaults and draws.

    Raises
    ------
    RangeError: a thickness that is none, or surroundings colder than the ice.
    """
    store = bench.store
    start = unknowns.stated("freezer_temperature", store.freezer)
    around = {
        ThawsIn.FRIDGE: ("fridge_temperature", store.fridge),
        ThawsIn.ROOM: ("room_temperature", bench.room.temperature),
        ThawsIn.COLD_WATER: ("cold_water", None),
    }[told.place]
    wet = told.place is ThawsIn.COLD_WATER
    thickness = unknowns.stated("pack_thickness", told.thickness)
    pack = _pack(told.what, made, start=start, unknowns=unknowns)
    time = thaw_time(
        thickness=thickness,
        pack=pack,
        start=start,
        around=unknowns.stated(*around),
        film=unknowns.drawn_default("thaw_water_film" if wet else "thaw_film"),
    )
    melts = dict(pack.inputs)["melts"]
    return Thaw(told, thickness, melts, time, thaw_planned(time=time))


def bag_of_baits(
    state: BaitState, dry: DryStage, *, start: Quantity, unknowns: Unknowns
) -> Quantity:
    """A bag of baits, each as its state has it, as a pack that freezes or thaws.

    Parameters
    ----------
    state: one bait of the tray.
    dry: how its dry matter holds water.
    start: temperature in the freezer.
    unknowns: defaults.
    """
    packing = unknowns.default("bulk_packing")
    ice, melts = _ice(state, dry, start)
    holds = _by_parts(state.make_up, "paste, as rolled")
    conducts = pack_conductivity(bait=holds["conducts"], packing=packing)
    size = {"mass": state.mass, "diameter": state.diameter}
    return frozen_pack(
        density=pack_density(**size, packing=packing),
        ice=ice_heat(ice=ice, mass=state.mass),
        melts=melts,
        capacity=holds["capacity"],
        conducts=conducts,
    )


def _ice(state: BaitState, dry: DryStage, start: Quantity) -> tuple[Quantity, Quantity]:
    """The ice of a bait in the freezer, and where it melts."""
    water = {"water": state.water, "holds": dry.holds, "scale": dry.holds_scale}
    solids = dry_matter(solids=state.solids, liquids=state.solute_mass)
    starts = freezing_starts(activity=bait_activity(start=as_moist(state), **water))
    ice = ice_in_bait(**water, dry_matter=solids, temperature=start)
    return ice, ice_melts(starts=starts, freezer=start)


def _pack(what: Frozen, made: Thawable, *, start: Quantity, unknowns: Unknowns) -> Quantity:
    state = made.rolled.bait
    match what:
        case Frozen.EGG:
            return _egg(made.eggs, start)
        case Frozen.HOOKBAITS:
            return bag_of_baits(made.dry.bait, made.dry, start=start, unknowns=unknowns)
    ice, melts = _ice(state, made.dry, start)
    solids = dry_matter(solids=state.solids, liquids=state.solute_mass)
    heat = ice_heat(ice=ice, mass=paste_of_bait(dry=solids, water=state.water))
    holds, density = _by_parts(state.make_up, "paste, as rolled"), made.rolled.density
    if what is Frozen.FREE_BAITS:
        packing = unknowns.default("bulk_packing")
        density = pack_of_paste_density(density=made.rolled.plain_density, packing=packing)
        holds["conducts"] = pack_conductivity(bait=holds["conducts"], packing=packing)
    return frozen_pack(density=density, ice=heat, melts=melts, **holds)


@declared(
    "paste_of_bait",
    label="paste of a bait",
    equation="solids + liquids + water",
    source="definition",
)
def paste_of_bait(dry: Any, water: Any) -> Any:
    """Weight of a bait's paste without its core."""
    return dry + water


def _by_parts(make_up: food.Composition, name: str) -> dict[str, Quantity]:
    conducts, holds = (f"{what} of {name}" for what in ("conductivity", "heat capacity"))
    return {
        "conducts": given(
            "thawed_conductivity",
            float(np.mean(food.conductivity(make_up, _ICE_POINT))),
            label=conducts,
            unit=CONDUCTIVITY,
            backing=_BY_PARTS,
        ),
        "capacity": given(
            "thawed_heat_capacity",
            float(np.mean(food.heat_capacity(make_up, _ICE_POINT))),
            label=holds,
            unit=HEAT_CAPACITY,
            backing=_BY_PARTS,
        ),
    }


def _egg(eggs: EggsStage, start: Quantity) -> Quantity:
    make_up = eggs.make_up
    parts = {
        name: given(
            f"egg_{name}",
            float(np.mean(getattr(make_up, name))),
            label=f"{name} of the egg",
            backing=Backing(Origin.TABLE, "usda-sr28", Evidence.READ),
        )
        for name in ("water", "protein")
    }
    density = given(
        "egg_density_thawed",
        float(np.mean(food.density(make_up, _ICE_POINT))),
        label="density of the egg",
        unit=GRAMS_PER_MILLILITRE,
        backing=_BY_PARTS,
    )
    melts = given(
        "egg_melts",
        _EGG_MELTS,
        label="its ice has melted at",
        unit=CELSIUS,
        backing=Backing(Origin.TABLE, "fricke-becker-2001", Evidence.MEMORY),
    )
    heat = egg_ice_heat(**parts, start=start)
    return frozen_pack(density=density, ice=heat, melts=melts, **_by_parts(make_up, "the egg"))
