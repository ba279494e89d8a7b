"""The dried tray as a bottle test sees it: mass and volume of a bait from a few unknowns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.cores import core as core_row
from baitwright.materials.defaults import default
from baitwright.materials.factors import factor_priors, prior_of_default
from baitwright.terms.factors import Factor, FactorSet
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.importance import Unknown
from baitwright.uncertainty.spreads import Floats

_CLOSED = 998.2
"""Density of the water that left the bait, as drying counts it, kg/m3."""
_LIFT_SCALE = 1e-4
"""A lift as one is used to it, kg: what the chart counts lift in."""
REST, LOSS, SCATTER, HOOK = "rest of the paste", "weight lost", "scatter", "hook"
FILLERS = "fillers"


@dataclass(frozen=True, slots=True)
class Bait:
    """A bait's measures as rolled, and what drying did to it; floats or arrays.

    Of ``cores`` in one bait ``core_diameter`` and ``core_density`` are the mean. ``filler_room`` is
    the share of the paste's room that is filler and ``filler_density`` what that weighs per room of
    all [kg/m3]; coat and glug add ``added_mass`` and ``added_volume`` to the dried bait.
    """

    diameter: Floats
    core_diameter: Floats
    paste_density: Floats
    core_density: Floats
    loss: Floats
    shrinkage: Floats
    cores: int = 1
    filler_room: float = 0.0
    filler_density: Floats = field(default_factory=lambda: np.asarray(0.0))
    added_mass: float = 0.0
    added_volume: float = 0.0

    @property
    def volume(self) -> Floats:
        """Room it takes up once dried [m3]."""
        closed = self.shrinkage * self.loss * self._paste / _CLOSED
        return np.asarray(_sphere(self.diameter) - closed + self.added_volume)

    @property
    def mass(self) -> Floats:
        """Its weight once dried [kg]."""
        core = self.core_density * self.cores * _sphere(self.core_diameter)
        light = self.filler_density * self._shell + core
        return np.asarray((1.0 - self.loss) * self._paste + light + self.added_mass)

    @property
    def air_left(self) -> Floats:
        """Room of the lost water that stayed behind as air [m3]."""
        return np.asarray((1.0 - self.shrinkage) * self.loss * self._paste / _CLOSED)

    def lift(self, water_density: float) -> Floats:
        """What it pulls upward [kg]."""
        return np.asarray(water_density * self.volume - self.mass)

    @property
    def _paste(self) -> Floats:
        return np.asarray(self.paste_density * (1.0 - self.filler_room) * self._shell)

    @property
    def _shell(self) -> Floats:
        inner = self.cores * _sphere(self.core_diameter)
        return np.asarray(_sphere(self.diameter) - inner)


@dataclass(frozen=True, slots=True)
class Scatter:
    """Standard deviations from bait to bait, by the tables, in SI."""

    diameter: float
    core_diameter: float
    core_density: float


@dataclass(frozen=True, slots=True)
class TrayModel:
    """What a plan believes of its tray: the unknowns, and the bait they make.

    ``scatter`` is multiplied by an unknown of its own.
    """

    unknowns: tuple[Unknown, ...]
    bait: Bait
    scatter: Scatter
    air_odds: float

    def middle(self, values: Floats) -> Bait:
        """The tray's middle bait for each row of unknowns."""
        at = self.columns(values)
        odds = self.air_odds * np.exp(at["air_left"])
        paste = at["paste_density"] + at[REST]
        fillers = np.exp(at.get(FILLERS, np.asarray(0.0)))
        return replace(
            self.bait,
            diameter=self.bait.diameter * np.exp(at["diameter"]),
            core_diameter=np.broadcast_to(self.bait.core_diameter, len(values)),
            paste_density=self.bait.paste_density * np.exp(paste),
            core_density=self.bait.core_density * np.exp(at.get("core_density", np.asarray(0.0))),
            loss=np.minimum(self.bait.loss * np.exp(at[LOSS]), 1.0),
            shrinkage=1.0 / (1.0 + odds),
            filler_density=self.bait.filler_density * fillers,
        )

    def columns(self, values: Floats) -> Mapping[str, Floats]:
        """The draws of each unknown by its name."""
        return {one.name: values[:, at] for at, one in enumerate(self.unknowns)}

    def hook_pull(self, values: Floats) -> Floats:
        """What hangs on the bait, under water [kg]: its hook, or the whole rig."""
        return self.columns(values)[HOOK]

    def neighbours(self, values: Floats) -> tuple[tuple[Bait, Bait], ...]:
        """Pairs of baits one standard deviation of the tray's scatter above and below the middle.

        Half the difference within a pair is what that scatter does; together they add in squares.
        """
        middle, times = self.middle(values), np.exp(self.columns(values)[SCATTER])
        pairs = []
        for name in ("diameter", "core_diameter", "core_density"):
            step = getattr(self.scatter, name) * times
            if name != "diameter" and not self.bait.core_diameter.any():
                continue
            near = getattr(middle, name)
            above, below = near + step, np.maximum(near - step, 0.0)
            pairs.append((replace(middle, **{name: above}), replace(middle, **{name: below})))
        return tuple(pairs)


@dataclass(frozen=True, slots=True)
class LiftChart:
    """The tray's unknowns with its lift in the test's water in place of the paste's factor.

    A bottle test sees the lift and little else; lift is linear in the paste's density.
    """

    model: TrayModel
    water_density: float

    def drawn(self, values: Floats) -> Floats:
        """Places of draws given in units of the unknowns' scales."""
        own = self._mu + values * self._scale
        lift = self.model.middle(own).lift(self.water_density)
        return np.asarray(
            np.column_stack([lift / _LIFT_SCALE, np.delete(values, self._at, axis=1)])
        )

    def back(self, places: Floats) -> tuple[Floats, Floats]:
        """The draws at some places, and the log of how much volume they take up there."""
        values = np.insert(places[:, 1:], self._at, 0.0, axis=1)
        bait = self.model.middle(self._mu + values * self._scale)
        bare = replace(bait, paste_density=np.asarray(0.0)).lift(self.water_density)
        paste = bare - _LIFT_SCALE * places[:, 0]
        pull = bare - replace(bait, paste_density=np.asarray(1.0)).lift(self.water_density)
        possible = (paste > 0.0) & (pull > 0.0)
        ratio = np.where(possible, paste, 1.0) / np.where(possible, pull, 1.0) / bait.paste_density
        scale = self._scale[self._at]
        values[:, self._at] = np.where(possible, np.log(ratio) / scale, 0.0)
        volume = np.log(_LIFT_SCALE / (scale * np.where(possible, paste, 1.0)))
        return values, np.where(possible, volume, -np.inf)

    @property
    def _at(self) -> int:
        return [one.name for one in self.model.unknowns].index("paste_density")

    @property
    def _mu(self) -> Floats:
        return np.array([one.mu for one in self.model.unknowns])

    @property
    def _scale(self) -> Floats:
        return np.array([one.scale for one in self.model.unknowns])


def tray_model(plan: BatchPlan) -> TrayModel:
    """The unknowns of a plan's dried tray, as the plan itself draws them.

    Paste, core, air left and diameter are the maker's factors as the plan holds them. The rest of
    the paste's density and the weight lost keep the spread of the plan's own draws. How far baits
    scatter is known only within the range of its default.
    """
    wanted, factors = plan.request.recipe.bait, plan.request.factors
    density = plan.rolled.plain_density
    paste = dict(density.inputs)["factor"]
    logs = np.log(_array(density) / _array(paste))
    loss = np.log(_array(plan.dry.loss).mean(axis=1))
    own = [
        _as_unknown(factors.find("paste_density", plan.mix.name)),
        _as_unknown(factors.find("air_left")),
        _as_unknown(factors.find("diameter")),
    ]
    core = None if wanted.core is None else core_row(wanted.core.material)
    if wanted.core is not None and core is not None:
        own.append(_as_unknown(factors.find("core_density", wanted.core.material)))
    light = _fillers(plan)
    if wanted.fillers:
        own.append(Unknown(FILLERS, 0.0, _sd(np.log(light))))
    count = 1 if wanted.core is None else wanted.core.count
    spread = _spread(factors)
    air = factor_priors()["air_left"].base_value
    unknowns = (
        *own,
        Unknown(REST, 0.0, _sd(logs)),
        Unknown(LOSS, 0.0, _sd(loss)),
        Unknown(SCATTER, 0.0, spread.scale),
        Unknown(HOOK, median_of(plan.hung), _sd(_array(plan.hung))),
    )
    return TrayModel(
        unknowns=unknowns,
        bait=Bait(
            diameter=np.asarray(wanted.diameter),
            core_diameter=np.asarray(wanted.core.diameter if wanted.core and core else 0.0),
            paste_density=np.exp(np.mean(logs)),
            core_density=np.asarray(core.density if core else 0.0),
            loss=np.exp(np.mean(loss)),
            shrinkage=np.asarray(1.0),
            cores=count,
            filler_room=sum(one.share for one in wanted.fillers),
            filler_density=np.asarray(np.median(light)),
            **_added(plan),
        ),
        scatter=Scatter(
            diameter=default("diameter_spread").value * spread.median,
            core_diameter=core.diameter_spread * count**-0.5 if core else 0.0,
            core_density=core.density_ball_spread * count**-0.5 if core else 0.0,
        ),
        air_odds=air / (1.0 - air),
    )


def _spread(factors: FactorSet) -> Factor:
    """How diameters scatter beside the default: as the maker's own batches tell, or its range."""
    key = "diameter_spread"
    return factors.find(key) if factors.has(key) else prior_of_default(key)


def _fillers(plan: BatchPlan) -> Floats:
    """What the fillers weigh in each room of filled paste [kg/m3], draw by draw."""
    rolled = plan.rolled
    room = _array(rolled.paste) / _array(rolled.density)
    return np.asarray(sum((_array(one) for one in rolled.fillers), np.zeros(1)) / room)


def _added(plan: BatchPlan) -> dict[str, float]:
    """What pot, coat and glug add to the dried bait, as the plan has it: mass [kg], volume [m3]."""
    pairs = [(plan.rolled.bait, plan.boil.bait), (plan.dry.bait, plan.tray.dried.bait)]
    if plan.coat is not None:
        pairs.append((plan.boil.bait, plan.coat.bait))
    masses = [np.median(_array(after.mass) - _array(before.mass)) for before, after in pairs]
    volumes = [
        np.median(_sphere(_array(after.diameter)) - _sphere(_array(before.diameter)))
        for before, after in pairs
    ]
    return {"added_mass": float(sum(masses)), "added_volume": float(sum(volumes))}


def _as_unknown(factor: Factor) -> Unknown:
    return Unknown(factor.key, factor.mu, factor.scale, factor.nu)


def _array(quantity: Quantity) -> Floats:
    return np.atleast_2d(np.asarray(unwrap(quantity.value), dtype=float))


def _sd(values: Floats) -> float:
    """Standard deviation, with a floor that keeps what is known from being divided by nothing."""
    return max(float(np.std(values)), 1e-12)


def _sphere(diameter: Floats) -> Floats:
    """Volume, without the limits of physics: a far draw may be a bait that nobody could roll."""
    return np.asarray(np.pi / 6.0 * diameter**3)
