"""An invented tray, and bottle tests of baits whose truth is known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baitwright.batch.balance import dried_paste_pull, lift_on_core
from baitwright.batch.batch_plan import BatchPlan
from baitwright.learning.tray_model import Bait, TrayModel, tray_model
from baitwright.physics import water
from baitwright.terms.quantity import unwrap
from baitwright.terms.records import BottleTest, Look, PushedUnder, WeighedTogether
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, RECIPE, planned

TAP = 291.15
LAKE = 279.15


def tray() -> BatchPlan:
    return planned(RECIPE, BENCH, draws=Draws(batches=256))


def seen(*looks: Look, **more: object) -> BottleTest:
    known: dict[str, object] = {"plan_name": "Copper wafter", "made_on": None}
    known |= {"water_temperature": TAP, "looks": looks, "tray": 50}
    return BottleTest(**{**known, **more})  # type: ignore[arg-type]


def mixed(floated: int, sank: int) -> BottleTest:
    return seen(Look(0.0, floated=floated, hung=0, sank=sank))


@dataclass(frozen=True)
class Truth:
    """A tray as it really is: its middle bait, and single baits out of it, not linearised."""

    model: TrayModel
    values: NDArray[np.float64]

    @property
    def middle(self) -> Bait:
        return self.model.middle(self.values)

    @property
    def lift(self) -> float:
        return float(self.middle.lift(float(water.density(LAKE)))[0])

    def baits(self, count: int, generator: np.random.Generator) -> Bait:
        """So many baits of the tray."""
        middle, scatter = self.middle, self.model.scatter
        times = float(np.exp(self.model.columns(self.values)["scatter"][0]))

        def about(value: object, sd: float) -> NDArray[np.float64]:
            return np.asarray(generator.normal(float(np.ravel(value)[0]), sd * times, count))

        return Bait(
            diameter=about(middle.diameter, scatter.diameter),
            core_diameter=about(middle.core_diameter, scatter.core_diameter),
            paste_density=middle.paste_density,
            core_density=about(middle.core_density, scatter.core_density),
            loss=middle.loss,
            shrinkage=middle.shrinkage,
        )

    def tested(self, count: int, pushed: int, generator: np.random.Generator) -> BottleTest:
        """A look at so many baits, some others pushed under, and twenty cores weighed."""
        lifts = self.baits(count, generator).lift(float(water.density(TAP)))
        look = Look(
            0.0,
            int((lifts >= 2e-5).sum()),
            int(((lifts >= -2e-5) & (lifts < 2e-5)).sum()),
            int((lifts < -2e-5).sum()),
        )
        others = self.baits(pushed, generator)
        under = others.lift(float(water.density(TAP))) + generator.normal(0.0, 6e-6, pushed)
        cores = self.baits(20, generator)
        weighed = float(np.sum(cores.core_density * np.pi / 6.0 * cores.core_diameter**3))
        return seen(
            look,
            pushed_under=tuple(
                PushedUnder(float(mass), float(mass + lift))
                for mass, lift in zip(others.mass, under, strict=True)
            ),
            cores=WeighedTogether(20, weighed * float(generator.normal(1.0, 0.01))),
        )


def a_truth(made: BatchPlan, generator: np.random.Generator) -> Truth:
    """A tray drawn from what the plan believes; one whose weight is a slip of the unit is redrawn.

    The beliefs' tails reach baits that nobody could roll: one in some 80,000.
    """
    model = tray_model(made)
    usual = float(np.median(np.asarray(unwrap(made.dry.mass.value))))
    while True:
        row = [
            one.mu
            + one.scale
            * (generator.standard_normal() if np.isinf(one.nu) else generator.standard_t(one.nu))
            for one in model.unknowns
        ]
        truth = Truth(model, np.array([row]))
        if 0.2 < float(truth.middle.mass[0]) / usual < 5.0:
            return truth


def plan_lift(bait: Bait) -> NDArray[np.float64]:
    """The lift of a bait in the lake, by the plan's own declared functions."""
    pull = dried_paste_pull.function(bait.paste_density, bait.loss, bait.shrinkage)
    density = float(water.density(LAKE))
    return np.asarray(
        lift_on_core.function(bait.diameter, bait.core_diameter, pull, bait.core_density, density)
    )
