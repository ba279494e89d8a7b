"""What is remarked of a soak: what is not told, what nobody has measured, what changes."""

from __future__ import annotations

import numpy as np

from baitwright.batch.soaking import SoakPoint
from baitwright.batch.state import BaitState
from baitwright.quantities import show
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of


def on_firmness(soft: Quantity, recast: Quantity) -> tuple[Note, ...]:
    """A remark where the hour to recast stands on firmness, which nobody has measured."""
    first = np.mean((unwrap(soft.value) <= unwrap(recast.value)) & np.isfinite(unwrap(soft.value)))
    if first < 0.5:
        return ()
    often = "nearly all" if first >= 0.95 else f"{10 * first:.0f} of 10"
    text = (
        f"In {often} cases firmness sets the hour to recast, and no measurement "
        "stands behind it: press a bait that lay overnight against a dry one."
    )
    return (Note("soak", text, "judgement"),)


_SPIRITS = ("ethanol", "isopropanol")
_SHIFT = 0.1
"""A change in the share that does what is wanted that is worth a word."""


def on_soak(state: BaitState, curve: tuple[SoakPoint, ...]) -> tuple[Note, ...]:
    """Remarks on spirits, on a wish that the night undoes, and on flavours hardly known."""
    notes = []
    spirits = [one.name for one in state.solutes if one.carrier in _SPIRITS]
    if spirits:
        text = (
            f"{' and '.join(spirits)}: much of the spirit leaves on the tray, which is not told "
            "here; what is told is of what is still in the bait."
        )
        notes.append(Note("soak", text, "judgement", Weight.DOUBT))
    first, last = (float(unwrap(point.wish.value)) for point in (curve[0], curve[-1]))
    if first - last > _SHIFT:
        text = (
            f"{100 * first:.0f} of a hundred do what is wanted when they go in, {100 * last:.0f} "
            f"after {show(curve[-1].time, 'h')}: water fills air, dissolved matter leaves."
        )
        notes.append(Note("soak", text, "judgement", Weight.DOUBT))
    spans = [band_of(one.left) for one in curve[-1].flavours]
    if any(band.high80 - band.low80 > 0.3 for band in spans):
        text = (
            "How much the set bait slows a flavour is known within a factor of 30. Lay some baits "
            "in lake water overnight, dry them off, and smell them against fresh ones: that "
            "narrows the band most."
        )
        notes.append(Note("soak", text, "kvale-2006"))
    return tuple(notes)
