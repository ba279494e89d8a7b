"""From what a bait is to do back to its core, its paste and the cork granules in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from typing import Any

import numpy as np

from baitwright.batch.balance import (
    USUAL_CORE,
    Tray,
    lift_in_all,
    lift_on_core,
    plain_pull,
    rig_lift,
)
from baitwright.batch.cores import size_core
from baitwright.batch.fillers import filled, lighten
from baitwright.batch.target import LIMITS, Target, Wish, lasts, target_of
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import core as core_row
from baitwright.materials.defaults import default
from baitwright.physics import buoyancy
from baitwright.physics.settling import haider_levenspiel
from baitwright.quantities import show
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import MOST_FILLED, Core, Filler, WantedBait
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given
from baitwright.terms.units import GRAMS, MILLIMETRES, PERCENT
from baitwright.uncertainty.bands import median_of

GRANULE_SHARES = (0.0, 0.05, 0.10, 0.15, 0.20)
"""Room taken by cork granules in the paste; more of them and it no longer holds (judgement)."""
GRANULES = "cork-granules"
_SAME_TIME = 60.0
"""Times on the tray nearer than that are the same, s."""
STEPS = (-2e-3, -1.5e-3, -1e-3, -0.5e-3, 0.0, 0.5e-3, 1e-3, 1.5e-3, 2e-3)
"""Bait sizes weighed up either side of the one wanted, m: more or less paste on one core."""


@declared(
    "resized_diameter",
    label="diameter as rolled, in another size",
    unit=MILLIMETRES,
    equation="D + step",
    source="definition",
)
def resized_diameter(diameter: Any, step: Any) -> Any:
    """The bait rolled with more or less paste."""
    return diameter + step


@declared(
    "target_share",
    label="baits that do what is wanted",
    unit=PERCENT,
    equation="share of draws whose lift alone and on the rig both lie within the limits",
    source="common-practice",
)
def target_share(alone: Any, rig: Any, target: Target) -> float:
    """The share of baits within the limits."""
    within = target.alone.holds(alone) & target.rig.holds(rig)
    return float(np.mean(within))


@declared(
    "target_margin",
    label="room to the nearest limit",
    unit=GRAMS,
    equation="least distance of the middle lift, alone and on the rig, from a limit",
    source="common-practice",
    note="less than nothing: by how much the middle bait misses",
)
def target_margin(alone: Any, rig: Any, target: Target) -> float:
    """How far inside the limits the middle bait lies."""
    return min(target.alone.room(float(np.median(alone))), target.rig.room(float(np.median(rig))))


@dataclass(frozen=True, slots=True)
class DesignOption:
    """One way to make the bait: size [m], cores, granules by room, time on the tray [s], and how it
    lifts, with what margin, for how many of the tray and for how long.
    """

    diameter: float
    core: Core | None
    granules: float
    tray: float
    alone: Quantity
    rig: Quantity
    share: Quantity
    margin: Quantity
    lasts: Quantity

    @property
    def paste(self) -> float:
        """Thickness of the paste [m]; to the middle of a bait without a core."""
        return 0.5 * (self.diameter - _across(self.core))

    @property
    def feasible(self) -> bool:
        """Whether the middle bait does what is wanted."""
        return float(self.margin.value) >= 0.0


@dataclass(frozen=True, slots=True)
class DesignStage:
    """Every way that works, the surest first; the nearest miss and what stands in the way."""

    weighed_up: int
    options: tuple[DesignOption, ...]
    nearest: DesignOption | None
    notes: tuple[Note, ...]


def speed_pull(diameter: float, speed: float, *, water_density: float, viscosity: float) -> float:
    """Net weight under water at which a ball sinks at a speed.

    Parameters
    ----------
    diameter: of the ball [m]
    speed: downward, above nothing [m/s]
    water_density: of the lake [kg/m3]
    viscosity: of the lake's water [Pa s]

    Returns
    -------
    The weight, in the mass that would pull as much [kg].

    Reference: haider-levenspiel-1989; the drag itself, so that nothing need be solved.
    """
    reynolds = water_density * speed * diameter / viscosity
    drag = float(haider_levenspiel(reynolds))
    force = drag * 0.5 * water_density * speed**2 * np.pi / 4.0 * diameter**2
    return float(force / buoyancy.lift_force(1.0))


@dataclass(frozen=True, slots=True)
class Around:
    """The water a bait is designed for, and the lift that rig, hole, depth and hours take.

    ``rest`` is what coat, glug and pot do to the lift of the bait planned.
    """

    water_density: Quantity
    viscosity: float
    burden: Quantity
    drift: Quantity
    rest: Quantity


def design(
    tray: Tray,
    wanted: WantedBait,
    wish: Wish,
    *,
    around: Around,
    bench: Bench,
    unknowns: Unknowns,
) -> DesignStage:
    """Weigh up each core of the shelf with more and less paste and granules, and other drying.

    The cores are those on the bench; where none are named, the sizes that are sold. Drying is
    weighed up for the bait as planned, at the hours told of its tray.
    """
    shares, time = _shares(wanted), median_of(tray.dried.time)
    search = _Search(tray, wanted, wish, around, unknowns)
    own = _MakeUp(wanted.core, wanted.diameter, _own_share(wanted), time)
    sizes = (wanted.diameter + step for step in STEPS)
    made = [_MakeUp(*one, time) for one in product(_cores(wanted, bench), sizes, shares)]
    roomy = [one for one in made if one.is_covered]
    pastes = {share: search.paste(share, tray.dried.loss) for share in shares}
    options = [search.option(one, pastes[one.share]) for one in roomy]
    options += [
        search.option(replace(own, tray=point.time), search.paste(own.share, point.loss))
        for point in tray.dried.curve
        if own.is_covered and abs(point.time - time) > _SAME_TIME
    ]
    fits = [one for one in options if one.feasible]
    fits.sort(key=lambda one: _rank(one, own))
    nearest = max(options, key=lambda one: float(one.margin.value), default=None)
    notes = () if fits else search.in_the_way(nearest, left_out=len(made) - len(roomy))
    return DesignStage(len(options), tuple(fits), None if fits else nearest, notes)


@dataclass(frozen=True, slots=True)
class _MakeUp:
    """Cores, size [m], share of granules and time on the tray [s] of one way."""

    core: Core | None
    diameter: float
    share: float
    tray: float

    @property
    def is_covered(self) -> bool:
        """Whether enough paste covers the core."""
        least = default("shell_minimum").value - 1e-9
        return self.diameter - _across(self.core) >= 2.0 * least


def _rank(option: DesignOption, own: _MakeUp) -> tuple[float, ...]:
    """The surest first, by whole percent; of alike ones the plainest and nearest to the wish."""
    share = round(float(option.share.value), 2)
    away = round(abs(option.diameter - own.diameter), 6)
    longer = abs(option.tray - own.tray)
    return (-share, option.granules, longer, away, -float(option.margin.value))


def _cores(wanted: WantedBait, bench: Bench) -> tuple[Core | None, ...]:
    """None, and as many as the bait has of its own of each size."""
    own = _alike(wanted)
    row = core_row(own.material)
    sold = () if row is None else row.diameters
    sizes = {*(bench.cores or sold), *([] if wanted.core is None else [own.diameter])}
    return (None, *(replace(own, diameter=size) for size in sorted(sizes)))


def _alike(wanted: WantedBait) -> Core:
    """The bait's own core, or the usual one of no size."""
    return Core(USUAL_CORE, 0.0) if wanted.core is None else wanted.core


def _across(core: Core | None) -> float:
    """What the cores of a bait measure together [m]."""
    return 0.0 if core is None else core.across


def _shares(wanted: WantedBait) -> tuple[float, ...]:
    """Shares of cork granules weighed up, the recipe's own among them."""
    own = _own_share(wanted)
    room = MOST_FILLED - sum(one.share for one in wanted.fillers) + own
    return tuple(sorted({own, *(share for share in GRANULE_SHARES if share <= room + 1e-9)}))


def _own_share(wanted: WantedBait) -> float:
    return sum(one.share for one in wanted.fillers if one.material == GRANULES)


def _fillers(wanted: WantedBait, share: float) -> tuple[Filler, ...]:
    """The recipe's fillers with this share of granules."""
    others = tuple(one for one in wanted.fillers if one.material != GRANULES)
    return (*others, Filler(GRANULES, share)) if share else others


def _paste_room(diameter: float, core: Core | None, fillers: tuple[Filler, ...]) -> float:
    """Room of the paste alone [m3]."""
    cores = 0.0 if core is None else core.count * float(buoyancy.sphere_volume(core.diameter))
    shell = float(buoyancy.sphere_volume(diameter)) - cores
    return shell * (1.0 - sum(one.share for one in fillers))


@dataclass(frozen=True, slots=True)
class _Search:
    """What every option is weighed up with."""

    tray: Tray
    wanted: WantedBait
    wish: Wish
    around: Around
    unknowns: Unknowns

    def paste(self, share: float, loss: Quantity) -> Quantity:
        """Paste that lost so much weight, with fillers and granules in part of its room."""
        fillers = lighten(_fillers(self.wanted, share), self.unknowns)
        return filled(plain_pull(self.tray, loss), fillers)

    def target(self, size: float) -> Target:
        """The limits at a size; how fast it sinks hangs on that."""
        wish = self.wish
        return target_of(
            self.wanted.kind.value,
            wish,
            least_pull=-np.inf if wish.slowest is None else self._pull(size, wish.slowest),
            most_pull=np.inf if wish.fastest is None else self._pull(size, wish.fastest),
        )

    def _pull(self, size: float, speed: float) -> float:
        return speed_pull(
            size,
            speed,
            water_density=median_of(self.around.water_density),
            viscosity=self.around.viscosity,
        )

    def option(self, made: _MakeUp, paste: Quantity) -> DesignOption:
        """The bait of this make-up."""
        sized = size_core(made.core, self.unknowns)
        step = made.diameter - self.wanted.diameter
        rolled = resized_diameter(
            diameter=self.tray.rolled.diameter,
            step=given("size_step", step, label="larger by", unit=MILLIMETRES),
        )
        by_sizes = lift_on_core(
            diameter=rolled,
            core_diameter=sized.room,
            pull=paste,
            core_density=sized.density,
            water_density=self.around.water_density,
        )
        alone = lift_in_all(by_sizes=by_sizes, rest=self.around.rest)
        rig = rig_lift(lift=alone, hook=self.around.burden)
        target = given("target", self.target(made.diameter), label="wanted", backing=LIMITS)
        reached = {"alone": alone, "rig": rig, "target": target}
        return DesignOption(
            diameter=made.diameter,
            core=made.core,
            granules=made.share,
            tray=made.tray,
            alone=alone,
            rig=rig,
            share=target_share(**reached),
            margin=target_margin(**reached),
            lasts=lasts(
                **reached,
                drift=self.around.drift,
                paste_share=given(
                    "paste_share",
                    self._paste_share(made),
                    label="paste beside the bait's own",
                    backing=IDENTITY,
                ),
            ),
        )

    def _paste_share(self, made: _MakeUp) -> float:
        """The room of an option's paste beside that of the bait planned."""
        own = self.wanted
        room = _paste_room(made.diameter, made.core, _fillers(own, made.share))
        return room / _paste_room(own.diameter, own.core, own.fillers)

    def in_the_way(self, nearest: DesignOption | None, *, left_out: int) -> tuple[Note, ...]:
        """Why nothing works, and what would."""
        least = show(default("shell_minimum").value, "mm")
        if nearest is None:
            text = f"No core leaves {least} of paste in any size weighed up."
            return (Note("design", text, "common-practice", Weight.DOUBT),)
        said = [self._miss(nearest)]
        if left_out:
            said.append(f"{left_out} more would leave less than {least} of paste")
        said.append(self._would_do(nearest))
        return (Note("design", f"{'; '.join(said)}.", "archimedes", Weight.DOUBT),)

    def _miss(self, nearest: DesignOption) -> str:
        target = self.target(nearest.diameter)
        places = {
            "alone": (target.alone, median_of(nearest.alone)),
            "on its rig": (target.rig, median_of(nearest.rig)),
        }
        where, (limits, lift) = min(places.items(), key=lambda one: one[1][0].room(one[1][1]))
        way = "too little" if lift < limits.low else "too much"
        return f"The nearest lifts {show(-limits.room(lift), 'g', 2)} {way} {where}"

    def _would_do(self, nearest: DesignOption) -> str:
        """The core that the middle paste would need in the size wanted."""
        target = self.target(self.wanted.diameter)
        paste = median_of(self.paste(_own_share(self.wanted), self.tray.dried.loss))
        core = _alike(self.wanted)
        row = core_row(core.material)
        density = 0.0 if row is None else row.density
        burden = median_of(self.around.burden)
        if target.rig.low >= target.rig.high:
            return (
                f"the wishes exclude each other: on its rig the bait would have to lift at least "
                f"{show(target.rig.low, 'g', 2)} and less than {show(target.rig.high, 'g', 2)}"
            )
        carried = max(target.alone.low, target.rig.low + burden)
        if carried >= target.alone.high:
            return (
                f"the wishes exclude each other: with {show(burden, 'g', 2)} of rig on it the bait "
                f"would have to lift {show(carried, 'g', 2)} alone, which is no "
                f"{self.wanted.kind.value}"
            )
        if not np.isfinite(carried):
            return "lift is limited above only: take a smaller core, or none"
        size = float(
            buoyancy.neutral_core_diameter(
                self.wanted.diameter,
                shell_density=paste,
                core_density=density,
                water_density=median_of(self.around.water_density),
                carried=carried,
            )
        )
        own = show(self.wanted.diameter, "mm")
        if np.isnan(size):
            return f"no core inside {own} would do it with paste of {show(paste, 'g/ml')}"
        each = show(size * core.count ** (-1.0 / 3.0), "mm")
        cores = "a core" if core.count == 1 else f"{core.count} cores"
        return f"{own} would need {cores} of at least {each}"
