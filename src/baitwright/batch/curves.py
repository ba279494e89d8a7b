"""Finer curves of a plan, from the draws of its own stages: set going in, water going out.

A plan tells its stages at a few times. These functions read the same runs at others, or follow
them once more with their profiles; nothing is drawn anew, so at the plan's own times they give the
plan's own numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baitwright.batch.advice import set_share
from baitwright.batch.boil import BoilStage
from baitwright.batch.dry import DryStage
from baitwright.batch.drying import leaving_run, water_left, water_lost
from baitwright.batch.front import depth_run, set_depth
from baitwright.batch.reached import crust_depth
from baitwright.terms.quantity import IDENTITY, Quantity, given
from baitwright.terms.units import HOURS, SECONDS


@dataclass(frozen=True, slots=True)
class SetPoint:
    """After some seconds in the pot: depth of set paste, and share of baits set through."""

    time: float
    depth: Quantity
    through: Quantity


@dataclass(frozen=True, slots=True)
class WaterPoint:
    """After some time on the tray [s]: water left in a bait."""

    time: float
    left: Quantity


def front_curve(boil: BoilStage, times: Sequence[float]) -> tuple[SetPoint, ...]:
    """How deep the paste of every bait has set.

    Parameters
    ----------
    boil: the stage, whose ball, pot, film and start are used again.
    times: in the pot [s].
    """
    pot = dict(dict(boil.front.inputs)["run"].inputs)
    until = dict(boil.set_seconds.inputs)
    model = dict(until["model"].inputs)
    run = depth_run(
        **{name: pot[name] for name in ("ball", "pot", "film", "start")},
        followed=dict(boil.seconds.inputs)["followed"],
    )
    points = []
    for time in times:
        at = given("seconds_in", time, label="in the pot", unit=SECONDS, backing=IDENTITY)
        depth = set_depth(run=run, seconds=at, factor=until["factor"], diameter=model["diameter"])
        through = set_share(set_seconds=boil.set_seconds, seconds=at).labelled("set through")
        points.append(SetPoint(time, depth, through))
    return tuple(points)


def drying_curve(dry: DryStage, times: Sequence[float]) -> tuple[WaterPoint, ...]:
    """Water left in every bait of the tray.

    Parameters
    ----------
    dry: the stage, whose run is read.
    times: on the tray, no later than the four days it is followed for [s].
    """
    like, water = dict(dry.lost.inputs)["like"], dict(dry.bait.water.inputs)["water"]
    points = []
    for time in times:
        at = given("hours", time, label="on the tray", unit=HOURS, backing=IDENTITY)
        lost = water_lost(run=dry.run, time=at, like=like)
        points.append(WaterPoint(time, water_left(water=water, lost=lost)))
    return tuple(points)


def crust(dry: DryStage) -> Quantity:
    """How deep the baits have dried when they leave the tray.

    Parameters
    ----------
    dry: the stage, whose baits, paste and air are used again.
    """
    run = leaving_run(until=dry.time, **dict(dry.run.inputs))
    core = dict(dict(dict(dry.run.inputs)["ball"].inputs)["state"].inputs)["core_diameter"]
    return crust_depth(run=run, diameter=dry.diameter, core_diameter=core)
