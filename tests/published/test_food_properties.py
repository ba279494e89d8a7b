"""Thermal properties of foods against reference programs, tables and quick formulas."""

from __future__ import annotations

import math
from collections.abc import Callable

import iapws.iapws97
import pytest
from CoolProp.CoolProp import PropsSI

from baitwright.physics.food import Composition, component, conductivity, density, heat_capacity

ICE_POINT = 273.15
ATMOSPHERE = 101_325.0
FLUIDS = {
    "water": "FoodWater",
    "protein": "FoodProtein",
    "fat": "FoodFat",
    "carbohydrate": "FoodCarbohydrate",
    "fibre": "FoodFiber",
    "ash": "FoodAsh",
}
# Mass fractions of raw hen's eggs, usda-sr28 records 01123, 01124 and 01125.
WHOLE_EGG = Composition(0.7615, 0.1256, 0.0951, 0.0072, 0.0, 0.0106)
EGG_WHITE = Composition(0.8757, 0.1090, 0.0017, 0.0073, 0.0, 0.0063)
EGG_YOLK = Composition(0.5231, 0.1586, 0.2654, 0.0359, 0.0, 0.0171)
# The quick formula's own example: 25 % water, 20 % protein, 10 % fat, 40 % starch, 5 % ash.
EXAMPLE = Composition(0.25, 0.20, 0.10, 0.40, 0.0, 0.05)
# Three parts of a dry mix as assumed (9 % water) and two of egg: 35.9 % water.
DRY_MIX = Composition(0.09, 0.32, 0.08, 0.43, 0.04, 0.04)
PASTE = Composition.mixed([(0.6, DRY_MIX), (0.4, WHOLE_EGG)])
# Wet enough for a law that knows of water and solids only.
WET = Composition(0.60, 0.20, 0.02, 0.16, 0.0, 0.02)


def polynomial(key: str, name: str, celsius: float) -> float:
    return float(PropsSI(key, "T", celsius + ICE_POINT, "P", ATMOSPHERE, f"INCOMP::{FLUIDS[name]}"))


def water_heat_capacity(celsius: float) -> float:
    region = iapws.iapws97._Region1(celsius + ICE_POINT, 0.101325)
    return float(1000.0 * region["cp"])


COMPONENTS = [
    pytest.param(
        "choi-okos-1986",
        f"{prop} of {name} at {celsius:g} C, by CoolProp",
        lambda n=name, t=celsius, p=prop: getattr(component(n, t + ICE_POINT), p),
        polynomial(key, name, celsius),
        1e-6,
        "the same polynomials",
        id=f"{name}-{prop}-{celsius:g}C",
    )
    for name in FLUIDS
    for prop, key in [("density", "D"), ("heat_capacity", "C"), ("conductivity", "L")]
    for celsius in (20.0, 60.0, 100.0)
    # CoolProp carries the other constant for the heat capacity of water: see the next rows.
    if (name, prop) != ("water", "heat_capacity")
]

WATER = [
    *(
        pytest.param(
            "iapws-if97",
            "heat capacity of liquid water, by iapws",
            lambda t=celsius: component("water", t + ICE_POINT).heat_capacity,
            water_heat_capacity(celsius),
            2.5e-3,
            "the polynomial with 4.1762 meets the steam tables within 0.2 %",
            id=f"water-heat-capacity-{celsius:g}C",
        )
        for celsius in (20.0, 60.0, 95.0)
    ),
    pytest.param(
        "iapws-95",
        "density of liquid water at 20 C, by CoolProp",
        lambda: component("water", 293.15).density,
        PropsSI("D", "T", 293.15, "P", ATMOSPHERE, "Water"),
        3e-3,
        "known to run 0.25 % low: the miss is the source's and is told in the docstring",
        id="water-density",
    ),
    pytest.param(
        "iapws-r15-11",
        "conductivity of liquid water at 60 C, by CoolProp",
        lambda: component("water", 333.15).conductivity,
        PropsSI("L", "T", 333.15, "P", ATMOSPHERE, "Water"),
        1e-2,
        "the polynomial is a fit to older tables, good to 1 %",
        id="water-conductivity",
    ),
]

WHOLES = [
    pytest.param(
        "usda-fdc",
        "record 171287: a cup of raw whole egg, 243 g in 236.588 ml",
        lambda: density(WHOLE_EGG, 293.15),
        1027.1,
        5e-3,
        "the cup's mass is printed to a whole gram, and a cup is filled to no better",
        id="egg-density",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "density of yolk at 20 C, 1037.3 - 0.1386 t - 0.0023 t2",
        lambda: density(EGG_YOLK, 293.15),
        1033.6,
        1e-2,
        "a fit to yolks of another composition",
        id="yolk-density",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "heat capacity of albumen, 3800 J/kg/K",
        lambda: heat_capacity(EGG_WHITE, 323.15),
        3800.0,
        5e-2,
        "one rounded constant for all temperatures, 3 % under what its water alone would carry",
        id="albumen-heat-capacity",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "heat capacity of yolk, 3120 J/kg/K",
        lambda: heat_capacity(EGG_YOLK, 323.15),
        3120.0,
        5e-2,
        "one rounded constant for all temperatures",
        id="yolk-heat-capacity",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "conductivity of albumen at 50 C, 0.5125 + 0.0013 t",
        lambda: conductivity(EGG_WHITE, 323.15),
        0.5775,
        5e-2,
        "an independent fit; the arrangement of the solids is not known",
        id="albumen-conductivity",
    ),
    pytest.param(
        "di-lorenzo-2025",
        "conductivity of yolk at 50 C, 0.395 + 0.0008 t",
        lambda: conductivity(EGG_YOLK, 323.15),
        0.435,
        8e-2,
        "an independent fit; fat droplets in a yolk are not spread as the model has them",
        id="yolk-conductivity",
    ),
    pytest.param(
        "earle-1983",
        "app. 7: k = 0.55 p + 0.26 (1 - p) with p = 0.6",
        lambda: conductivity(WET, 293.15),
        0.434,
        6e-2,
        "the source calls its own line a considerable simplification",
        id="quick-conductivity",
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "rel", "why"), [*COMPONENTS, *WATER, *WHOLES]
)
def test_food(
    source: str, locator: str, got: Callable[[], float], expected: float, rel: float, why: str
) -> None:
    assert got() == pytest.approx(expected, rel=rel), f"{source}, {locator}: {why}"


@pytest.mark.published
def test_the_other_constant_for_the_heat_capacity_of_water_is_worse() -> None:
    """Why we leave the handbook copy: iapws-if97 by iapws at 20 C sides with 4.1762."""
    truth = water_heat_capacity(20.0)
    ours = component("water", 293.15).heat_capacity
    theirs = polynomial("C", "water", 20.0)
    assert theirs == pytest.approx(ours - 47.3, abs=0.01)
    assert abs(ours - truth) < 0.25 * abs(theirs - truth)


@pytest.mark.published
def test_the_quick_formula_reads_lower() -> None:
    """singh-heldman's worked example prints 2140 J/kg/K: a miss of 9 %, and not ours to close.

    The quick formula gives protein, fat, starch and ash 1549, 1675, 1424 and 837 J/kg/K;
    choi-okos-1986, a later fit to more measurements, gives 2032, 2012, 1586 and 1129 at 20 C. Only
    water agrees. Which is nearer for a paste is not known: it moves a computed boil by up to 9 %.
    """
    assert heat_capacity(EXAMPLE, 293.15) / 2140.0 == pytest.approx(1.095, abs=0.01)
    quick = 4187.0 * 0.25 + 1549.0 * 0.20 + 1675.0 * 0.10 + 1424.0 * 0.40 + 837.0 * 0.05
    assert quick == pytest.approx(2140.0, rel=3e-3)


@pytest.mark.published
def test_the_older_quick_formula_reads_lower_too() -> None:
    """quick-heat-capacity-page: 4.180 w + 1.547 p + 1.672 f + 1.42 c + 0.836 a, in kJ/kg/K.

    The same example gives 2131 J/kg/K, as near to the other quick formula as their digits allow,
    and ours stands 10 % above both for the reason told there.
    """
    quick = 4180.0 * 0.25 + 1547.0 * 0.20 + 1672.0 * 0.10 + 1420.0 * 0.40 + 836.0 * 0.05
    assert quick == pytest.approx(2131.0, abs=0.5)
    assert heat_capacity(EXAMPLE, 293.15) / quick == pytest.approx(1.099, abs=0.01)


@pytest.mark.published
def test_water_and_the_rest() -> None:
    """earle-1983, app. 7: c = 4.19 p + 0.84 (1 - p) kJ/kg/K, k = 0.55 p + 0.26 (1 - p) W/m/K.

    Of a paste with 36 % water the conductivities agree within 5 %, the source's own digits and
    its "considerable" simplification; the heat capacities do not: ours is 30 % higher. The line
    gives everything that is not water the 840 J/kg/K of minerals, while protein, fat and starch
    have 1550 to 2030 by every other source. Ours must keep above the line by that and no more.
    """
    water = float(PASTE.water)
    assert conductivity(PASTE, 293.15) == pytest.approx(0.55 * water + 0.26 * (1 - water), rel=0.05)
    missing = heat_capacity(PASTE, 293.15) - (4190.0 * water + 840.0 * (1.0 - water))
    assert 1400.0 - 840.0 < missing / (1.0 - water) < 2030.0 - 840.0


@pytest.mark.published
def test_unleavened_dough() -> None:
    """budzaki-seruga-2015, abstract: k down to 0.29 +- 0.04 W/m/K, c 1.4 to 4.0 kJ/kg/K.

    The doughs differ from our paste, so its figures must lie in the measured span: k at the
    temperature of their least (124 C) above it less its deviation, c between both ends.
    """
    hot = conductivity(PASTE, 124.0 + ICE_POINT, air_fraction=0.05)
    assert 0.25 < hot < 0.55
    assert 1400.0 < heat_capacity(PASTE, 293.15) < heat_capacity(PASTE, 333.15) < 4000.0


@pytest.mark.published
def test_bread_is_out_of_scope() -> None:
    """zanoni-1995: crumb with porosity e in percent has alpha = exp(0.01 e - 15.25) m2/s.

    Carried to no pores it gives 2.4e-7, twice ours, and it grows with pores while ours falls:
    in open crumb water boils at one wall of a pore and condenses at the other. A dense paste
    under boiling water does not, so this is a miss that is not ours to close. Were it ours, a
    bait would be done in half the time.
    """

    def ours(air: float) -> float:
        stored = density(PASTE, 333.15, air_fraction=air) * heat_capacity(PASTE, 333.15)
        return float(conductivity(PASTE, 333.15, air_fraction=air) / stored)

    assert math.exp(-15.25) / ours(0.0) == pytest.approx(1.93, abs=0.05)
    assert ours(0.2) < ours(0.0)
