"""How often a reading lay inside the band that its plan had for it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baitwright.notebook.page import Revision


@dataclass(frozen=True, slots=True)
class Score:
    """Of so many readings, how many lay inside the band that should hold four of five."""

    inside: int
    of: int


def running_score(batches: Iterable[Revision]) -> Score | None:
    """The score of batches; nothing where nothing was measured."""
    inside = of = 0
    for one in batches:
        actual = (one.body or {}).get("actual", {})
        for name, (low, _, high) in (one.body or {})["predicted"].items():
            if name in actual:
                of, inside = of + 1, inside + (low <= actual[name] <= high)
    return Score(inside, of) if of else None
