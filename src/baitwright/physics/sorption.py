"""How water content and water activity of a moist solid belong together, and what solutes do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baitwright.physics.constants import CELSIUS_ZERO, MOLAR_MASS
from baitwright.physics.limits import Array, Values, within

# Above this activity an isotherm fitted to powders means little: what counts there is how much
# water dilutes the dissolved matter.
SOLUTION_FROM = 0.97
# Ideal dilution has a power of 1; a steeper start than this would reach 1 in the next decimals.
STEEPEST_DILUTION = 5.0


@dataclass(frozen=True, slots=True)
class Gab:
    """Parameters of the Guggenheim-Anderson-de Boer isotherm.

    Parameters
    ----------
    monolayer: water bound in the first layer over dry matter, 0.001 to 0.3 [kg/kg]
    surface: energy constant of the first layer (C), 0.1 to 1000 [1]
    multilayer: energy constant of the further layers (K), 0.3 to 0.995 [1]

    Raises
    ------
    RangeError: a value outside these limits.
    """

    monolayer: Values
    surface: Values
    multilayer: Values

    def __post_init__(self) -> None:
        within("gab.monolayer", self.monolayer, low=1e-3, high=0.3, unit="kg/kg")
        within("gab.surface", self.surface, low=0.1, high=1000.0)
        within("gab.multilayer", self.multilayer, low=0.3, high=0.995)


# judgement: the monolayer lies between egg powder (0.043) and dried fish (0.049); the multilayer
# constant gives a third of water an activity of 0.965. Plausible: 0.04 to 0.065, 5 to 20,
# 0.90 to 0.97.
JUDGED = Gab(monolayer=0.045, surface=10.0, multilayer=0.95)


@dataclass(frozen=True, slots=True)
class Solute:
    """What a dissolved substance does to the activity of water.

    Parameters
    ----------
    molar_mass: molar mass of the substance [kg/mol]
    norrish: constant of the Norrish equation, negative [1]
    particles: particles that one molecule falls into [1]
    solubility: most that water takes up, infinite if it mixes freely [kg/kg]
    """

    molar_mass: float
    norrish: float
    particles: float = 1.0
    solubility: float = np.inf


PROPYLENE_GLYCOL = Solute(0.07609, -1.0)
GLYCEROL = Solute(0.09209, -1.16)
SUCROSE = Solute(0.34230, -6.47, solubility=2.08)
# Norrish did not write for salts: with both ions counted, -2 meets robinson-stokes within 0.013 up
# to saturation.
SALT = Solute(0.05844, -2.0, particles=2.0, solubility=0.36)


def gab(activity: Values, parameters: Gab = JUDGED) -> Values:
    """Water content in balance with a water activity, by the GAB isotherm.

    Parameters
    ----------
    activity: water activity, 0 to 1 [1]
    parameters: parameters of the isotherm [record]

    Returns
    -------
    Water over dry matter [kg/kg]

    Raises
    ------
    RangeError: activity outside these limits.

    Notes
    -----
    X = Xm C K a / ((1 - K a)(1 - K a + C K a)).

    Reference: gab-1966, isotherm; judgement for ``JUDGED``.
    """
    water = within("water_activity", activity, low=0.0, high=1.0)
    scaled = parameters.multilayer * water
    free = 1.0 - scaled
    above = parameters.monolayer * parameters.surface * scaled
    return above / (free * (free + parameters.surface * scaled))


def gab_inverse(moisture: Values, parameters: Gab = JUDGED) -> Values:
    """Water activity at which the GAB isotherm holds a water content.

    Parameters
    ----------
    moisture: water over dry matter, 0 to 10 [kg/kg]
    parameters: parameters of the isotherm [record]

    Returns
    -------
    Water activity; above 1 where the isotherm cannot hold so much water [1]

    Raises
    ------
    RangeError: moisture outside these limits.

    Notes
    -----
    The physical root of X (1 - K a)(1 - K a + C K a) = Xm C K a, taken in the form that neither
    cancels nor divides by zero at C = 1, where the equation is linear.

    Reference: gab-1966, isotherm.
    """
    water = within("moisture", moisture, low=0.0, high=10.0, unit="kg/kg")
    # With y = K a: (1 - C) X y^2 - b y + X = 0 and b = Xm C - (C - 2) X.
    b = parameters.monolayer * parameters.surface - (parameters.surface - 2.0) * water
    quadratic = (1.0 - parameters.surface) * water
    root = np.sqrt(b**2 - 4.0 * quadratic * water)
    falling = b < 0.0
    scaled = np.where(
        falling,
        (b - root) / np.where(falling, 2.0 * quadratic, 1.0),
        2.0 * water / np.where(falling, 1.0, b + root),
    )
    return scaled / parameters.multilayer


def water_activity(moisture: Values, parameters: Gab = JUDGED) -> Values:
    """Water activity of a moist solid at any water content, always below 1.

    Parameters
    ----------
    moisture: water over dry matter, 0 to 5 [kg/kg]
    parameters: parameters of the isotherm for its drier part [record]

    Returns
    -------
    Water activity, 0 to below 1, rising with moisture [1]

    Raises
    ------
    RangeError: moisture outside these limits.

    Notes
    -----
    GAB up to an activity of ``SOLUTION_FROM``. From there, where GAB would soon pass 1, a dilution
    branch 1 - a = (1 - a1)(X1 / X)^p, with p such that the slope carries on without a kink: 2 to 5
    for a multilayer constant of 0.90 to 0.97. Isotherms of dry powders with a lower one end too
    early for a moist solid; they are held to p = 5 and read too high above the joint.

    Reference: judgement for the parameters and the joint; gab-1966 below it.
    """
    water = within("moisture", moisture, low=0.0, high=5.0, unit="kg/kg")
    joint = np.asarray(gab(SOLUTION_FROM, parameters))
    diluted = np.maximum(water, joint) / joint
    solution = 1.0 - (1.0 - SOLUTION_FROM) * diluted ** -_dilution_power(parameters)
    return np.where(water > joint, solution, gab_inverse(np.minimum(water, joint), parameters))


def equilibrium_moisture(activity: Values, parameters: Gab = JUDGED) -> Values:
    """Water content in balance with a water activity: the inverse of ``water_activity``.

    Parameters
    ----------
    activity: water activity, 0 to 0.9999 [1]
    parameters: parameters of the isotherm for its drier part [record]

    Returns
    -------
    Water over dry matter [kg/kg]

    Raises
    ------
    RangeError: activity outside these limits.

    Reference: judgement for the parameters and the joint; gab-1966 below it.
    """
    water = within("water_activity", activity, low=0.0, high=0.9999)
    joint = np.asarray(gab(SOLUTION_FROM, parameters))
    left = (1.0 - SOLUTION_FROM) / (1.0 - np.maximum(water, SOLUTION_FROM))
    solution = joint * left ** (1.0 / _dilution_power(parameters))
    return np.where(
        water > SOLUTION_FROM, solution, gab(np.minimum(water, SOLUTION_FROM), parameters)
    )


def oswin(activity: Values, *, scale: Values, exponent: Values) -> Values:
    """Water content in balance with a water activity, by the Oswin isotherm.

    Parameters
    ----------
    activity: water activity, 0 to 0.99 [1]
    scale: water content at an activity of one half [kg/kg]
    exponent: power of the odds of the activity [1]

    Returns
    -------
    Water over dry matter [kg/kg]

    Raises
    ------
    RangeError: activity outside these limits.

    Notes
    -----
    X = k (a / (1 - a))^n.

    Reference: heldman-lund-2007, ch. 10, eq. 9.
    """
    water = within("water_activity", activity, low=0.0, high=0.99)
    held: Array = scale * (water / (1.0 - water)) ** np.asarray(exponent)
    return held


def oswin_inverse(moisture: Values, *, scale: Values, exponent: Values) -> Values:
    """Water activity at which the Oswin isotherm holds a water content.

    Parameters
    ----------
    moisture: water over dry matter, 0 to 10 [kg/kg]
    scale: water content at an activity of one half [kg/kg]
    exponent: power of the odds of the activity [1]

    Returns
    -------
    Water activity [1]

    Raises
    ------
    RangeError: moisture outside these limits.

    Reference: heldman-lund-2007, ch. 10, eq. 9.
    """
    water = within("moisture", moisture, low=0.0, high=10.0, unit="kg/kg")
    odds = (water / scale) ** (1.0 / np.asarray(exponent))
    return odds / (1.0 + odds)


def chung_pfost(
    activity: Values, temperature: Values, *, a: Values, b: Values, c: Values
) -> Values:
    """Water content of grain in balance with air, by the modified Chung-Pfost isotherm.

    Parameters
    ----------
    activity: water activity or relative humidity, 0.1 to 0.95 [1]
    temperature: grain temperature, 273.15 to 333.15 [K]
    a: first constant of the grain, as printed for Celsius [K]
    b: second constant of the grain, as printed for percent [1]
    c: third constant of the grain, as printed for Celsius [K]

    Returns
    -------
    Water over dry matter [kg/kg]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    a_w = exp(-A / (t + C) exp(-100 B X)), t = T - 273.15 K.

    Reference: asae-d245.
    """
    water = within("water_activity", activity, low=0.1, high=0.95)
    celsius = within("temperature", temperature, low=273.15, high=333.15, unit="K") - CELSIUS_ZERO
    return -np.log(-(celsius + c) * np.log(water) / a) / (100.0 * b)


def henderson(activity: Values, temperature: Values, *, k: Values, n: Values, c: Values) -> Values:
    """Water content of grain in balance with air, by the modified Henderson isotherm.

    Parameters
    ----------
    activity: water activity or relative humidity, 0 to 0.95 [1]
    temperature: grain temperature, 273.15 to 333.15 [K]
    k: first constant of the grain, as printed for Celsius and percent [1/K]
    n: power of the water content [1]
    c: third constant of the grain, as printed for Celsius [K]

    Returns
    -------
    Water over dry matter [kg/kg]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    1 - a_w = exp(-K (t + C) (100 X)^N), t = T - 273.15 K.

    Reference: asae-d245.
    """
    water = within("water_activity", activity, low=0.0, high=0.95)
    celsius = within("temperature", temperature, low=273.15, high=333.15, unit="K") - CELSIUS_ZERO
    return (-np.log1p(-water) / (k * (celsius + c))) ** (1.0 / np.asarray(n)) / 100.0


def norrish(ratio: Values, solute: Solute) -> Values:
    """Water activity of a solution of one substance.

    Parameters
    ----------
    ratio: mass of the substance per mass of water, 0 to 10 [kg/kg]
    solute: the substance [record]

    Returns
    -------
    Water activity; what exceeds the solubility lies as crystals and changes nothing [1]

    Raises
    ------
    RangeError: ratio outside these limits.

    Notes
    -----
    a = x_w exp(K x_s^2), mole fractions x, with every particle of a dissolved molecule counted.

    Reference: norrish-1966; baez-2010 for glycerol, chirife-1980 for the other constants.
    """
    mixed = within("solute.ratio", ratio, low=0.0, high=10.0, unit="kg/kg")
    amount = solute.particles * np.minimum(mixed, solute.solubility) / solute.molar_mass
    share = amount / (amount + 1.0 / MOLAR_MASS)
    return (1.0 - share) * np.exp(solute.norrish * share**2)


def humectant_factor(parts: Sequence[tuple[Solute, Values]]) -> Values:
    """Factor by which substances dissolved in its water lower a solid's water activity.

    Parameters
    ----------
    parts: each substance with its mass per mass of water [kg/kg]

    Returns
    -------
    Product of the activities that each would give by itself, 1 with none [1]

    Raises
    ------
    RangeError: a ratio outside 0 to 10 kg/kg.

    Notes
    -----
    a = a_solid prod(a_i): what the substances do to each other is neglected.

    Reference: ross-1975.
    """
    factor: Array = np.ones(())
    for solute, ratio in parts:
        factor = factor * norrish(ratio, solute)
    return factor


def _dilution_power(parameters: Gab) -> Array:
    """Power with which the dilution branch takes over the slope of the isotherm at the joint."""
    k, c = np.asarray(parameters.multilayer), np.asarray(parameters.surface)
    rise = (
        1.0 / SOLUTION_FROM
        + k / (1.0 - k * SOLUTION_FROM)
        - k * (c - 1.0) / (1.0 + k * (c - 1.0) * SOLUTION_FROM)
    )
    power: Array = np.minimum(1.0 / (rise * (1.0 - SOLUTION_FROM)), STEEPEST_DILUTION)
    return power
