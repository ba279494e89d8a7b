"""What goes on a made bait: a powder coat after boiling, a liquid glug after drying."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Glug:
    """A liquid the dried baits soak in.

    ``volume`` is for all the baits of the batch [m3]; with ``per_mass`` it is for so much of them
    [kg]. ``time`` is how long they soak [s]; ``density`` [kg/m3] is the carrier's where None.
    ``hazards`` are codes of its safety data sheet's phrases, ``flash_point`` is the sheet's [K].
    """

    name: str
    carrier: str
    strength: str
    volume: float
    per_mass: float | None
    time: float
    density: float | None = None
    hazards: tuple[str, ...] = ()
    flash_point: float | None = None


@dataclass(frozen=True, slots=True)
class Coat:
    """A powder the wet baits are rolled in: a share of a bait's weight, or a loose layer [m]."""

    ingredient: str
    share: float | None = None
    layer: float | None = None
