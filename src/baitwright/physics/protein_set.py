"""How far heat has set egg and whey protein, and when a running quantity reaches a wanted value."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from baitwright.physics.constants import GAS_CONSTANT
from baitwright.physics.limits import Array, Values, within
from baitwright.terms.errors import InputError

# Time-temperature superposition was measured to break above some 75 C, and at 90 C the slower of
# the two proteins sets in under a second: beyond it a faster rate has no meaning and no effect.
RATE_CAP = 363.15  # K


def albumen_rate(temperature: Values) -> Values:
    """Rate at which unset egg white sets.

    Parameters
    ----------
    temperature: temperature of the protein, 253.15 to 423.15 [K]

    Returns
    -------
    First-order rate constant; above 363.15 K it stays at its value there [1/s]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    k = 4.85e60 exp(-418 500 / R T) with R = 8.314462618 J/mol/K (the rounded 8.314 shifts it by
    about 1 %). Made for whole eggs; in a drier body set comes later, by up to some 5 K.

    Reference: di-lorenzo-2025, albumen kinetics.
    """
    return _arrhenius(temperature, factor=4.85e60, activation=4.185e5)


def yolk_rate(temperature: Values) -> Values:
    """Rate at which unset egg yolk sets.

    Parameters
    ----------
    temperature: temperature of the protein, 253.15 to 423.15 [K]

    Returns
    -------
    First-order rate constant; above 363.15 K it stays at its value there [1/s]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    k = 2.72e50 exp(-344 300 / R T) with R = 8.314462618 J/mol/K.

    Reference: di-lorenzo-2025, yolk kinetics.
    """
    return _arrhenius(temperature, factor=2.72e50, activation=3.443e5)


def whey_rate(temperature: Values) -> Values:
    """Rate at which native whey protein unfolds and joins, of order 1.5; for information only.

    Parameters
    ----------
    temperature: temperature of the protein, 253.15 to 423.15 [K]

    Returns
    -------
    Rate constant of order 1.5 in the native share; above 363.15 K it stays at its value there [1/s]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    k = 2.06e-4 exp(-215 000 / R (1/T - 1/343.15)), fitted here to what was found native of
    beta-lactoglobulin in milk after 30 min at 62 to 82 C, which it meets within 0.03. The order,
    and that the slope flattens at 90 C, are dannenberg-kessler-1988. Pure solutions show a
    steeper slope (some 390 kJ/mol below 76 C), and a paste is neither.

    Reference: lyster-1970, native protein after 30 min; dannenberg-kessler-1988 for the order.
    """
    kelvin = within("temperature", temperature, low=253.15, high=423.15, unit="K")
    inverse = 1.0 / np.minimum(kelvin, RATE_CAP) - 1.0 / 343.15
    rate: Array = 2.06e-4 * np.exp(-2.15e5 / GAS_CONSTANT * inverse)
    return rate


def _arrhenius(temperature: Values, *, factor: float, activation: float) -> Array:
    kelvin = within("temperature", temperature, low=253.15, high=423.15, unit="K")
    rate: Array = factor * np.exp(-activation / (GAS_CONSTANT * np.minimum(kelvin, RATE_CAP)))
    return rate


def set_extent(
    times: Array, temperatures: Array, rate: Callable[[Array], Values], *, order: float = 1.0
) -> Array:
    """Share of the protein that has set, as it grows along a temperature history.

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    temperatures: temperature at each instant, shape (t,) or (t, ...) [K]
    rate: rate constant as a function of temperature, such as ``albumen_rate`` [1/s]
    order: order of the reaction in what has not set, 1 to 3 [1]

    Returns
    -------
    Extent from 0 to 1 at each instant, shaped as the temperatures [1]

    Raises
    ------
    InputError: times that do not increase, or as many temperatures as do not fit.
    RangeError: a temperature outside the limits of the rate, or the order outside its own.

    Notes
    -----
    X = 1 - exp(-I), I the integral of k dt by the trapezoid rule; of order n,
    X = 1 - (1 + (n - 1) I)^(-1/(n - 1)). The rate doubles in about 2 K: take steps in which the
    temperature moves by no more than that.

    Reference: di-lorenzo-2025, first-order model with X = 0 at the start.
    """
    within("order", order, low=1.0, high=3.0)
    driven = running_integral(times, np.asarray(rate(np.asarray(temperatures))))
    if order == 1.0:
        extent: Array = -np.expm1(-driven)
        return extent
    return np.asarray(1.0 - (1.0 + (order - 1.0) * driven) ** (-1.0 / (order - 1.0)))


def running_integral(times: Array, values: Array) -> Array:
    """Integral of a quantity from the first instant to each instant, by the trapezoid rule.

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    values: quantity at each instant, shape (t,) or (t, ...) [unit]

    Returns
    -------
    Running integral, zero at the first instant, shaped as the values [unit s]

    Raises
    ------
    InputError: times that do not increase, or as many values as do not fit.
    """
    instants, series = _checked(times, values)
    steps = np.diff(instants).reshape((-1,) + (1,) * (series.ndim - 1))
    running = np.zeros_like(series)
    np.cumsum(0.5 * steps * (series[1:] + series[:-1]), axis=0, out=running[1:])
    return running


def time_to_reach(times: Array, series: Array, target: Values) -> Array:
    """First instant at which a running quantity reaches a wanted value.

    Parameters
    ----------
    times: instants, increasing, shape (t,) [s]
    series: quantity at each instant, shape (t,) or (t, ...) [unit]
    target: wanted value, one number or one for each column of the series [unit]

    Returns
    -------
    Instant of the first crossing between the given instants, on a straight line; the first
    instant where the start is already there, NaN where the value is never reached [s]

    Raises
    ------
    InputError: times that do not increase, or as many values as do not fit.
    """
    instants, values = _checked(times, series)
    wanted = np.broadcast_to(np.asarray(target, dtype=np.float64), values.shape[1:])
    reached = values >= wanted
    after = np.argmax(reached, axis=0)
    before = np.maximum(after - 1, 0)
    high = np.take_along_axis(values, after[np.newaxis], axis=0)[0]
    low = np.take_along_axis(values, before[np.newaxis], axis=0)[0]
    rise = high - low
    share = np.where(rise > 0.0, (wanted - low) / np.where(rise > 0.0, rise, 1.0), 0.0)
    crossing = instants[before] + share * (instants[after] - instants[before])
    return np.where(reached.any(axis=0), crossing, np.nan)


def starch_extent(temperature: Values) -> Values:
    """Share of the starch that swells within minutes at a temperature; for information only.

    Parameters
    ----------
    temperature: temperature of the starch, 253.15 to 423.15 [K]

    Returns
    -------
    Extent from 0 to 1: 0.05 at 333.15 K, 0.95 at 368.15 K [1]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    With little water the range over which starch gelatinises widens to some 30 K; a logistic curve
    between 60 and 95 C stands for it. It decides nothing.

    Reference: judgement, from calorimetry abstracts on starch in limited water.
    """
    kelvin = within("temperature", temperature, low=253.15, high=423.15, unit="K")
    width = 17.5 / np.log(19.0)  # K, so that the ends stand at 5 and 95 %
    extent: Array = 1.0 / (1.0 + np.exp(-(kelvin - 350.65) / width))
    return extent


def _checked(times: Array, values: Array) -> tuple[Array, Array]:
    instants = np.asarray(times, dtype=np.float64)
    series = np.asarray(values, dtype=np.float64)
    if instants.ndim != 1 or not np.all(np.diff(instants) > 0.0):
        raise InputError("times", "a step back or none", "one row of instants that only increase")
    if series.ndim < 1 or series.shape[0] != instants.size or instants.size == 0:
        raise InputError("values", series.shape, f"one value for each of {instants.size} instants")
    return instants, series
