"""The running account of a bait: what each stage found, what it left, and what crossed over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np


@dataclass(frozen=True, slots=True)
class Entry:
    """One stage's account of one thing: before = after + gone, in kg (J for energy)."""

    stage: str
    what: str
    before: Any
    after: Any
    gone: Any

    @property
    def gap(self) -> float:
        """How far the account is from closing, as a share of what was there."""
        size = np.maximum(np.abs(self.before), np.abs(self.after))
        rest = np.abs(np.asarray(self.before) - self.after - self.gone)
        return float(np.max(rest / np.where(size > 0, size, 1.0)))


@dataclass(frozen=True, slots=True)
class Ledger:
    """All entries of a bait's life, in order."""

    entries: tuple[Entry, ...] = ()

    def with_entry(self, stage: str, what: str, *, before: Any, after: Any, gone: Any) -> Ledger:
        """The ledger with one more entry."""
        return Ledger((*self.entries, Entry(stage, what, before, after, gone)))

    @property
    def worst_gap(self) -> float:
        """The largest share by which any entry fails to close."""
        return max((entry.gap for entry in self.entries), default=0.0)
