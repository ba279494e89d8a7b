"""Which bait did best? What the notebook's nights say, and what they leave open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from baitwright.learning.pooling import Apart, Pooled, SideBySide, are_joined, pooled
from baitwright.learning.rates import (
    BITES_TO_RANK,
    Dispersion,
    dispersion_of,
    together,
)
from baitwright.notebook.store import Notebook
from baitwright.terms.band import Band
from baitwright.terms.errors import InputError
from baitwright.workshop.comparing.two_baits import (
    BaitFished,
    TwoBaits,
    has_bait,
    rate_of,
    two_baits,
)
from baitwright.workshop.nights.fished_nights import NightsFished, nights_fished
from baitwright.workshop.typed.nearest import alike


@dataclass(frozen=True, slots=True)
class Compared:
    """Baits compared: each, two against each other, or more than two drawn together.

    ``times`` are bands of each bait's rate by that of them all; ``joined`` says that they rest on
    shared nights.
    """

    found: NightsFished
    baits: tuple[BaitFished, ...]
    scatter: Dispersion
    hours: float
    two: TwoBaits | None = None
    times: tuple[Band, ...] = ()
    joined: bool = False

    @property
    def ranks(self) -> bool:
        """Whether every bait has bites enough for an order."""
        return all(one.fished.bites >= BITES_TO_RANK for one in self.baits)


def compare(
    book: Notebook, baits: Sequence[str] = (), *, water: str = "", by_batch: bool = False
) -> Compared:
    """Compare baits by the nights of the notebook; all that were fished unless some are named.

    Raises
    ------
    InputError: no night to compare by, or a bait that no night has.
    """
    found = nights_fished(book, water=water, by_batch=by_batch)
    names = _wanted(found, baits)
    own = [
        [night.by_bait()[name] for night in found.nights if has_bait(night, name)] for name in names
    ]
    scatter = dispersion_of(own)
    told = tuple(
        BaitFished(name, tuple(nights), rate_of(together(nights), scatter).band())
        for name, nights in zip(names, own, strict=True)
    )
    hours = median(one.rod_hours for nights in own for one in nights)
    made = Compared(found, told, scatter, hours)
    if len(names) == 2:
        two = two_baits(found.nights, told, scatter=scatter, hours=hours)
        return Compared(found, told, scatter, hours, two=two)
    if len(names) > 2:
        drawn, joined = _drawn(made, names)
        times = tuple(drawn.ratio_band(at, name=name) for at, name in enumerate(names))
        return Compared(found, told, scatter, hours, times=times, joined=joined)
    return made


def _wanted(found: NightsFished, baits: Sequence[str]) -> tuple[str, ...]:
    known = {alike(name): name for name in found.baits}
    if not known:
        left_out = "; ".join(f"{one.night} {one.said}" for one in found.doubtful[:3])
        accepted = (
            "nights that tell bait, hours and bites of each rod, see `baitwright record night`"
        )
        raise InputError("nights", left_out or None, accepted)
    unknown = [name for name in baits if alike(name) not in known]
    if unknown:
        raise InputError("bait", unknown[0], f"one that was fished: {', '.join(found.baits)}")
    return tuple(dict.fromkeys(known[alike(name)] for name in baits)) or found.baits


def _drawn(made: Compared, names: tuple[str, ...]) -> tuple[Pooled, bool]:
    places = {name: at for at, name in enumerate(names)}
    nights = [
        {places[name]: fished for name, fished in night.by_bait().items() if name in places}
        for night in made.found.nights
    ]
    told = [
        frozenset(one)
        for one in nights
        if len(one) > 1 and any(fished.bites for fished in one.values())
    ]
    joined, by = are_joined(told, len(names)), made.scatter.widens
    if joined:
        return pooled(SideBySide.of(nights, count=len(names), dispersion=by)), True
    return pooled(Apart.of([bait.fished for bait in made.baits], dispersion=by)), False
