"""What goes to the water: batches with their bags and rig, and the fields of a night."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import batch_with_bags
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_list import last_batches
from baitwright.workshop.bench.bench_book import look
from baitwright.workshop.forms.asked_fields import Group, asked
from baitwright.workshop.forms.form_events import NightTable
from baitwright.workshop.strip.bench_strip import StripStep

NIGHTS = "baitwright nights"
"""What the first entry of a file of nights says it is."""
AT_HOME = ("files", "owner", "companion")
"""Fields of a night that are told at home: files lie there, and people are not carried about."""
_TAKEN = ("Bag", "Rig")
_BATCHES, _RODS = 4, 3


@dataclass(frozen=True, slots=True)
class Taken:
    """One batch that goes along: its bags, and the steps that are done at the water."""

    batch: Revision
    bags: tuple[Revision, ...]
    steps: tuple[StripStep, ...]


@dataclass(frozen=True, slots=True)
class Travelling:
    """All that goes along."""

    written: datetime
    taken: tuple[Taken, ...]
    night: Group

    @property
    def bags(self) -> tuple[str, ...]:
        """What a rod's bait may have come from."""
        return tuple(
            name for one in self.taken for name in (*(bag.name for bag in one.bags), one.batch.name)
        )


def travelling(book: Notebook, *, now: datetime) -> Travelling:
    """The last batches that were not cancelled, and the form of a night with rods to fill in."""
    found = [
        one for one in last_batches(book) if State((one.body or {})["state"]) is not State.CANCELLED
    ]
    taken = tuple(_taken(book, one) for one in found[:_BATCHES])
    blank: dict[str, Any] = {"rod": [{}] * _RODS, "day": now.date().isoformat()}
    return Travelling(now, taken, _for_the_water(asked(NightTable, blank)))


def _taken(book: Notebook, batch: Revision) -> Taken:
    _, bags = batch_with_bags(book, batch.name)
    try:
        strip = look(book, batch.name).strip
    except InputError:  # its plan was purged
        strip = ()
    return Taken(batch, bags, tuple(one for one in strip if one.stage in _TAKEN))


def _for_the_water(night: Group) -> Group:
    """The fields that are filled in at the water, as many rods as there are."""
    fields = tuple(one for one in night.fields if one.name not in AT_HOME)
    return replace(
        night, fields=fields, groups=tuple(one for one in night.groups if not one.is_blank)
    )
