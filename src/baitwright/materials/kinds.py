"""Floats, hangs, sinks, and the names that follow: one definition, in one editable table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftWord(Row):
    """A word for a lift between two limits [kg]; a missing limit is open."""

    name: str
    about: str = one_of("alone", "rig")
    low: float | None
    high: float | None

    def covers(self, lift: float) -> bool:
        """Whether a lift [kg] lies in it, from ``low`` to under ``high``."""
        return (self.low is None or lift >= self.low) and (self.high is None or lift < self.high)


@dataclass(frozen=True, slots=True, kw_only=True)
class BaitKind(Row):
    """What a bait is called, by the words it may earn alone and on its rig."""

    name: str
    alone: tuple[str, ...]
    on_rig: tuple[str, ...]


def lift_words() -> Mapping[str, LiftWord]:
    """Every word by id."""
    return load("lift_words", LiftWord)


def bait_kinds() -> Mapping[str, BaitKind]:
    """Every kind of bait by id."""
    return load("bait_kinds", BaitKind)


def lift_alone(lift: float) -> LiftWord:
    """Floats, hangs or sinks: the word for the bait's own lift [kg]."""
    return _word("alone", lift)


def lift_on_rig(net_lift: float) -> LiftWord:
    """What bait, hook and hook-link do together, by their net lift [kg]."""
    return _word("rig", net_lift)


def bait_kind(lift: float, net_lift: float) -> BaitKind | None:
    """Pop-up, wafter or sinker by its own lift and the rig's [kg]; None where no name fits."""
    alone, rig = lift_alone(lift).id, lift_on_rig(net_lift).id
    for kind in bait_kinds().values():
        if alone in kind.alone and rig in kind.on_rig:
            return kind
    return None


def _word(about: str, lift: float) -> LiftWord:
    return next(word for word in lift_words().values() if word.about == about and word.covers(lift))
