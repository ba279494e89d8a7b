"""In the water: the bait alone, the bait on this rig, and which core would do what is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.cores import SizedCore, size_core
from baitwright.batch.dry import DryStage
from baitwright.batch.fillers import filled, lighten
from baitwright.batch.lake_water import lake_water
from baitwright.batch.roll import RollStage
from baitwright.batch.state import BaitState
from baitwright.batch.target import LIMITS, Wish, target_of
from baitwright.batch.tray_share import misfits
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.hooks import hook as hook_row
from baitwright.materials.hooks import weight
from baitwright.materials.kinds import LiftWord, bait_kinds, lift_words
from baitwright.physics import buoyancy
from baitwright.recipe.bench import Bench, Hook
from baitwright.recipe.model import Core, WantedBait, largest_core
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled, unwrap
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, PERCENT
from baitwright.uncertainty.spreads import Normal

USUAL_HOOK = 6
"""The hook taken where none is named (judgement)."""
USUAL_CORE = "cork-ball"
ON_RIG = "lift left on the whole rig"


@declared(
    "lift",
    label="lift of the bait alone",
    unit=GRAMS,
    equation="lift = water density x pi D^3 / 6 - mass",
    source="archimedes",
)
def lift(diameter: Any, mass: Any, water_density: Any) -> Any:
    """What the bait pulls upward; below nothing it sinks."""
    volume = buoyancy.sphere_volume(diameter)
    return buoyancy.lift(volume, mass, water_density=water_density)


@declared(
    "hook_pull",
    label="the hook under water",
    unit=GRAMS,
    equation="pull = mass (1 - water density / steel)",
    source="archimedes",
)
def hook_pull(mass: Any, water_density: Any) -> Any:
    """What the hook weighs under water."""
    return buoyancy.submerged_mass(mass, weight("steel").density, water_density=water_density)


@declared(
    "rig_lift",
    label="lift of bait and hook together",
    unit=GRAMS,
    equation="lift of the bait - pull of the hook",
    source="definition",
)
def rig_lift(lift: Any, hook: Any) -> Any:
    """What is left when the bait carries its hook."""
    return lift - hook


def left_on_rig(alone: Quantity, taken: Quantity) -> Quantity:
    """What the hook leaves of a lift, or the whole rig; the label says which."""
    left = rig_lift(lift=alone, hook=taken)
    return left if taken.name == hook_pull.name else left.labelled(ON_RIG)


@declared(
    "wish_share",
    label="baits that do what is wanted",
    unit=PERCENT,
    equation="share of draws whose lift alone and on the rig both have the wanted name",
    source="common-practice",
)
def wish_share(lift: Any, rig_lift: Any, kind: str) -> float:
    """The share of baits that behave as the wanted kind."""
    row = bait_kinds()[kind]
    alone = _is_one_of(lift, "alone", row.alone)
    rigged = _is_one_of(rig_lift, "rig", row.on_rig)
    return float(np.mean(alone & rigged))


@declared(
    "word_share",
    label="share of baits",
    unit=PERCENT,
    equation="share of draws within the word's limits",
    source="common-practice",
)
def word_share(lift: Any, word: LiftWord) -> float:
    """The share of baits whose lift bears a name."""
    return float(np.mean(_bears(lift, word)))


def _bears(lift: Any, word: LiftWord) -> Any:
    values = np.asarray(lift)
    low = -np.inf if word.low is None else word.low
    high = np.inf if word.high is None else word.high
    return (values >= low) & (values < high)


def _is_one_of(lift: Any, about: str, wanted: Sequence[str]) -> Any:
    names = [word for word in lift_words().values() if word.about == about and word.id in wanted]
    return np.logical_or.reduce([_bears(lift, word) for word in names])


@declared(
    "dried_paste_pull",
    label="dried paste, by the room it took when fresh",
    unit=GRAMS_PER_MILLILITRE,
    equation="density as rolled x (1 - (1 - chi) x weight lost)",
    source="archimedes",
    note="drying alone changes no lift; only the air it leaves behind does",
)
def dried_paste_pull(density: Any, loss: Any, shrinkage: Any) -> Any:
    """Density of fresh paste that would pull as the dried paste does."""
    return density * (1.0 - (1.0 - shrinkage) * loss)


@declared(
    "lift_on_core",
    label="lift on another core",
    unit=GRAMS,
    equation="lift = (water - pull) pi D^3 / 6 + (pull - core) pi d^3 / 6",
    source="archimedes",
)
def lift_on_core(
    diameter: Any, core_diameter: Any, pull: Any, core_density: Any, water_density: Any
) -> Any:
    """The dried bait's lift were it rolled on another core."""
    bait = buoyancy.sphere_volume(diameter)
    core = buoyancy.sphere_volume(np.minimum(core_diameter, diameter))
    return (water_density - pull) * bait + (pull - core_density) * core


@declared(
    "rest_of_lift",
    label="lift that sizes and densities do not tell",
    unit=GRAMS,
    equation="lift - lift by sizes and densities",
    source="definition",
    note="coat, glug, and what the pot took; other sizes are taken to have as much of it",
)
def rest_of_lift(lift: Any, by_sizes: Any) -> Any:
    """What coat, glug and pot do to the lift of the bait planned."""
    return lift - by_sizes


@declared(
    "lift_in_all",
    label="lift in another make-up",
    unit=GRAMS,
    equation="lift by sizes and densities + the rest",
    source="definition",
)
def lift_in_all(by_sizes: Any, rest: Any) -> Any:
    """The lift of another make-up, coat, glug and all."""
    return by_sizes + rest


@dataclass(frozen=True, slots=True)
class WordShare:
    """One word for a lift and the share of the tray that bears it."""

    word: LiftWord
    share: Quantity


@dataclass(frozen=True, slots=True)
class CoreOption:
    """Cores from the shelf: the lift they would give, who would sink, how far it meets the wish."""

    core: Core
    lift: Quantity
    rig_lift: Quantity
    sinks: Quantity
    wish: Quantity


@dataclass(frozen=True, slots=True)
class BalanceStage:
    """Lift fresh and dried, alone and on the rig, by name, and the cores that were weighed up.

    ``burden`` is the lift that the whole rig takes, None where only the hook is told.
    """

    water_density: Quantity
    fresh: Quantity
    dried: Quantity
    hook: Quantity
    burden: Quantity | None
    rig: Quantity
    alone: tuple[WordShare, ...]
    on_rig: tuple[WordShare, ...]
    wish: Quantity
    misfits: Quantity
    cores: tuple[CoreOption, ...]

    @property
    def taken(self) -> Quantity:
        """The lift that the rig takes, as far as it is told."""
        return self.hook if self.burden is None else self.burden


@dataclass(frozen=True, slots=True)
class Tray:
    """The bait as rolled, boiled and dried."""

    rolled: RollStage
    boiled: BaitState
    dried: DryStage


def balance(
    tray: Tray,
    wanted: WantedBait,
    *,
    bench: Bench,
    unknowns: Unknowns,
    burden: Quantity | None = None,
) -> BalanceStage:
    """Weigh the dried bait against water and rig.

    Parameters
    ----------
    tray: the bait.
    wanted: what it is to do.
    bench: lake and hook.
    unknowns: factors, defaults and draws.
    burden: what hook, hook-link, parts, hole and depth take together; the hook's pull where there
        is none.
    """
    density = lake_water(
        unknowns.stated("lake_temperature", bench.lake_temperature),
        salinity=0.0 if bench.rig is None else bench.rig.salinity,
    )
    boiled, dried = tray.boiled, tray.dried
    fresh = lift(diameter=boiled.diameter, mass=boiled.mass, water_density=density)
    alone = lift(diameter=dried.diameter, mass=dried.mass, water_density=density)
    hook = hook_pull(mass=weigh_hook(bench.hook, unknowns), water_density=density)
    taken = hook if burden is None else burden
    rig = left_on_rig(alone, taken)
    kind = given("wanted_kind", wanted.kind.value, label="wanted")
    wish = wish_share(lift=alone, rig_lift=rig, kind=kind)
    return BalanceStage(
        water_density=density,
        fresh=fresh.labelled("lift of the bait alone, fresh"),
        dried=alone.labelled("lift of the bait alone, dried"),
        hook=hook,
        burden=burden,
        rig=rig,
        alone=_shares(alone, "alone"),
        on_rig=_shares(rig, "rig"),
        wish=wish,
        misfits=misfits(
            lift=alone,
            taken=taken,
            target=given(
                "target", target_of(wanted.kind.value, Wish()), label="wanted", backing=LIMITS
            ),
        ),
        cores=_weigh_up(
            tray, wanted, _Water(density, taken, kind, alone), bench=bench, unknowns=unknowns
        ),
    )


def weigh_hook(hook: Hook, unknowns: Unknowns) -> Quantity:
    """The hook as weighed, or by its size with the table's spread."""
    if hook.mass is not None:
        return given("hook", hook.mass, label="hook weighed", unit=GRAMS)
    row = hook_row(hook.size or USUAL_HOOK)
    origin = Origin.TABLE if hook.size else Origin.DEFAULT
    note = "no standard ties a hook's size to its weight: weigh ten"
    return given(
        "hook",
        unknowns.draws.per_batch("hook", Normal(row.mass, row.mass * row.mass_spread)),
        label=f"hook of size {row.size}",
        unit=GRAMS,
        backing=Backing(origin, row.source, row.evidence, note),
    )


def _shares(lift: Quantity, about: str) -> tuple[WordShare, ...]:
    shares = []
    for word in lift_words().values():
        if word.about == about:
            limits = given("word", word, label=f"limits of '{word.name}'", backing=tabled(word))
            share = word_share(lift=lift, word=limits).labelled(f"share that {word.name}")
            shares.append(WordShare(word, share))
    return tuple(shares)


@dataclass(frozen=True, slots=True)
class _Water:
    """What the lift is set against."""

    density: Quantity
    taken: Quantity
    kind: Quantity
    lift: Quantity


def _weigh_up(
    tray: Tray, wanted: WantedBait, around: _Water, *, bench: Bench, unknowns: Unknowns
) -> tuple[CoreOption, ...]:
    """The same bait on each core of the shelf, as many as it has of its own."""
    pull = filled(plain_pull(tray, tray.dried.loss), lighten(wanted.fillers, unknowns))
    rest = rest_beside_sizes(
        tray, wanted, lift=around.lift, water=around.density, unknowns=unknowns
    )
    own = wanted.core
    alike = Core(USUAL_CORE, 0.0) if own is None else own
    sizes = sorted({*bench.cores, *(() if own is None else (own.diameter,))})
    options = []
    for size in sizes:
        core = replace(alike, diameter=size)
        if core == own:
            options.append(_option(core, around.lift, around))
        elif core.across <= largest_core(wanted.diameter):
            by_sizes = _lift_on(size_core(core, unknowns), tray.rolled, pull=pull, around=around)
            options.append(_option(core, lift_in_all(by_sizes=by_sizes, rest=rest), around))
    return tuple(options)


def rest_beside_sizes(
    tray: Tray, wanted: WantedBait, *, lift: Quantity, water: Quantity, unknowns: Unknowns
) -> Quantity:
    """What of a planned bait's lift is neither size nor density: coat, glug and what boiled out."""
    core = size_core(wanted.core, unknowns)
    by_sizes = lift_on_core(
        diameter=tray.rolled.diameter,
        core_diameter=core.room,
        pull=filled(plain_pull(tray, tray.dried.loss), lighten(wanted.fillers, unknowns)),
        core_density=core.density,
        water_density=water,
    )
    return rest_of_lift(lift=lift, by_sizes=by_sizes)


def plain_pull(tray: Tray, loss: Quantity) -> Quantity:
    """What paste pulls that lost so much of its weight, without fillers."""
    plain = tray.rolled.plain_density
    return dried_paste_pull(density=plain, loss=loss, shrinkage=tray.dried.shrinkage)


def _lift_on(core: SizedCore, rolled: RollStage, *, pull: Quantity, around: _Water) -> Quantity:
    return lift_on_core(
        diameter=rolled.diameter,
        core_diameter=core.room,
        pull=pull,
        core_density=core.density,
        water_density=around.density,
    )


def _option(core: Core, alone: Quantity, around: _Water) -> CoreOption:
    rig = rig_lift(lift=alone, hook=around.taken)
    sinks = next(one.share for one in _shares(alone, "alone") if one.word.id == "sinks")
    wish = wish_share(lift=alone, rig_lift=rig, kind=around.kind)
    return CoreOption(core, alone, rig, sinks, wish)


def best_core(stage: BalanceStage) -> CoreOption | None:
    """The core on the shelf with which most baits do what is wanted."""
    return max(stage.cores, key=lambda option: unwrap(option.wish.value), default=None)
