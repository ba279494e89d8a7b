"""How far a number may slip, and what moves with it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from baitwright.advice.causes_graph import Again, Key, ends_of, key_of
from baitwright.advice.causes_weighed import Floats
from baitwright.advice.faults_tables import Leaf, leaves
from baitwright.materials.defaults import defaults
from baitwright.materials.tables import in_si
from baitwright.terms.errors import RangeError
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity, unwrap
from baitwright.uncertainty.bands import median_of, quantile_of

_SIGMA = 0.841_344_746
"""The share of a normal spread that lies below its middle and one standard deviation."""
_IN_95 = 3.92
"""Standard deviations in a band of 95 %."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A number that may be off: the row that says what it is, and by how much [its SI unit]."""

    quantity: Quantity
    row: Leaf
    by: float

    @property
    def key(self) -> Key:
        """What tells it from the others."""
        return key_of(self.quantity)

    def at(self, times: float) -> float:
        """It, so many standard deviations off: what lies above nothing stays there."""
        middle = median_of(self.quantity)
        return middle * (1.0 + self.by / middle) ** times if middle > 0.0 else times * self.by


def slips(ends: Iterable[Quantity]) -> tuple[Slip, ...]:
    """The numbers that may be off, each once; those that are known or defined are not."""
    found: dict[Key, Slip] = {}
    for end in ends:
        row = leaves().get(end.name)
        by = 0.0 if row is None else _step(end, row)
        if row is not None and by > 0.0:
            before = found.get(key_of(end))
            if before is None or len(before.quantity.label) < len(end.label):
                found[key_of(end)] = Slip(end, row, by)
    return tuple(found.values())


def _step(end: Quantity, row: Leaf) -> float:
    """One standard deviation; nothing where nobody says how far it may be off.

    What scatters from bait to bait evens out over a tray.
    """
    if isinstance(end.value, PerBait) and end.origin is not Origin.COMPUTED:
        return 0.0
    if row.slip > 0.0:
        if row.slip_unit == "%":
            return abs(median_of(end)) * row.slip / 100.0
        return row.slip if row.slip_unit == "K" else in_si(row.slip, row.slip_unit)
    if isinstance(end.value, PerBatch):
        return quantile_of(end, _SIGMA) - median_of(end)
    known = defaults().get(end.name)
    return 0.0 if known is None else (known.high - known.low) / _IN_95


@dataclass(slots=True)
class Middles:
    """Some numbers of a plan with everything above them at its middle, and then some of it moved.

    ``held`` are names of numbers that stay as the plan has them, whatever moves above.
    """

    roots: Sequence[Quantity]
    held: Collection[str] = ()
    _middles: dict[Key, Any] = field(init=False)
    _before: Floats = field(init=False)

    def __post_init__(self) -> None:
        """Look for what is above, once."""
        ends = (end for root in self.roots for end in ends_of(root, self.held))
        self._middles = {key_of(end): _middle(end) for end in ends}
        self._before = self._rows({}, 1)[0]

    def moved(self, to: Mapping[Key, Any]) -> Floats:
        """By how much each number moves when others are something else."""
        return self._apart(
            self._rows({key: self._as_it(key, one) for key, one in to.items()}, 1)[0]
        )

    def columns(self, every: Sequence[Slip]) -> Floats:
        """By how much each number moves, a row each, with each that may be off moved by itself.

        Those of which a model takes many at once are moved in one run, a row of draws for each.
        """
        together = [one for one in every if not one.row.is_alone]
        try:
            found = dict(zip((one.key for one in together), self._at_once(together), strict=True))
        except RangeError:
            found = {}
        rows = [found[one.key] if one.key in found else self.by_one(one) for one in every]
        return np.array(rows).reshape(len(every), len(self.roots)).T

    def by_one(self, slip: Slip) -> Floats:
        """The same of one alone; lower and turned round where higher is beyond a model."""
        try:
            return self.moved({slip.key: slip.at(1.0)})
        except RangeError:
            return -self.moved({slip.key: slip.at(-1.0)})

    def _as_it(self, key: Key, value: Any) -> Any:
        """A value in the shape of the number that it stands for."""
        drawn = isinstance(self._middles.get(key), PerBatch) and isinstance(value, float)
        return _drawn(PerBatch(value), 1) if drawn else value

    def _at_once(self, every: Sequence[Slip]) -> Iterator[Floats]:
        to = {}
        for at, one in enumerate(every):
            values = np.full((len(every), 1), median_of(one.quantity))
            values[at] = one.at(1.0)
            to[one.key] = PerBatch(values)
        rows = self._rows(to, len(every)) if every else ()
        return (self._apart(row) for row in rows)

    def _rows(self, to: Mapping[Key, Any], many: int) -> Floats:
        middles = {key: _drawn(one, many) for key, one in self._middles.items()}
        again = Again({**middles, **to})
        each = (np.asarray(unwrap(again.of(root).value), float) for root in self.roots)
        return np.array([np.broadcast_to(one.reshape(-1), many) for one in each]).T

    def _apart(self, after: Floats) -> Floats:
        both = np.isfinite(self._before) & np.isfinite(after)
        return np.where(both, after - np.where(both, self._before, 0.0), 0.0)


def _middle(end: Quantity) -> Any:
    """What was drawn, as its middle drawn once; what is known, as it is."""
    return PerBatch(median_of(end)) if isinstance(end.value, PerBatch | PerBait) else end.value


def _drawn(value: Any, many: int) -> Any:
    """A middle drawn so many times."""
    return PerBatch(np.full((many, 1), value.values)) if isinstance(value, PerBatch) else value
