"""Water against verification tables, standards and reference programs."""

from __future__ import annotations

import math
from collections.abc import Callable

import gsw
import iapws.iapws97
import pytest
from chemicals.vapor_pressure import Psat_data_Perrys2_8
from CoolProp.CoolProp import PropsSI

from baitwright.physics import water
from tests.published.moist_air import psychrolib

ICE_POINT = 273.15
ATMOSPHERE = 101_325.0


def kelvin_1990(celsius_1968: float) -> float:
    return celsius_1968 / 1.00024 + ICE_POINT


def reference_salinity(practical: float) -> float:
    return practical * 35.16504 / 35.0 / 1000.0


def evaporation_heat(celsius: float) -> float:
    gas, liquid = (PropsSI("H", "T", celsius + ICE_POINT, "Q", q, "Water") for q in (1, 0))
    return float(gas - liquid)


def boiling_at(altitude: float) -> float:
    return float(water.saturation_temperature(water.standard_pressure(altitude))) - ICE_POINT


SATURATION = [
    *(
        pytest.param(
            "iapws-if97",
            "table 35",
            lambda t=kelvin: water.saturation_pressure(t),
            pascal,
            2e-9,
            "nine digits are printed",
            id=f"pressure-{kelvin:g}K",
        )
        for kelvin, pascal in [(300.0, 3536.58941), (500.0, 2.63889776e6), (600.0, 12.3443146e6)]
    ),
    *(
        pytest.param(
            "iapws-if97",
            "table 36",
            lambda p=pascal: water.saturation_temperature(p),
            kelvin,
            2e-9,
            "nine digits are printed",
            id=f"boiling-{pascal:g}Pa",
        )
        for pascal, kelvin in [(1e5, 372.755919), (1e6, 453.035632), (1e7, 584.149488)]
    ),
    *(
        pytest.param(
            "iapws-95",
            "saturation line, by CoolProp",
            lambda t=celsius: water.saturation_pressure(t + ICE_POINT),
            PropsSI("P", "T", celsius + ICE_POINT, "Q", 0, "Water"),
            2.5e-4,
            "the industrial formulation claims 0.025 % for this line",
            id=f"pressure-{celsius:g}C",
        )
        for celsius in (5.0, 20.0, 60.0)
    ),
    *(
        pytest.param(
            "ashrae-fundamentals",
            "ch. 1, eq. 5 over ice by psychrolib; ratio of ice to water from fennema",
            lambda t=celsius: (
                psychrolib.GetSatVapPres(t) / water.saturation_pressure(t + ICE_POINT)
            ),
            ratio,
            1.5e-3,
            "the ratio is printed with three digits",
            id=f"supercooled-{celsius:g}C",
        )
        for celsius, ratio in [(-5.0, 0.953), (-10.0, 0.907), (-15.0, 0.864)]
    ),
]

DENSITY = [
    *(
        pytest.param(
            "tanaka-2001",
            "table of densities",
            lambda t=celsius: water.density(t + ICE_POINT),
            printed,
            6e-8,
            "four decimals are printed",
            id=f"fresh-{celsius:g}C",
        )
        for celsius, printed in [
            (4.0, 999.9749),
            (15.0, 999.1026),
            (20.0, 998.2067),
            (25.0, 997.047),
        ]
    ),
    *(
        pytest.param(
            "iapws-95",
            "density at one atmosphere, by CoolProp",
            lambda t=celsius: water.density(t + ICE_POINT),
            PropsSI("D", "T", celsius + ICE_POINT, "P", ATMOSPHERE, "Water"),
            1.8e-6,
            "the two sources claim 0.8e-6 and 1e-6",
            id=f"fresh-{celsius:g}C-fundamental",
        )
        for celsius in (0.1, 10.0, 30.0, 40.0)
    ),
    *(
        pytest.param(
            "unesco-44",
            "check values at one atmosphere",
            lambda s=salt, t=celsius: water.density(kelvin_1990(t), salinity=reference_salinity(s)),
            printed,
            1e-6,
            "our fresh part is Tanaka's, which differs from this source's by up to 0.7e-6",
            id=f"salt-{salt:g}-{celsius:g}C",
        )
        for salt, celsius, printed in [
            (0.0, 5.0, 999.96675),
            (0.0, 25.0, 997.04796),
            (35.0, 5.0, 1027.67547),
            (35.0, 25.0, 1023.34306),
        ]
    ),
    *(
        pytest.param(
            "teos-10",
            "rho_t_exact, by gsw",
            lambda s=salt, t=celsius: water.density(t + ICE_POINT, salinity=s),
            gsw.rho_t_exact(1000.0 * salt, celsius, 0.0),
            2e-5,
            "the older and the newer equation of sea water differ by about 1e-5",
            id=f"salt-{salt:g}-{celsius:g}C-newer",
        )
        for salt, celsius in [(0.005, 10.0), (0.035, 20.0)]
    ),
]

HEAT_AND_FLOW = [
    *(
        pytest.param(
            "iapws-r12-08",
            "viscosity at one atmosphere, by CoolProp",
            lambda t=celsius: water.viscosity(t + ICE_POINT),
            PropsSI("V", "T", celsius + ICE_POINT, "P", ATMOSPHERE, "Water"),
            2e-4,
            "the short equation was fitted to the full one; it claims 1 % of the truth",
            id=f"viscosity-{celsius:g}C",
        )
        for celsius in (0.1, 5.0, 20.0, 60.0, 99.0)
    ),
    pytest.param(
        "iso-tr-3666",
        "viscosity of water at 20 C",
        lambda: water.viscosity(293.15),
        1.0016e-3,
        1.7e-3,
        "its stated uncertainty",
        id="viscosity-calibration",
    ),
    *(
        pytest.param(
            "iapws-95",
            "enthalpy of evaporation, by CoolProp",
            lambda t=celsius: water.latent_heat(t + ICE_POINT),
            evaporation_heat(celsius),
            3e-4,
            "our source claims 0.03 %",
            id=f"latent-heat-{celsius:g}C",
        )
        for celsius in (0.1, 20.0, 60.0, 99.9)
    ),
    *(
        pytest.param(
            "iapws-if97",
            "isobaric heat capacity, by iapws",
            lambda: water.HEAT_CAPACITY,
            1000.0 * iapws.iapws97._Region1(celsius + ICE_POINT, 0.101325)["cp"],
            7e-3,
            "4178 to 4217 J/kg/K from 0 to 100 C, and ours is one constant",
            id=f"heat-capacity-{celsius:g}C",
        )
        for celsius in (0.0, 20.0, 60.0, 99.0)
    ),
]

MOUNTAIN = [
    *(
        pytest.param(
            "icao-7488",
            "pressure by geopotential altitude",
            lambda h=altitude: water.standard_pressure(h),
            100.0 * hectopascal,
            7e-6,
            "two decimals of a hectopascal are printed",
            id=f"pressure-{altitude:g}m",
        )
        for altitude, hectopascal in [(500.0, 954.61), (1000.0, 898.75), (2000.0, 794.95)]
    ),
    *(
        pytest.param(
            "boiling-point-page",
            "pressure method of a public calculator",
            lambda h=altitude: boiling_at(h),
            celsius,
            6e-4,
            "it uses Antoine's equation, which reads 0.05 K above the steam tables here",
            id=f"boiling-{altitude:g}m",
        )
        for altitude, celsius in [(1000.0, 96.68), (2000.0, 93.36)]
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(
    ("source", "locator", "got", "expected", "rel", "why"),
    [*SATURATION, *DENSITY, *HEAT_AND_FLOW, *MOUNTAIN],
)
def test_water(
    source: str, locator: str, got: Callable[[], float], expected: float, rel: float, why: str
) -> None:
    assert got() == pytest.approx(expected, rel=rel), f"{source}, {locator}: {why}"


@pytest.mark.published
@pytest.mark.parametrize("celsius", [5.0, 25.0, 60.0, 100.0])
def test_vapour_pressure_of_a_handbook(celsius: float) -> None:
    """perry-2008, table 2-8, by the package chemicals: ln p = C1 + C2/T + C3 ln T + C4 T^C5.

    One fit with five digits from the triple to the critical point: at 100 C it is 0.16 % below
    the steam tables, so 0.2 % is allowed.
    """
    row, kelvin = Psat_data_Perrys2_8.loc["7732-18-5"], celsius + ICE_POINT
    exponent = row["C1"] + row["C2"] / kelvin + row["C3"] * math.log(kelvin)
    handbook = math.exp(exponent + row["C4"] * kelvin ** row["C5"])
    assert water.saturation_pressure(kelvin) == pytest.approx(handbook, rel=2e-3)
