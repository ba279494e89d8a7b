"""What new factors change of the numbers of the same batch, before and after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from baitwright.batch.batch_plan import BatchPlan
from baitwright.terms.band import Band
from baitwright.terms.factors import FactorSet
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.plans.worked_out import worked_out

_CHANGED = 0.01
"""Changes of a middle or a width below 1 % are not worth telling."""


@dataclass(frozen=True, slots=True)
class Change:
    """What the same batch would be predicted as, before and after the new factors."""

    label: str
    shown: str
    before: Band
    after: Band

    @property
    def width(self) -> float:
        """Width of the new band of four cases in five beside the old one's."""
        return (self.after.high80 - self.after.low80) / (self.before.high80 - self.before.low80)


def changes_by(made: BatchPlan, before: FactorSet, after: FactorSet) -> tuple[Change, ...]:
    """The numbers of the same batch that the new set moves or sharpens."""
    if after is before:
        return ()
    old, new = (worked_out(replace(made.request, factors=one)) for one in (before, after))
    pairs = zip(_told(old), _told(new), strict=True)
    found = (Change(a.label, a.shown, band_of(a), band_of(b)) for a, b in pairs)
    return tuple(change for change in found if not change.before.is_known and _is_told(change))


def _told(made: BatchPlan) -> Iterator[Quantity]:
    yield made.mix.per_egg
    yield from (measurement.predicted for measurement in made.readings)


def _is_told(change: Change) -> bool:
    moved = abs(change.after.median / change.before.median - 1.0)
    return moved > _CHANGED or abs(change.width - 1.0) > _CHANGED
