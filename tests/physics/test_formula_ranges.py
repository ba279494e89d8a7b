"""Every limit of the formulas that needs a record, a wrapper or a hint to be met."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from baitwright.physics import (
    air,
    buoyancy,
    diffusion,
    food,
    freezing,
    keeping,
    leaching,
    lethality,
    packing,
    protein_set,
    release,
    series,
    settling,
    sorption,
    sorption_blend,
    thawing,
)
from baitwright.physics.limits import Array, Values
from baitwright.terms.errors import RangeError
from tests.physics.ranges import Limits, of

BELOW_ONE = 1.0 - 1e-9
TEMPERATURE = ("temperature", "temperature")
WATER = {"water_density": 999.0, "water_viscosity": 1.3e-3}
AROUND = (
    ("water_density", "water.density", 950.0, 1100.0, "kg/m3"),
    ("water_viscosity", "water.viscosity", 1e-4, 1e-2, "Pa s"),
)
SPHERE = ("diameter", "sphere.diameter", 1e-5, 0.1, "m")
BALL = {"outer_radius": 1.0, "core_radius": 0.5}
"""A ball of a metre: a radius is then its own share of the outer one."""
BARE = (
    ("diffused", "diffused", 0.0, math.inf, "m2", "", (0.0, 1e-9, 1.0)),
    ("outer_radius", "outer_radius", 1e-9, 1e9, "m"),
)
CORED = ("core_radius", "core_radius / outer_radius", 0.0, BELOW_ONE)
MOULD = keeping.Cardinal(275.0, 298.0, 310.0)
LAW = {"slope": 1e-4, "zero": 265.0, "low": 275.0, "high": 300.0}
PACK = {"start": 255.0, "melts": 271.0, "surroundings": 290.0, "coefficient": 10.0}
FROZEN = thawing.ThawingBody(1000.0, 2e5, 3500.0, 0.5)
RADII = series.sphere_series(1.0, 0.5)
SOLID = ("density", "body.density", 1.0, 25_000.0, "kg/m3")
NOT_LESS_THAN_NONE = (0.0, math.inf)


def isotherm(activity: Array) -> Values:
    return sorption.gab(activity)


def blended(*, share: float = 1.0, joint: float = 0.8) -> sorption_blend.Blend:
    return sorption_blend.blend([sorption_blend.Powder(share, isotherm)], joint=joint)


def dissolved(share: float) -> None:
    powder = sorption_blend.Powder(2.0**-30, isotherm)
    sorption_blend.blend([powder], [(share, sorption.GLYCEROL)])


def rises(temperature: float) -> None:
    keeping.square_root_rate(temperature, keeping.SquareRootLaw(**LAW))


def set_by(order: float) -> None:
    protein_set.set_extent(
        np.array([0.0, 60.0]), np.full(2, 340.0), protein_set.albumen_rate, order=order
    )


def held_for_a_while_at(temperature: float) -> None:
    times, temperatures = np.array([0.0, 60.0]), np.array([350.0, temperature])
    lethality.spore_time(times, temperatures)


def thaws_from(degrees_below: float) -> None:
    melts = 256.0  # a whole number, so that the difference comes back as it went in
    thawing.ThawingCourse(melts - degrees_below, melts, 290.0, 10.0)


def thaws_in(degrees_above: float) -> None:
    thawing.ThawingCourse(250.0, 256.0, 256.0 + degrees_above, 10.0)


def colder_air(degrees_below: float) -> None:
    body = freezing.FreezingBody(1100.0, 2e5, 1.2, 256.0)
    freezing.plank_time(0.015, body=body, air_temperature=256.0 - degrees_below, coefficient=10.0)


def freezes_at(freezing_point: float) -> None:
    body = freezing.FreezingBody(1100.0, 2e5, 1.2, freezing_point)
    course = freezing.FreezingCourse(290.0, 255.0, 240.0, 3500.0, 1900.0)
    freezing.pham_time(0.015, body=body, course=course, coefficient=10.0)


def sealed(core_radius: float) -> None:
    series.sphere_series(2.0, core_radius)


def wet_in_a_room(surface_activity: Values) -> None:
    room = air.AirState(293.15, np.array([0.3, 0.6]))
    air.wet_surface_temperature(0.015, air=room, surface_activity=surface_activity)


RANGES = [
    *of(
        air.AirState,
        {"temperature": 290.0, "relative_humidity": 0.5},
        ("speed", "air.speed", 0.0, 20.0, "m/s"),
    ),
    # No drier than the dampest of the rooms.
    *of(wet_in_a_room, {}, ("surface_activity", "surface.activity", 0.6, 1.0)),
    *of(
        buoyancy.lift,
        {"volume": 1e-6, "mass": 1e-3, "water_density": 999.0},
        ("volume", "body.volume", *NOT_LESS_THAN_NONE, "m3"),
        ("mass", "body.mass", *NOT_LESS_THAN_NONE, "kg"),
        AROUND[0],
    ),
    *of(
        buoyancy.submerged_mass,
        {"mass": 1e-3, "density": 1100.0, "water_density": 999.0},
        ("mass", "body.mass", *NOT_LESS_THAN_NONE, "kg"),
        SOLID,
        AROUND[0],
    ),
    *of(
        buoyancy.shell_volume,
        {"diameter": 0.5, "core_diameter": 0.25},
        ("core_diameter", "core.diameter", 0.0, 0.5, "m"),
    ),
    *of(
        diffusion.moisture_diffusivity,
        {"temperature": 290.0},
        ("at_20C", "diffusivity", 1e-14, 3e-9, "m2/s"),
        ("activation", "activation", 0.0, 1e5, "J/mol"),
    ),
    *of(
        food.maxwell_eucken,
        {"continuous": 0.5, "dispersed": 0.2},
        ("fraction", "dispersed.fraction", 0.0, 1.0),
    ),
    *of(food.component, {"name": "water"}, (*TEMPERATURE, 233.15, 423.15, "K")),
    *of(
        freezes_at,
        {},
        (
            "freezing_point",
            "body.freezing_point",
            270.0,
            273.15,
            "K",
            "",
            None,
            (float(np.nextafter(270.0, 0.0)), 240.0),
        ),
    ),
    *of(rises, {}, (*TEMPERATURE, LAW["low"], LAW["high"], "K")),
    *of(
        keeping.SquareRootLaw,
        LAW,
        ("high", "law.high", LAW["low"], 330.0, "K"),
    ),
    *of(
        keeping.Cardinal,
        {"lowest": 280.0, "highest": 310.0},
        (
            "best",
            "cardinal.best",
            295.0,
            310.0,
            "",
            "The cardinal model holds for a best that is nearer to the highest.",
        ),
    ),
    *of(
        keeping.cardinal_factor,
        {"points": MOULD},
        ("value", "value", -math.inf, math.inf, "", "", (-math.inf, 290.0, math.inf)),
    ),
    *of(
        keeping.mould_free_time,
        {"temperature": 290.0, "activity": 0.85, "in_cold": MOULD},
        (*TEMPERATURE, 265.0, 310.0, "K"),
        ("activity", "water_activity", 0.0, 1.0),
    ),
    *of(leaching.leached_share, {"diffused": 1e-3, **BALL}, *BARE[:1], CORED),
    *of(leaching.leached_share, {"diffused": 1e-3}, BARE[1]),
    *of(release.shell_remaining, {"diffused": 1e-3, **BALL}, *BARE[:1], CORED),
    *of(release.shell_remaining, {"diffused": 1e-3}, BARE[1]),
    *of(release.layer_remaining, {"diffused": 1e-3, "layer": 0.25, **BALL}, BARE[0]),
    *of(
        release.layer_remaining,
        {"diffused": 1e-3, "layer": 0.25, "outer_radius": 1.0},
        (*CORED, "", "", (0.0, 0.75)),
    ),
    *of(
        release.layer_remaining,
        {"diffused": 1e-3, "layer": 9e-10, "outer_radius": 1.0},
        (*CORED, "", "", (BELOW_ONE,)),
    ),
    *of(
        release.layer_remaining,
        {"diffused": 1e-3, "outer_radius": 1.0},
        ("layer", "layer / shell", 1e-9, 1.0 + 1e-9),
    ),
    *of(
        release.layer_remaining,
        {"diffused": 1e-3, "layer": 1.0},
        ("outer_radius", "outer_radius", 1e-9, 1e9, "m", "", (1.0, 1e9)),
    ),
    *of(
        release.layer_remaining,
        {"diffused": 1e-3, "layer": 1e-9},
        ("outer_radius", "outer_radius", 1e-9, 1e9, "m", "", (1e-9, 1.0)),
    ),
    *of(
        release.held_in_fat,
        {"partition": 100.0, "fat": 0.1, "water": 0.5},
        ("partition", "partition", 0.0, 1e7),
        ("fat", "fat", *NOT_LESS_THAN_NONE),
        ("water", "water", 1e-12, math.inf),
    ),
    *of(held_for_a_while_at, {}, (*TEMPERATURE, 253.15, 423.15, "K")),
    *of(packing.cluster_diameter, {"diameter": 0.015}, ("count", "count", 1, 6)),
    *of(set_by, {}, ("order", "order", 1.0, 3.0)),
    *of(sealed, {}, ("core_radius", "core_radius", 0.0, 2.0 * BELOW_ONE, "m")),
    *of(
        series.sphere_series,
        {"outer_radius": 1.0},
        ("biot", "biot", 1e-9, math.inf, "", "", (1e-9, math.inf)),
        ("terms", "terms", 1, 100_000),
    ),
    *of(series.first_term, {}, ("biot", "biot", 1e-9, math.inf)),
    *of(series.sphere_uptake, {}, ("fourier", "fourier", *NOT_LESS_THAN_NONE)),
    *of(RADII.local, {"diffused": 0.1}, ("radius", "radius", 0.5, 1.0, "m")),
    *of(settling.haider_levenspiel, {}, ("reynolds", "reynolds", 5e-13, 2e5)),
    *of(settling.clift_gauvin, {}, ("reynolds", "reynolds", 5e-13, 2e5)),
    *of(settling.karamanev, {}, ("archimedes", "archimedes", 1e-12, 1e10)),
    *of(
        settling.terminal_velocity,
        {"diameter": 0.001, "excess_density": 100.0, **WATER},
        SPHERE,
        *AROUND,
        (
            "excess_density",
            "excess_density",
            0.0,
            20_000.0,
            "kg/m3",
            "Below zero it moves the other way: see rising_velocity.",
        ),
    ),
    *of(
        settling.rising_velocity,
        {"diameter": 0.001, "missing_density": 100.0, **WATER},
        SPHERE,
        *AROUND,
        (
            "missing_density",
            "missing_density",
            0.0,
            1100.0,
            "kg/m3",
            "Below zero it moves the other way: see terminal_velocity.",
        ),
    ),
    *of(
        sorption.norrish,
        {"solute": sorption.SUCROSE},
        ("ratio", "solute.ratio", 0.0, 10.0, "kg/kg"),
    ),
    *of(
        sorption.henderson,
        {"activity": 0.7, "temperature": 290.0, "k": 8e-5, "n": 2.0, "c": 50.0},
        ("activity", "water_activity", 0.0, 0.95),
        (*TEMPERATURE, 273.15, 333.15, "K"),
    ),
    *of(
        blended,
        {},
        ("joint", "blend.joint", 0.5, 0.99),
        ("share", "blend.share", 0.0, 1.0 + 1e-9, "", "", (1e-6, 1.0 + 1e-9)),
    ),
    *of(dissolved, {}, ("share", "blend.share", 0.0, 1.0 + 1e-9, "", "", (0.0, 1.0 - 2.0**-30))),
    *of(blended().moisture, {}, ("activity", "water_activity", 0.0, 0.9998)),
    *of(
        blended().water_activity,
        {},
        ("moisture", "moisture", 0.0, float(blended().moistures[-1]), "kg/kg"),
    ),
    *of(
        sorption_blend.dilution,
        {"solute": sorption.GLYCEROL},
        ("activity", "water_activity", 0.0, 0.9998),
    ),
    *of(
        thawing.ThawingCourse,
        PACK,
        ("start", "course.start", 213.15, 273.15, "K", "", (213.15, 271.0)),
        ("melts", "course.melts", 213.15, 273.15, "K", "", (255.0, 273.15)),
        ("surroundings", "course.surroundings", 213.15, 323.15, "K", "", (272.0, 323.15)),
        ("coefficient", "coefficient", 0.5, 5000.0, "W/m2/K"),
    ),
    *of(
        thaws_from,
        {},
        ("degrees_below", "course.melts less start", 0.0, 60.0, "K", "", (0.0, 32.0), (-0.125,)),
    ),
    *of(
        thaws_in,
        {},
        (
            "degrees_above",
            "course.surroundings less melts",
            0.1,
            110.0,
            "K",
            "The surroundings must be warmer than the ice.",
            (0.125, 64.0),
            (0.0625, -1.0),
        ),
    ),
    *of(
        colder_air,
        {},
        (
            "degrees_below",
            "freezing_point less air_temperature",
            0.1,
            200.0,
            "K",
            "The air must be colder than the freezing point.",
            (0.125, 200.0),
            (0.0625, -1.0, 200.125),
        ),
    ),
    *of(
        thawing.thawing_time,
        {"shape": freezing.Shape.BALL, "body": FROZEN, "course": thawing.ThawingCourse(**PACK)},
        ("thickness", "thickness", 1e-3, 0.5, "m"),
    ),
]


@pytest.mark.parametrize("ranged", RANGES, ids=str)
class TestFormula(Limits):
    pass


def test_a_pack_thaws_from_the_coldest_ice_to_the_warmest_water() -> None:
    """Both differences are then as large as they can be."""
    from_the_coldest = thawing.ThawingCourse(213.15, 273.15, 290.0, 10.0)
    assert from_the_coldest.melts - from_the_coldest.start == pytest.approx(60.0, rel=1e-15)
    in_the_warmest = thawing.ThawingCourse(213.15, 213.15, 323.15, 10.0)
    assert in_the_warmest.surroundings - in_the_warmest.melts == pytest.approx(110.0, rel=1e-15)


def test_the_shares_of_a_blend_are_told_by_their_sum() -> None:
    powder = sorption_blend.Powder(0.75, isotherm)
    with pytest.raises(RangeError) as refused:
        sorption_blend.blend([powder], [(0.5, sorption.GLYCEROL)])
    assert (refused.value.field, refused.value.got) == ("blend.share", 1.25)


def test_a_sphere_too_fast_for_the_drag_curve_is_refused() -> None:
    """The curve ends at a Reynolds number of 200 000, where 3/4 of C Re^2 is the last number."""
    top = 0.75 * float(settling.haider_levenspiel(2e5)) * 4e10
    lead = {"water_density": 1000.0, "water_viscosity": 1e-3}
    whole: dict[str, Any] = {"diameter": 0.1, "excess_density": 1.0, **lead}
    of_one = 9.80665 * whole["diameter"] ** 3 * 1000.0 / 1e-3**2
    settling.terminal_velocity(**{**whole, "excess_density": top / of_one * (1.0 - 1e-12)})
    with pytest.raises(RangeError, match=r" Too fast for the drag curve\.$") as refused:
        settling.terminal_velocity(**{**whole, "excess_density": top / of_one * (1.0 + 1e-12)})
    error = refused.value
    assert (error.field, error.low, error.unit) == ("archimedes", 0.0, "")
    assert error.high == pytest.approx(top, rel=1e-15)
    assert error.got == pytest.approx(top, rel=1e-11)
