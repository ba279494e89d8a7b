"""The numbers of a plan that a symptom hangs on, and those that readings of a batch are of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from math import isfinite

from baitwright.advice.causes_graph import Key, key_of
from baitwright.advice.faults_numbers import more_of
from baitwright.advice.faults_tables import Sign, Symptom, Told, readings, signs_of
from baitwright.batch.batch_plan import BatchPlan
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of


@dataclass(frozen=True, slots=True)
class Read:
    """A reading of a batch: by the name of its row, its value [SI], and of which it is of several.

    ``beside`` is what the good batches read over what their plans said, and ``good`` how many told
    it; 1 and none where none did.
    """

    name: str
    value: float
    label: str = ""
    beside: float = 1.0
    good: int = 0


@dataclass(frozen=True, slots=True)
class Hangs:
    """A number that a symptom hangs on."""

    row: Sign
    quantity: Quantity

    @property
    def wrong_way(self) -> float:
        """1 where more of it is worse, else -1."""
        return 1.0 if self.row.goes == "up" else -1.0


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading beside its number of the plan; ``read`` is None where nobody took it."""

    row: Told
    quantity: Quantity
    read: Read | None

    @property
    def looked_for(self) -> float:
        """What was looked for, by the plan and by how the good ones lay beside theirs [SI]."""
        return median_of(self.quantity) * (1.0 if self.read is None else self.read.beside)

    @property
    def off(self) -> float:
        """How far it lies from that [SI]."""
        return 0.0 if self.read is None else self.read.value - self.looked_for

    @property
    def noise(self) -> float:
        """Standard deviation of the reading [SI]."""
        return abs(median_of(self.quantity)) * self.row.noise_pct / 100.0


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers of a plan by name, each once under each label."""

    by_name: Mapping[str, tuple[Quantity, ...]]

    @classmethod
    def of_plan(cls, plan: BatchPlan) -> Numbers:
        """Those of a plan, and those that only a fault hangs on."""
        return cls.of((*plan.quantities(), *more_of(plan)))

    @classmethod
    def of(cls, every: Iterable[Quantity]) -> Numbers:
        """Some, then those that they stand on; of several alike the first, which a plan acts on."""
        told, seen = tuple(every), set[int]()
        found: dict[str, dict[str, Quantity]] = {}
        for part in (*told, *(part for one in told for part in one.walk(seen))):
            found.setdefault(part.name, {}).setdefault(part.label, part)
        return cls({name: tuple(parts.values()) for name, parts in found.items()})

    def named(self, name: str, label: str = "*") -> tuple[Quantity, ...]:
        """Those of a name whose label fits."""
        every = self.by_name.get(name, ())
        return tuple(one for one in every if fnmatchcase(one.label, label))

    def signs(self, symptom: Symptom) -> tuple[Hangs, ...]:
        """What a symptom hangs on, as far as this plan has it and it ever comes."""
        return tuple(self._signs(symptom))

    def _signs(self, symptom: Symptom) -> Iterator[Hangs]:
        for row in signs_of(symptom):
            found = self.named(row.node, row.label)
            each: dict[Key, Quantity] = {}
            for one in filter(lambda one: isfinite(median_of(one)), found):
                each.setdefault(key_of(one), one)
            yield from (Hangs(row, one) for one in each.values())

    def taken(self, read: Iterable[Read]) -> Iterator[Taken]:
        """Every reading that this plan has a number for, taken or not."""
        told = tuple(read)
        for row in readings().values():
            mine: list[Read | None] = [one for one in told if one.name == row.id]
            for one in mine or [None]:
                label = row.label if one is None or not one.label else one.label
                found = self.named(row.node, label)
                if found:
                    yield Taken(row, found[0], one)
