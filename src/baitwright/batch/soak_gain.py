"""What soaking baits gain in weight, by how fast water moves in them, in one run for all paces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np

from baitwright.batch.soak import run_in_water, soaked_after, soaking
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.physics.radial import MoistureRun
from baitwright.terms.quantity import given, unwrap
from baitwright.terms.units import CELSIUS, HOURS
from baitwright.uncertainty.spreads import Floats


def gains_by_pace(
    state: BaitState,
    temperature: float,
    *,
    times: Sequence[float],
    paces: Floats,
    unknowns: Unknowns,
) -> Floats:
    """Weight gained by each bait over its weight going in, for each time and soak factor.

    Parameters
    ----------
    state: the bait as it comes out of the bag.
    temperature: of the water [K].
    times: in the water [s].
    paces: values of the factor `soak`, in place of its draws [1].
    unknowns: all others, as drawn.

    Returns
    -------
    Gain over the bait's own weight before, [time, pace, batch, bait] [1]

    Notes
    -----
    Where diffusivity is one figure and the skin's water content is held, only their product with
    time counts: a run at the fastest pace is every slower one with its times stretched. All that
    goes by another clock (air flooded, matter dissolved) is counted anew at each pace.
    """
    fastest = float(np.max(paces))
    kelvin = given("lake_temperature", temperature, label="temperature of the water", unit=CELSIUS)
    end = given("soak_time", max(times), label="time in the water", unit=HOURS)
    known = _at_pace(unknowns, fastest)
    run = run_in_water(state, kelvin, end=end, unknowns=known)
    before = np.asarray(unwrap(state.mass.value))
    gains = []
    for pace in paces:
        slower = replace(run, value=_stretched(unwrap(run.value), fastest / pace, max(times)))
        wet = soaking(state, kelvin, run=slower, unknowns=known)
        after = [unwrap(soaked_after(wet, time).bait.mass.value) for time in times]
        gains.append(np.stack(after) / before - 1.0)
    return np.stack(gains, axis=1)


def _stretched(run: MoistureRun, by: float, end: float) -> MoistureRun:
    """A run with its times stretched, as far as its first time not before an end [s]."""
    upto = int(np.searchsorted(run.times * by, end)) + 1
    series = [one.name for one in fields(run) if one.name not in ("final", "error")]
    cut: dict[str, Any] = {name: getattr(run, name)[:upto] for name in series}
    cut["times"] = cut["times"] * by
    return replace(run, **cut)


def _at_pace(unknowns: Unknowns, pace: float) -> Unknowns:
    """The unknowns with the soak factor known."""
    known = replace(unknowns.factors.find("soak"), mu=math.log(pace), sigma2=0.0)
    rest = (one for one in unknowns.factors.factors if one.key != "soak")
    return replace(unknowns, factors=replace(unknowns.factors, factors=(known, *rest)))
