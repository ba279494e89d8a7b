"""Constants of nature and conventional values, in SI."""

from __future__ import annotations

CELSIUS_ZERO = 273.15  # K
STANDARD_GRAVITY = 9.80665  # m/s2
STANDARD_PRESSURE = 101_325.0  # Pa
GAS_CONSTANT = 8.314462618  # J/mol/K, exact since the SI of 2019
MOLAR_MASS = 0.018015268  # kg/mol
VAPOUR_GAS_CONSTANT = GAS_CONSTANT / MOLAR_MASS  # J/kg/K
