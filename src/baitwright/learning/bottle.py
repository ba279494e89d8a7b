"""What a bottle test teaches: what the sample proves, the tray's lift, and the maker's factors."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.learning.bottle_likelihood import (
    Likelihood,
    Spread,
    early_looks,
    limits,
    tells_lift,
)
from baitwright.learning.propose import Proposal, TellsLittle
from baitwright.learning.sample import Proof, prove
from baitwright.learning.seen import Log, Seen, moved_by, refuse_absurd
from baitwright.learning.soaking import SoakLesson, learn_from_soaked, refuse_soaked
from baitwright.learning.tray_model import Bait, LiftChart, TrayModel, tray_model
from baitwright.materials.kinds import bait_kinds
from baitwright.physics import buoyancy, water
from baitwright.terms.band import Band
from baitwright.terms.errors import InputError
from baitwright.terms.factors import FactorSet
from baitwright.terms.records import BottleTest, Look
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.importance import (
    Posterior,
    posterior,
    prior_draws,
    weighted_band,
    weighted_quantiles,
)
from baitwright.uncertainty.spreads import Floats

_OUTCOMES: dict[bool, dict[str, tuple[str, ...]]] = {
    False: {"floated": ("floats",), "hung": ("hangs",), "sank": ("sinks",)},
    True: {
        "floated": ("holds-up",),
        "hung": ("balanced",),
        "sank": ("taken-down-slowly", "taken-down"),
    },
}
"""What is seen, and the words for lift it stands for: alone, and on the rig."""


@dataclass(frozen=True, slots=True)
class Proved:
    """What one look proves: ``words`` is what the good ones did, ``otherwise`` what others may."""

    look: Look
    words: str
    otherwise: str
    proof: Proof


@dataclass(frozen=True, slots=True)
class Shares:
    """Shares of the tray's baits that float, hang and sink."""

    floats: float
    hangs: float
    sinks: float


@dataclass(frozen=True, slots=True)
class TrayLift:
    """The tray as believed at one moment: the middle bait's lift in the lake [kg], and the shares.

    ``at_depth`` is the lift where the bait lies if nothing holds its air open against the
    pressure; None where the test names no depth.
    """

    lift: Band
    at_depth: Band | None
    alone: Shares
    on_rig: Shares


@dataclass(frozen=True, slots=True)
class BottleLesson:
    """What a test proves and teaches.

    ``correction`` is what lake water adds to the lift seen in the test's [kg]; ``effective`` how
    many independent draws the belief after the test is worth; ``bounds_only`` whether all baits
    did alike and nothing was weighed; ``told_apart`` whether a weighing tells core from paste;
    ``soaked`` what baits weighed dry and soaked teach, None where none were.
    """

    proved: tuple[Proved, ...]
    before: TrayLift
    after: TrayLift
    correction: float
    effective: float
    bounds_only: bool
    told_apart: bool
    proposals: tuple[Proposal, ...]
    tells_little: tuple[TellsLittle, ...]
    soaked: SoakLesson | None = None

    def accepted(self, factors: FactorSet, *, name: str, made_on: datetime) -> FactorSet:
        """A new dated set with every proposal in it; the old set stays as it was."""
        changed = [proposal.after for proposal in self.proposals]
        return factors.with_factors(changed, name=name, made_on=made_on)


def learn_from_bottle(plan: BatchPlan, test: BottleTest, *, factors: FactorSet) -> BottleLesson:
    """What a bottle test proves of the tray, and what it teaches.

    The unknowns behind the tray's lift are drawn anew, with the plan's own beliefs as priors, and
    weighed by how likely they make the test. Each factor then moves as far as it did itself; what
    the test ties together, such as a light core with a heavy paste, no set of factors can hold.

    Parameters
    ----------
    plan: as it was made.
    test: what was seen and weighed.
    factors: the set to move on from, usually the plan's own or a later one.

    Raises
    ------
    InputError: nothing to learn from, a weighing that can only be a slip of the unit, or cores
        weighed of a bait that has none.
    """
    _refuse(test, plan)
    model = tray_model(plan)
    seed = plan.request.draws.seed
    before = prior_draws(model.unknowns, seed=seed)
    in_test = float(water.density(test.water_temperature))
    chart = LiftChart(model, in_test)
    after, lift = before, tells_lift(test)
    if lift:
        after = posterior(model.unknowns, Likelihood(model, test), seed=seed, chart=chart)
    place = _Place(
        median_of(plan.water.water_density), test.lake_depth, median_of(plan.rolled.bait.air)
    )
    moved = _moved(plan, _Beliefs(model, before, after), factors=factors) if lift else []
    soaked = learn_from_soaked(plan, test) if test.soaked else None
    if soaked is not None:
        moved.append(soaked.moved(plan.request.factors, today=factors))
    weighed = bool(test.pushed_under or test.baits or test.cores)
    volume = weighted_quantiles(model.middle(after.values).volume, after.weights, (0.5,))[0]
    return BottleLesson(
        proved=_proofs(test, plan),
        before=_tray_lift(model, before, place),
        after=_tray_lift(model, after, place),
        correction=float((place.water - in_test) * volume),
        effective=after.effective,
        bounds_only=lift and not weighed and all(map(_all_alike, early_looks(test))),
        told_apart=not model.bait.core_diameter.any() or bool(test.baits or test.cores),
        proposals=tuple(one for one in moved if isinstance(one, Proposal)),
        tells_little=tuple(one for one in moved if isinstance(one, TellsLittle)),
        soaked=soaked,
    )


def _refuse(test: BottleTest, plan: BatchPlan) -> None:
    """Refuse what cannot be learned from."""
    if not (tells_lift(test) or test.soaked):
        accepted = "a look within the first hour, or a weighing"
        raise InputError("look", "none within the first hour", accepted)
    if test.cores and plan.request.recipe.bait.core is None:
        raise InputError("cores_weighed", test.cores.count, "nothing: this bait has no core")
    expected = median_of(plan.tray.dried.mass)
    for at, one in enumerate(test.pushed_under, start=1):
        for name, mass in (("weight", one.mass), ("rise", one.rise)):
            refuse_absurd(f"pushed_under[{at}].{name}", mass, expected)
    if test.baits:
        refuse_absurd("baits_weighed.weight", test.baits.mass, test.baits.count * expected)
    if test.cores:
        core = median_of(plan.rolled.core_density) * float(
            buoyancy.sphere_volume(median_of(plan.rolled.core_diameter))
        )
        refuse_absurd("cores_weighed.weight", test.cores.mass, test.cores.count * core)
    refuse_soaked(test, plan)


def _all_alike(look: Look) -> bool:
    return look.count in (look.floated, look.hung, look.sank)


def _proofs(test: BottleTest, plan: BatchPlan) -> tuple[Proved, ...]:
    """What every look proves of what is wanted, of firmness and of holding to the core."""
    kind = bait_kinds()[plan.request.recipe.bait.kind.value]
    found = []
    for look in test.looks:
        wanted = kind.on_rig if look.on_rig else kind.alone
        seen = _OUTCOMES[look.on_rig]
        good = [name for name, words in seen.items() if set(words) & set(wanted)]
        bad = look.count - sum(getattr(look, name) for name in good)
        did = [name for name in good if getattr(look, name)] or good
        parts = [(" or ".join(did), "will not", bad)] if len(good) < len(seen) else []
        if look.still_firm is not None:
            parts.append(("were still firm", "will not be", look.count - look.still_firm))
        if look.off_core is not None:
            parts.append(("held to the core", "will not", look.off_core))
        for words, otherwise, missed in parts:
            proof = prove(look.count, missed, tray=test.tray)
            found.append(Proved(look, words, otherwise, proof))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the bait is to fish: the water's density, the depth, and the air kneaded in [m3]."""

    water: float
    depth: float | None
    kneaded: float


def _tray_lift(model: TrayModel, found: Posterior, place: _Place) -> TrayLift:
    lifts = Spread.of_lift(model, found.values, place.water)
    on_rig = replace(lifts, middle=lifts.middle - model.hook_pull(found.values))
    at_depth = None
    if place.depth is not None:
        lost = _lost_at_depth(model.middle(found.values), place, place.depth)
        at_depth = weighted_band(lifts.middle - lost, found, name="lift_at_depth", unit="kg")
    return TrayLift(
        lift=weighted_band(lifts.middle, found, name="tray_lift", unit="kg"),
        at_depth=at_depth,
        alone=_shares(lifts, found, on_rig=False),
        on_rig=_shares(on_rig, found, on_rig=True),
    )


def _lost_at_depth(bait: Bait, place: _Place, depth: float) -> Floats:
    """Lift lost where pressure squeezes the air kneaded in and left by drying [kg]."""
    air = place.kneaded + bait.air_left
    ratio = buoyancy.void_ratio(depth, water_density=place.water)
    return np.asarray(place.water * air * (1.0 - ratio))


def _shares(lifts: Spread, found: Posterior, *, on_rig: bool) -> Shares:
    words = limits(on_rig=on_rig)
    sink = float(found.weights @ lifts.below(words.low))
    under = float(found.weights @ lifts.below(words.high))
    return Shares(1.0 - under, under - sink, sink)


@dataclass(frozen=True, slots=True)
class _Beliefs:
    """The tray's unknowns before and after the test."""

    model: TrayModel
    before: Posterior
    after: Posterior

    def seen_of(self, key: str) -> Seen:
        """What the test says of a factor that the tray's unknowns hold in logs."""
        return Seen.between(
            *(
                Log(self.model.columns(one.values)[key], one.weights)
                for one in (self.before, self.after)
            )
        )


def _moved(
    plan: BatchPlan, beliefs: _Beliefs, *, factors: FactorSet
) -> list[Proposal | TellsLittle]:
    """Each factor behind the lift: moved, or named among those the test hardly sees."""
    core = plan.request.recipe.bait.core
    named = {"paste_density": plan.mix.name, "core_density": core.material if core else ""}
    found: list[Proposal | TellsLittle] = []
    for key in ("paste_density", "core_density", "air_left", "diameter"):
        if key not in beliefs.model.columns(beliefs.after.values):
            continue
        about = named.get(key, "")
        planned, seen = plan.request.factors.find(key, about), beliefs.seen_of(key)
        found.append(moved_by(seen, about, planned=planned, today=factors.find(key, about)))
    return found
