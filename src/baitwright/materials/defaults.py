"""What the plan assumes when nobody has said, each with its band: judged, and marked as such."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from baitwright.materials.tables import Row, find, in_si, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Default(Row):
    """An assumed value with the band it may lie in, in SI; ``unit`` is what it is shown in.

    ``varies`` says whether it is a setting of the bench, unknown once for a batch, or different
    from bait to bait. ``low`` and ``high`` are the ends of a band of about 95 %, not
    limits of any law.
    """

    label: str
    value: float
    low: float
    high: float
    unit: str
    varies: str = one_of("setting", "batch", "bait")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardness(Row):
    """How hard a bait is wanted: set of the coldest paste, and extra seconds in the pot."""

    name: str
    extent: float
    hold: float


@cache
def defaults() -> Mapping[str, Default]:
    """Every assumed value by id, in SI."""
    return {
        row.id: replace(
            row,
            value=in_si(row.value, row.unit),
            low=in_si(row.low, row.unit),
            high=in_si(row.high, row.unit),
        )
        for row in load("defaults", Default).values()
    }


def default(name: str) -> Default:
    """An assumed value by id, in SI. An unknown id is a slip of ours and raises KeyError."""
    return defaults()[name]


def hardnesses() -> Mapping[str, Hardness]:
    """Every wanted hardness by id."""
    return load("hardness", Hardness)


def hardness(name: str, field: str = "bait.hardness") -> Hardness:
    """A wanted hardness by id or name.

    Raises
    ------
    InputError: there is no such hardness.
    """
    return find(hardnesses(), name, field)
