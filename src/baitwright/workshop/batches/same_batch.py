"""Same as last time? A batch beside the maker's own good ones of its recipe, and what differed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from baitwright.learning.as_usual import as_usual
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.band import Band
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.batch_things import THINGS, Actual
from baitwright.workshop.batches.good_ones import good_ones
from baitwright.workshop.batches.lots_beside import OtherLot, other_lots
from baitwright.workshop.batches.told_then import (
    bench_changed,
    factors_changed,
    plan_told,
    recipe_changed,
)
from baitwright.workshop.forms.changes import Change


@dataclass(frozen=True, slots=True)
class Beside:
    """One thing of a batch as it was, and where the good ones say that it should lie."""

    value: str
    unit: str
    was: float
    usual: Band
    count: int
    touches: str

    @property
    def is_outside(self) -> bool:
        """Whether it lies where only 1 batch in 20 of a steady kitchen would."""
        return self.usual.holds(self.was) == 0


_LATEST = 20


@dataclass(frozen=True, slots=True)
class Sameness:
    """A batch beside the good ones: what was told, taken and measured otherwise.

    ``versions`` are those of the recipe, of the last good one and of this; ``things`` all that the
    batch tells; ``factors`` the middle of each of the maker's own factors, then and now.
    """

    batch: str
    about: str
    good: tuple[str, ...]
    versions: tuple[int, int] = (0, 0)
    recipe: tuple[Change, ...] = ()
    bench: tuple[Change, ...] = ()
    factors: tuple[Change, ...] = ()
    lots: tuple[OtherLot, ...] = ()
    things: tuple[Beside, ...] = ()

    @property
    def outside(self) -> tuple[Beside, ...]:
        """The things that lie outside what is usual."""
        return tuple(one for one in self.things if one.is_outside)

    @property
    def count(self) -> int:
        """How many things differ."""
        told = (self.recipe, self.bench, self.factors, self.lots, self.outside)
        return sum(map(len, told))


def last_same(book: Notebook) -> Sameness | None:
    """The last batch that was not cancelled, of which there are good ones to hold it against."""
    with book.reading() as page:
        found = next((one for one in page.last(BATCH, _LATEST) if not is_cancelled(one)), None)
        same = None if found is None else same_on(page, found)
    return same if same is not None and same.good else None


def same_on(page: Page, found: Revision) -> Sameness:
    """The same of a batch that was found, on a page."""
    body = found.body or {}
    about = str(body["about"])
    good = good_ones(page, about, before=found)
    if not good:
        return Sameness(found.name, about, ())
    last, told = good[-1], body.get("actual", {})
    versions = (int((last.body or {})["recipe_version"]), int(body["recipe_version"]))
    then, now = (plan_told(page, one.name) for one in (last, found))
    return Sameness(
        batch=found.name,
        about=about,
        good=tuple(one.name for one in good),
        versions=versions,
        recipe=recipe_changed(page, about, versions),
        bench=bench_changed(then, now),
        factors=factors_changed(then, now),
        lots=tuple(other_lots(page, found, good)),
        things=tuple(_things(told, [(one.body or {})["actual"] for one in good])),
    )


def _things(told: Actual, good: Sequence[Actual]) -> Iterator[Beside]:
    for thing in THINGS:
        was = thing.read(told)
        values = [found for one in good if (found := thing.read(one)) is not None and found > 0.0]
        if was is not None and values:
            usual = as_usual(values, name=thing.value, unit=thing.unit)
            yield Beside(thing.value, thing.unit, was, usual, len(values), thing.touches)


def is_cancelled(one: Revision) -> bool:
    """Whether a batch was cancelled."""
    return State((one.body or {})["state"]) is State.CANCELLED
