"""Nights of the notebook as bites in rod-hours, rod by rod, and what of them cannot be counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from baitwright.learning.rates import Fished, together
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.batches.batch_needs import baits_of
from baitwright.workshop.forms.form import DAY
from baitwright.workshop.nights.counted_rods import Doubtful, RodNight, counted, rods_of, said_in
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.typed.nearest import alike


@dataclass(frozen=True, slots=True)
class Night:
    """One night at a water, by its record's name."""

    name: str
    water: str
    day: str
    rods: tuple[RodNight, ...]

    def by_bait(self) -> Mapping[str, Fished]:
        """Bites and hours of each bait, of all its rods."""
        baits = dict.fromkeys(rod.bait for rod in self.rods)
        return {
            bait: together([rod.fished for rod in self.rods if rod.bait == bait]) for bait in baits
        }


@dataclass(frozen=True, slots=True)
class NightsFished:
    """All nights that count, the earliest first, and what was doubtful."""

    nights: tuple[Night, ...]
    doubtful: tuple[Doubtful, ...]

    @property
    def baits(self) -> tuple[str, ...]:
        """Every bait that was fished, by name."""
        return tuple(sorted({rod.bait for night in self.nights for rod in night.rods}))


def nights_fished(book: Notebook, *, water: str = "", by_batch: bool = False) -> NightsFished:
    """Every night with a rod that can be counted.

    Parameters
    ----------
    book: the notebook.
    water: of one water only.
    by_batch: tell batches and bags apart, in place of what is in them.
    """
    with book.reading() as page:
        written = page.all("night")
        names = {rod["bag"] for one in written for rod in rods_of(one) if rod.get("bag")}
        known = {} if by_batch else _baits_in(page, sorted(names))
    nights, doubtful = [], []
    for one in sorted(written, key=lambda one: (said_in(one, DAY), one.name)):
        if water and alike(said_in(one, "water")) != alike(water):
            continue
        rods, wrong = counted(one, known)
        doubtful += wrong
        if rods:
            nights.append(Night(one.name, said_in(one, "water"), said_in(one, DAY), tuple(rods)))
    kept = list(_each_once(nights, doubtful))
    return NightsFished(_by_one_name(kept), tuple(doubtful))


def _baits_in(page: Page, names: Sequence[str]) -> Mapping[str, str]:
    """What is in a bag or of a batch, by name."""
    batches = {one.name: baits_of(said_in(one, "about")) for one in page.named(BATCH, names)}
    return batches | {one.name: said_in(one, "item") for one in page.named(LOT, names)}


def _each_once(nights: Sequence[Night], doubtful: list[Doubtful]) -> Iterator[Night]:
    """Nights without those that say the same again."""
    seen: dict[tuple[str, str], list[Night]] = {}
    for one in nights:
        there = seen.setdefault((one.day, alike(one.water)), [])
        same = next((other for other in there if other.rods == one.rods), None)
        if same is not None:
            said = f"says the same as {same.name}; if it is another night, tell it apart by a rod"
            doubtful.append(Doubtful(one.name, said))
            continue
        if there:
            said = f"is of the day and water of {there[0].name} too; take it away if it is the same"
            doubtful.append(Doubtful(one.name, said, counted=True))
        there.append(one)
        yield one


def _by_one_name(nights: Sequence[Night]) -> tuple[Night, ...]:
    """Baits that read alike under the name that came first."""
    names: dict[str, str] = {}
    made = []
    for night in nights:
        rods = [
            RodNight(rod.at, names.setdefault(alike(rod.bait), rod.bait), rod.position, rod.fished)
            for rod in night.rods
        ]
        made.append(Night(night.name, night.water, night.day, tuple(rods)))
    return tuple(made)
