"""How far heat reduces bacteria in wet egg: information beside a cook, never a promise."""

from __future__ import annotations

import numpy as np

from baitwright.physics.constants import CELSIUS_ZERO
from baitwright.physics.limits import Array, Values, within
from baitwright.physics.protein_set import running_integral

# The line rests on data up to some 65 C; carried on to 75 C and above it would promise thousands
# of decades a minute. From 70 C on the time is therefore held at its value there.
RESISTANCE_CAP = 343.15  # K


def decimal_reduction_time(temperature: Values) -> Values:
    """Time in which heat leaves one in ten Salmonella alive in wet egg.

    Parameters
    ----------
    temperature: temperature of the coldest point, 253.15 to 423.15 [K]

    Returns
    -------
    Decimal reduction time; above 343.15 K it stays at its value there, 2.08 s [s]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    log10(D / min) = 11.7 - 0.188 t in Celsius: a line above all values its authors collected, one
    heat-resistant serovar left out. For wet egg, not for dry dust on a surface. Below 55 C it is
    carried on, where it adds next to nothing.

    Reference: doyle-mazzotta-2000.
    """
    kelvin = within("temperature", temperature, low=253.15, high=423.15, unit="K")
    celsius = np.minimum(kelvin, RESISTANCE_CAP) - CELSIUS_ZERO
    time: Array = 60.0 * 10.0 ** (11.7 - 0.188 * celsius)
    return time


def log_reduction(times: Array, temperatures: Array) -> Array:
    """Decades by which Salmonella in wet egg fall along a temperature history.

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    temperatures: temperature at each instant, shape (t,) or (t, ...) [K]

    Returns
    -------
    Running reduction in powers of ten at each instant, shaped as the temperatures [1]

    Raises
    ------
    InputError: times that do not increase, or as many temperatures as do not fit.
    RangeError: a temperature outside 253.15 to 423.15 K.

    Notes
    -----
    Integral of dt / D(T), by the trapezoid rule; take steps of half a second or less.

    Reference: doyle-mazzotta-2000 for D.
    """
    return running_integral(times, 1.0 / np.asarray(decimal_reduction_time(temperatures)))


def spore_time(times: Array, temperatures: Array) -> Array:
    """Time at 363.15 K that would do to spores what a temperature history does.

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    temperatures: temperature at each instant, shape (t,) or (t, ...) [K]

    Returns
    -------
    Running equivalent time at each instant, shaped as the temperatures [s]

    Raises
    ------
    InputError: times that do not increase, or as many temperatures as do not fit.
    RangeError: a temperature outside 253.15 to 423.15 K.

    Notes
    -----
    Integral of 10^((T - 363.15) / z) dt with z = 9 K below 363.15 K and 10 K above: the time that
    is held against ten minutes for spores of non-proteolytic Clostridium botulinum. Lysozyme, as
    in egg white, lets damaged spores recover, so that ten minutes may then be too few
    (wachnicka-2016).

    Reference: fsa-vacuum-packing, table of time and temperature combinations.
    """
    kelvin = within("temperature", temperatures, low=253.15, high=423.15, unit="K")
    above = kelvin - 363.15
    return running_integral(times, 10.0 ** (above / np.where(above < 0.0, 9.0, 10.0)))


def equivalent_time(times: Array, temperatures: Array, *, reference: float, z: float) -> Array:
    """Time at one temperature that would do the same as a temperature history (the F value).

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    temperatures: temperature at each instant, shape (t,) or (t, ...) [K]
    reference: temperature that the time is given at, 273.15 to 423.15 [K]
    z: rise in temperature that makes the effect tenfold, 1 to 50 [K]

    Returns
    -------
    Running equivalent time at each instant, shaped as the temperatures [s]

    Raises
    ------
    InputError: times that do not increase, or as many temperatures as do not fit.
    RangeError: a temperature or z outside these limits.

    Notes
    -----
    F = integral of 10^((T - Tref) / z) dt, by the trapezoid rule, without a cap: keep within the
    temperatures that z was measured at.

    Reference: singh-heldman, ch. on preservation processes.
    """
    within("reference", reference, low=273.15, high=423.15, unit="K")
    within("z", z, low=1.0, high=50.0, unit="K")
    kelvin = within("temperature", temperatures, low=253.15, high=423.15, unit="K")
    return running_integral(times, 10.0 ** ((kelvin - reference) / z))
