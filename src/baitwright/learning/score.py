"""A prediction held against what was weighed, before anything is learned from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.quantities import show
from baitwright.terms.band import Band
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of

_VERBS = {"kg": "weighed", "m3": "measured", "": "counted"}


@dataclass(frozen=True, slots=True)
class Score:
    """One prediction and its reading.

    ``inside`` is the narrowest of the bands 50, 80 and 95 that holds the reading, 0 when none does;
    ``percentile`` the share of the draws that lie below it. A number that was already measured has
    nothing to score: its band is known.
    """

    label: str
    shown: str
    band: Band
    reading: float
    inside: int
    percentile: float

    @property
    def verdict(self) -> str:
        """In a word or two, against the band of four cases in five."""
        if self.band.is_known:
            return "nothing was predicted"
        if self.inside in (50, 80):
            return "inside"
        return "just outside" if self.inside == 95 else "far outside"

    @property
    def words(self) -> str:
        """The prediction, the reading and the verdict in one line."""
        verb = _VERBS.get(self.band.unit, "read")
        read = f"you {verb} {show(self.reading, self.shown)}"
        if self.band.is_known:
            return f"already known as {show(self.band.median, self.shown)}, {read}"
        low, high = show(self.band.low80, self.shown), show(self.band.high80, self.shown)
        return f"predicted {low} to {high}, {read}: {self.verdict}"


def score(prediction: Quantity, reading: float) -> Score:
    """Hold a reading against its prediction.

    Parameters
    ----------
    prediction: the quantity as the plan predicted it.
    reading: what was weighed or counted, in the quantity's SI unit.
    """
    band = band_of(prediction)
    return Score(
        label=prediction.label,
        shown=prediction.shown,
        band=band,
        reading=reading,
        inside=band.holds(reading),
        percentile=_percentile(unwrap(prediction.value), reading),
    )


def _percentile(draws: Any, reading: float) -> float:
    """Share of draws below a reading; of those that equal it, half."""
    values = np.asarray(draws)
    return float(np.mean(values < reading) + 0.5 * np.mean(values == reading))
