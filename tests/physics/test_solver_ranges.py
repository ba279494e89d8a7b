"""Every limit of the solvers of heat and transport: ball, material, surroundings, steps."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from baitwright.physics.radial import (
    Ball,
    Bath,
    ExponentialLaw,
    How,
    Layer,
    Leg,
    Medium,
    Sphere,
    Stretch,
    heat,
)
from baitwright.physics.radial_ball import cut_ball
from baitwright.physics.radial_problem import Problem, posed
from tests.physics.ranges import Limits, of

# A ball of a metre round a core of half of it: a radius is then its own share of the outer one.
LAYER = {"conductivity": 0.4, "density": 1100.0, "heat_capacity": 3000.0}
BALL = Ball(1.0, 0.5, Layer(**LAYER), Layer(**LAYER))
BOILED = Ball(0.008, 0.0, Layer(**LAYER))
MEDIUM = {"conductivity": 0.4, "capacity": 3e6}
SPHERE = Sphere(1.0, 0.5, Medium(**MEDIUM), Medium(**MEDIUM))
STRETCH = Stretch(10.0, 300.0, 50.0)
A_CALL_EACH = "Balls with and without a core need a call each."


def shell_of(**layer: float) -> None:
    cut_ball(replace(BALL, shell=Layer(**layer)), (1,), cells=(3, 3))


def core_of(**layer: float) -> None:
    cut_ball(replace(BALL, core=Layer(**layer)), (1,), cells=(3, 3))


def cut(**radii: float) -> None:
    cut_ball(replace(BALL, **radii), (1,), cells=(3, 3))


def cut_beside_a_solid_one(core_radius: float) -> None:
    cut_ball(replace(BALL, core_radius=np.array([0.0, core_radius])), (2,), cells=(3, 3))


def in_cells(*, core: int, shell: int) -> None:
    cut_ball(BALL, (1,), cells=(core, shell))


def heated(*, duration: float = 1e-3, step: float = 1.0, start: float = 290.0) -> None:
    heat(BOILED, [Leg(duration, 370.0, 500.0)], start=start, step=step)


def through(**leg: float) -> None:
    heat(BOILED, [Leg(**leg)], start=290.0)


def bathed(**bath: float) -> None:
    heat(BOILED, [Leg(1e-3, Bath(**bath), 500.0)], start=290.0)


def bath_at_first(share: float) -> None:
    ceiling = 256.0  # a power of two, so that the share comes back as it went in
    bath = Bath(4000.0, 1000.0, ceiling, 5.0, start=share * ceiling)
    heat(BOILED, [Leg(1e-3, bath, 500.0)], start=290.0)


HEAT = [
    *(
        row
        for name, function in (("shell", shell_of), ("core", core_of))
        for row in of(
            function,
            LAYER,
            ("conductivity", f"{name}.conductivity", 1e-6, 1e4, "W/m/K"),
            ("density", f"{name}.density", 0.1, 3e4, "kg/m3"),
            ("heat_capacity", f"{name}.heat_capacity", 10.0, 1e5, "J/kg/K"),
        )
    ),
    *of(cut, {"core_radius": 0.0}, ("outer_radius", "ball.outer_radius", 1e-5, 1.0, "m")),
    *of(cut, {}, ("core_radius", "ball.core_radius", 0.0, 1.0, "m", "", (0.0, 0.999))),
    *of(
        cut,
        {},
        (
            "core_radius",
            "ball.core_radius / ball.outer_radius",
            0.0,
            0.999,
            "",
            "",
            (0.999,),
            (float(np.nextafter(0.999, 1.0)), 1.0),
        ),
    ),
    *of(
        cut_beside_a_solid_one,
        {},
        ("core_radius", "ball.core_radius", 0.0, 0.0, "m", A_CALL_EACH, (0.0,), (5e-324, 0.25)),
    ),
    *of(
        in_cells,
        {"core": 3, "shell": 3},
        ("core", "cells", 3, 10_000),
        ("shell", "cells", 3, 10_000),
    ),
    *of(
        heated,
        {},
        ("step", "step", 1e-4, 60.0, "s"),
        ("start", "start", 150.0, 700.0, "K"),
    ),
    *of(
        through,
        {"duration": 1e-3, "surroundings": 370.0, "coefficient": 500.0},
        ("step", "leg.step", 1e-4, 3600.0, "s"),
        ("surroundings", "leg.surroundings", 150.0, 700.0, "K"),
        ("coefficient", "leg.coefficient", 1e-3, 1e9, "W/m2/K"),
    ),
    *of(
        through,
        {"surroundings": 370.0, "coefficient": 500.0, "step": 3600.0},
        ("duration", "leg.duration", 1e-6, 1e7, "s"),
    ),
    *of(
        bathed,
        {"heat_capacity": 4000.0, "net_power": 1000.0, "ceiling": 373.0, "bodies": 5.0},
        ("heat_capacity", "bath.heat_capacity", 1e-3, 1e9, "J/K"),
        ("net_power", "bath.net_power", -1e9, 1e9, "W"),
        ("ceiling", "bath.ceiling", 250.0, 700.0, "K"),
        ("bodies", "bath.bodies", 1e-6, 1e9),
    ),
    *of(bath_at_first, {}, ("share", "bath.start / bath.ceiling", 0.3, 1.0)),
]


@pytest.mark.parametrize("ranged", HEAT, ids=str)
class TestHeat(Limits):
    pass


def asked(sphere: Sphere = SPHERE, stretch: Stretch = STRETCH, **how: Any) -> Problem:
    return posed(sphere, [stretch], 290.0, times=np.array([1.0]), how=How(**how))


def ball(**radii: float) -> None:
    asked(replace(SPHERE, **radii))


def ball_beside_a_solid_one(core_radius: float) -> None:
    asked(replace(SPHERE, core_radius=np.array([0.0, core_radius])))


def shell(**medium: float) -> None:
    asked(replace(SPHERE, shell=Medium(**medium)))


def core(**medium: float) -> None:
    asked(replace(SPHERE, core=Medium(**medium)))


def shell_by_law(**law: float) -> None:
    asked(replace(SPHERE, shell=Medium(ExponentialLaw(**law))))


def core_by_law(**law: float) -> None:
    asked(replace(SPHERE, core=Medium(ExponentialLaw(**law))))


def stretched(**stretch: float) -> None:
    asked(stretch=replace(STRETCH, **stretch))


def one_after_the_other(stretches: int) -> None:
    posed(SPHERE, [STRETCH] * stretches, 290.0, times=np.array([0.0]), how=How())


def started(start: float) -> None:
    posed(SPHERE, [STRETCH], start, times=np.array([1.0]), how=How())


def told_at(time: float) -> None:
    posed(SPHERE, [STRETCH], 290.0, times=np.array([time]), how=How())


def told_again_after(pause: float) -> None:
    posed(SPHERE, [STRETCH], 290.0, times=np.array([4.0, 4.0 + pause]), how=How())


def told_in_the_ball(place: float) -> None:
    asked(places=np.array([place]))


def told_in_the_solid_ball(place: float) -> None:
    asked(replace(SPHERE, core=None, core_radius=0.0), places=np.array([place]))


def told_in_the_shell(place: float) -> None:
    """Round sealed cores of half the ball and of a quarter: the larger one decides."""
    sealed = replace(SPHERE, core=None, core_radius=np.array([0.25, 0.5]))
    asked(sealed, places=np.array([place]))


TRANSPORT = [
    *(
        row
        for name, function, by_law in (("shell", shell, shell_by_law), ("core", core, core_by_law))
        for row in (
            *of(
                function,
                MEDIUM,
                ("capacity", f"sphere.{name}.capacity", 1e-9, 1e10),
                ("conductivity", f"sphere.{name}.conductivity", 1e-16, 1e4),
            ),
            *of(
                by_law,
                {"at_reference": 1e-10},
                ("at_reference", f"sphere.{name}.conductivity.at_reference", 1e-16, 1e4),
                ("steepness", f"sphere.{name}.conductivity.steepness", -50.0, 50.0),
                ("reference", f"sphere.{name}.conductivity.reference", -1e3, 1e3),
            ),
        )
    ),
    *of(ball, {"core_radius": 0.0}, ("outer_radius", "sphere.outer_radius", 1e-6, 10.0, "m")),
    *of(
        ball,
        {"outer_radius": 10.0},
        ("core_radius", "sphere.core_radius", 0.0, 10.0, "m", "", (0.0, 9.99)),
    ),
    *of(
        ball,
        {},
        (
            "core_radius",
            "sphere.core_radius / sphere.outer_radius",
            0.0,
            0.999,
            "",
            "",
            (0.999,),
            (float(np.nextafter(0.999, 1.0)), 1.0),
        ),
    ),
    *of(
        ball_beside_a_solid_one,
        {},
        ("core_radius", "sphere.core_radius", 0.0, 0.0, "m", A_CALL_EACH, (0.0,), (5e-324, 0.25)),
    ),
    *of(
        stretched,
        {},
        ("duration", "stretch.duration", 1e-6, 1e10, "s", "", (1.0, 1e10)),
        ("outside", "stretch.outside", -1e6, 1e6),
        ("coefficient", "stretch.coefficient", 1e-16, math.inf, "", "", (1e-16, math.inf)),
    ),
    *of(one_after_the_other, {}, ("stretches", "stretches", 1, 1000, "", "", None, (0, 1001))),
    *of(started, {}, ("start", "start", -1e6, 1e6)),
    *of(told_at, {}, ("time", "times", 0.0, STRETCH.duration * (1.0 + 1e-12), "s")),
    *of(
        told_again_after,
        {},
        ("pause", "times", 0.0, math.inf, "s", "Output times have to rise.", None, (-0.125, -4.0)),
    ),
    *of(asked, {}, ("cells", "how.cells", 8, 10_000), ("steps", "how.steps", 8, 100_000)),
    *of(told_in_the_ball, {}, ("place", "how.places", 1e-6, 1.0)),
    *of(told_in_the_solid_ball, {}, ("place", "how.places", 1e-6, 1.0)),
    *of(told_in_the_shell, {}, ("place", "how.places", 0.5, 1.0)),
]


@pytest.mark.parametrize("ranged", TRANSPORT, ids=str)
class TestTransport(Limits):
    pass


def test_the_shortest_stretch_is_told_at_its_end() -> None:
    shortest = replace(STRETCH, duration=1e-6)
    problem = posed(SPHERE, [shortest], 290.0, times=np.array([1e-6]), how=How())
    assert problem.durations == (1e-6,)
