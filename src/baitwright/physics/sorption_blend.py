"""What a blend of dry matter holds: powders by their isotherms, then as a solution, and solutes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.sorption import Solute, norrish
from baitwright.terms.errors import InputError

Isotherm: TypeAlias = Callable[[Array], Values]

# Isotherms of powders are measured up to an activity of 0.8 or 0.9, and those that run on end
# below the moisture of a fresh paste.
POWDERS_TO = 0.8
MOST_ACTIVE = 0.9998  # where the table of a blend ends
_STRONGEST = 10.0  # kg of a solute to a kg of water, where Norrish's equation ends
_STEP = 1e-4  # of activity, for the slope at the joint


@dataclass(frozen=True, slots=True)
class Powder:
    """A powder's share of the dry matter, and how much water it holds.

    Parameters
    ----------
    share: of all dry matter, 0 to 1 [kg/kg]
    isotherm: water over its dry matter, from water activity [kg/kg]
    driest: activity below which the isotherm was not measured; a straight line to none there [1]
    """

    share: float
    isotherm: Isotherm
    driest: float = 0.0

    def moisture(self, activity: Array) -> Array:
        """Water its share holds at an activity within the reach of its isotherm.

        Parameters
        ----------
        activity: water activity [1]

        Returns
        -------
        Water over all dry matter [kg/kg]
        """
        measured = np.maximum(activity, self.driest)
        part = np.divide(activity, measured, out=np.ones_like(measured), where=measured > 0.0)
        return np.asarray(part * self.share * np.asarray(self.isotherm(measured)))


@dataclass(frozen=True, slots=True, eq=False)
class Blend:
    """A blend's isotherm, made by ``blend``.

    Its powders and its solutes with their shares of the dry matter; the activity up to which the
    powders' isotherms stand [1]; beyond it, the water that dissolves nothing and the strength of
    the solution that the rest is [kg/kg]; and the curve at many activities [1], water over dry
    matter [kg/kg].
    """

    powders: tuple[Powder, ...]
    solutes: tuple[tuple[float, Solute], ...]
    joint: float
    bound: float
    strength: float
    activities: Array
    moistures: Array

    def moisture(self, activity: Values) -> Array:
        """Water content in balance with a water activity.

        Parameters
        ----------
        activity: water activity, 0 to ``MOST_ACTIVE`` [1]

        Returns
        -------
        Water over dry matter [kg/kg]

        Raises
        ------
        RangeError: activity outside these limits.

        Notes
        -----
        X = sum(w_i X_i(a)) + sum(h_j / r_j(a)) with the powders' shares w_i and isotherms X_i, and
        the solutes' shares h_j in solutions as strong as r_j(a). Above the joint the powders' water
        is b + c a / (1 - a), Raoult's law for what of them dissolves, with b and c such that the
        curve has neither step nor kink.

        Reference: foster-2005, additive isotherms; norrish-1966; judgement for the joint.
        """
        active = within("water_activity", activity, low=0.0, high=MOST_ACTIVE)
        below = _added(self.powders, np.minimum(active, self.joint))
        above = self.bound + self.strength * active / (1.0 - active)
        held = np.where(active > self.joint, above, below)
        for share, solute in self.solutes:
            held = held + share * dilution(active, solute)
        return np.asarray(held)

    def water_activity(self, moisture: Values) -> Array:
        """Water activity at a water content: the inverse of ``moisture``, from the curve's points.

        Parameters
        ----------
        moisture: water over dry matter, 0 to the end of the curve [kg/kg]

        Returns
        -------
        Water activity, never falling with moisture and below 1 [1]

        Raises
        ------
        RangeError: moisture outside these limits.
        """
        end = float(self.moistures[-1])
        water = within("moisture", moisture, low=0.0, high=end, unit="kg/kg")
        return np.asarray(np.interp(water, self.moistures, self.activities))


def blend(
    powders: Sequence[Powder],
    solutes: Sequence[tuple[float, Solute]] = (),
    *,
    joint: float = POWDERS_TO,
) -> Blend:
    """The isotherm of dry powders and solutes stirred into one paste.

    Parameters
    ----------
    powders: with their shares of the dry matter; what holds no water is left out [record]
    solutes: shares of the dry matter, with the substances [kg/kg]
    joint: activity up to which the powders' isotherms stand, 0.5 to 0.99 [1]

    Returns
    -------
    The blend [record]

    Raises
    ------
    RangeError: a joint outside these limits, or shares that are negative or above 1 together.
    InputError: nothing in the blend holds water.
    """
    within("blend.joint", joint, low=0.5, high=0.99)
    shares = [*(powder.share for powder in powders), *(share for share, _ in solutes)]
    within("blend.share", np.array([*shares, sum(shares)]), low=0.0, high=1.0 + 1e-9)
    if not powders or not sum(powder.share for powder in powders) > 0.0:
        raise InputError("blend", "no powder", "at least one powder that holds water")
    before, at, after = _added(powders, joint + np.array([-_STEP, 0.0, _STEP]))
    strength = float((after - before) / (2.0 * _STEP)) * (1.0 - joint) ** 2
    made = Blend(
        powders=tuple(powders),
        solutes=tuple(solutes),
        joint=joint,
        bound=float(at) - strength * joint / (1.0 - joint),
        strength=strength,
        activities=np.zeros(1),
        moistures=np.zeros(1),
    )
    activities = _spread(joint, [saturation(solute) for _, solute in solutes])
    return replace(made, activities=activities, moistures=made.moisture(activities))


def dilution(activity: Values, solute: Solute) -> Array:
    """Water that a mass of solute takes up to reach a water activity.

    Parameters
    ----------
    activity: water activity, 0 to ``MOST_ACTIVE`` [1]
    solute: the substance [record]

    Returns
    -------
    Water over solute; none below the activity of its saturated solution [kg/kg]

    Raises
    ------
    RangeError: activity outside these limits.

    Notes
    -----
    The inverse of ``norrish`` by bisection. Below its strongest solution a straight line to none,
    for what never crystallizes.

    Reference: norrish-1966.
    """
    active = within("water_activity", activity, low=0.0, high=MOST_ACTIVE)
    strongest = min(_STRONGEST, solute.solubility)
    least = saturation(solute)
    low, high = np.full_like(active, 1e-6), np.full_like(active, strongest)
    for _ in range(50):
        middle = np.sqrt(low * high)
        weak = np.asarray(norrish(middle, solute)) > active
        low, high = np.where(weak, middle, low), np.where(weak, high, middle)
    crystals = np.isfinite(solute.solubility)
    few = np.zeros_like(active) if crystals else active / (least * strongest)
    return np.asarray(np.where(active < least, few, 1.0 / np.sqrt(low * high)))


def saturation(solute: Solute) -> float:
    """Water activity of a solute's strongest solution [1]."""
    return float(norrish(min(_STRONGEST, solute.solubility), solute))


def _added(powders: Sequence[Powder], activity: Array) -> Array:
    held: Array = np.zeros_like(activity)
    for powder in powders:
        held = held + powder.moisture(activity)
    return held


def _spread(joint: float, steps: Sequence[float]) -> Array:
    """Activities at which a blend is worked out: even below the joint, closer and closer above."""
    below = np.linspace(0.0, joint, 120)
    above = 1.0 - np.geomspace(1.0 - joint, 1.0 - MOST_ACTIVE, 160)
    corners = [corner for step in steps for corner in (step * (1.0 - 1e-12), step)]
    return np.unique(np.concatenate([below, above[1:-1], corners, [MOST_ACTIVE]]))
