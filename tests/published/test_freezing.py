"""Freezing against tables of ice, measured brines and a textbook's worked example."""

from __future__ import annotations

from collections.abc import Callable

import iapws
import pytest
from CoolProp.CoolProp import PropsSI

from baitwright.physics.freezing import FreezingBody, freezing_point, ice_water_activity, plank_time
from baitwright.physics.sorption import GLYCEROL, norrish
from baitwright.physics.water import saturation_pressure

ICE_POINT = 273.15
# Sphere of 70 mm, singh-heldman's worked example of Plank's equation.
BALL = FreezingBody(
    density=1000.0, latent_heat=250e3, conductivity=1.2, freezing_point=ICE_POINT - 1.25
)


def hours(coefficient: float) -> float:
    seconds = plank_time(0.07, BALL, air_temperature=233.15, coefficient=coefficient)
    return float(seconds) / 3600.0


ICE = [
    *(
        pytest.param(
            "fennema",
            f"table of water activity over ice at {celsius:g} C",
            lambda t=celsius: ice_water_activity(t + ICE_POINT),
            printed,
            1.5e-3,
            "three digits are printed",
            id=f"ice-{celsius:g}C",
        )
        for celsius, printed in [(-5.0, 0.953), (-10.0, 0.907), (-15.0, 0.864)]
    ),
    *(
        pytest.param(
            "iapws-r14-08",
            "sublimation line by iapws, over the liquid's line carried on below freezing",
            lambda t=celsius: ice_water_activity(t + ICE_POINT),
            1e6
            * iapws._Sublimation_Pressure(celsius + ICE_POINT)
            / float(saturation_pressure(celsius + ICE_POINT)),
            5e-4,
            "two formulations of supercooled water differ by 0.04 % at -20 C",
            id=f"ice-{celsius:g}C-other-formulation",
        )
        for celsius in (-1.0, -5.0, -18.0)
    ),
    pytest.param(
        "murphy-koop-2005",
        "app. C: 27.272 Pa over ice and 37.667 Pa over liquid at 240 K",
        lambda: ice_water_activity(240.0),
        27.272 / 37.667,
        3e-5,
        "five digits are printed",
        id="ice-240K",
    ),
]

DEPRESSION = [
    pytest.param(
        "cryoscopic-constant",
        "1.86 K kg/mol: a tenth of a mole in a kilogram of water",
        lambda: freezing_point(1.0 / (1.0 + 0.1 * 0.018015)) - ICE_POINT,
        -0.186,
        2e-3,
        "three digits are printed",
        id="tenth-molal",
    ),
    *(
        pytest.param(
            "melinder-2010",
            f"freezing point of glycerol in water at {share:g} kg/kg, by CoolProp",
            lambda w=share: freezing_point(norrish(w / (1.0 - w), GLYCEROL)) - ICE_POINT,
            PropsSI("T_freeze", "T", 300.0, "P", 101_325.0, f"INCOMP::MGL[{share:g}]") - ICE_POINT,
            0.4,
            "a constant heat of fusion and an activity for room temperature, 3 % each",
            id=f"glycerol-{share:g}",
        )
        for share in (0.05, 0.10, 0.15)
    ),
]

PLANK = [
    pytest.param(
        "singh-heldman",
        f"sphere of 7 cm at -40 C with h {coefficient:g} W/m2/K",
        lambda h=coefficient: hours(h),
        printed,
        0.005,
        "two to three digits are printed",
        id=f"plank-{coefficient:g}",
    )
    for coefficient, printed in [(50.0, 0.72), (30.0, 1.00)]
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "tolerance", "why"), [*ICE, *DEPRESSION, *PLANK]
)
def test_freezing(
    source: str, locator: str, got: Callable[[], float], expected: float, tolerance: float, why: str
) -> None:
    assert got() == pytest.approx(expected, abs=tolerance), f"{source}, {locator}: {why}"
