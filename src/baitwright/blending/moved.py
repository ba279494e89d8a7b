"""Two mixes beside each other: every number before and after, and how far it has moved."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from baitwright.blending.analysis import MixAnalysis
from baitwright.blending.bases import Basis
from baitwright.blending.blend import in_units
from baitwright.blending.mending import GRAINS, SETTING, UNNOTICED
from baitwright.materials.sieves import retention
from baitwright.materials.tables import CONSTITUENTS
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given
from baitwright.terms.units import PERCENT, Unit
from baitwright.uncertainty.bands import median_of

_OF_A_FACTOR = 0.5
"""A figure puts a factor in doubt from this part of what nobody notices (judgement)."""
_CLASSES = ("binder", "coarse", "soluble")
_OTHER_GRAINS = 0.005
"""From this share of the base in other grains on, a sieve has to be weighed anew (judgement)."""


@declared(
    "moved_by",
    label="change",
    equation="after - before",
    source="definition",
    note="lots of a part that both mixes have are the same lots",
)
def moved_by(before: Any, after: Any) -> Any:
    """How far a number of a mix has moved."""
    return after - before


@dataclass(frozen=True, slots=True)
class Moved:
    """A number of two mixes; None where one of them does not have it."""

    label: str
    before: Quantity | None
    after: Quantity | None
    by: Quantity | None


def moves(before: MixAnalysis, after: MixAnalysis) -> tuple[Moved, ...]:
    """Every number that a maker sets beside the old one, the paste's first."""
    old, new = dict(_numbers(before)), dict(_numbers(after))
    labels = dict.fromkeys((*old, *new))
    return tuple(
        _moved(label, old.get(label), new.get(label))
        for label in labels
        if not old.get(label) is new.get(label) is None
    )


def _moved(label: str, before: Quantity | None, after: Quantity | None) -> Moved:
    if before is None or after is None:
        return Moved(label, before, after, None)
    by = in_units(moved_by(before=before, after=after), Unit(after.unit, after.shown))
    return Moved(label, before, after, by.labelled(f"{label}, change"))


def _numbers(made: MixAnalysis) -> Iterator[tuple[str, Quantity | None]]:
    """The numbers by label; a class that a mix known by its parts lacks is nothing of it."""
    yield "dry mix per egg", made.bowl.dry_mix
    yield "paste density", made.bases.densities.get(Basis.PASTE)
    yield "water of the paste", made.bases.figures[Basis.PASTE].get("water")
    bound = made.binding
    yield SETTING, None if bound is None else bound.setting
    yield "protein that takes up water", None if bound is None else bound.hydrating
    yield "protein that gels when cold", None if bound is None else bound.gelling
    for role in _CLASSES:
        yield f"{role} part", _share(made, role)
    yield GRAINS, made.grains
    for name in CONSTITUENTS:
        yield f"{name} of the dry mix", made.bases.figures[Basis.DRY_MIX].get(name)
    for name in ("protein", "fat"):
        yield f"{name} of the bait", made.bases.figures[Basis.BAIT].get(name)
    yield "density of the dry mix", made.bases.densities.get(Basis.DRY_MIX)
    yield "poured loosely", made.bulk_density
    yield "a kilogram costs", made.cost.per_kilogram
    yield "dry mix for one egg costs", made.cost.per_egg


def _share(made: MixAnalysis, role: str) -> Quantity | None:
    if made.classes is None:
        return None
    none = given("class_share", 0.0, label=f"{role} part", unit=PERCENT, backing=IDENTITY)
    return made.classes.get(role, none)


def moved_names(before: MixAnalysis, after: MixAnalysis) -> frozenset[str]:
    """What has moved of a mix so far that a factor learned of it is in doubt."""
    old, new = dict(_figures(before)), dict(_figures(after))
    names = {
        name
        for name in old.keys() & new.keys()
        if abs(new[name] - old[name]) > _OF_A_FACTOR * UNNOTICED[name]
    }
    return frozenset(names | ({GRAINS} if other_grains(before, after) else set()))


def _figures(made: MixAnalysis) -> Iterator[tuple[str, float]]:
    known = {
        **{role: one for role in _CLASSES if (one := _share(made, role)) is not None},
        **made.bases.figures[Basis.DRY_MIX],
        **({} if made.binding is None else {SETTING: made.binding.setting}),
    }
    for name, one in known.items():
        if name in UNNOTICED:
            yield name, median_of(one)


def other_grains(before: MixAnalysis, after: MixAnalysis) -> bool:
    """Whether what a sieve would hold of the base is of other ingredients than it was."""
    old, new = _grains(before), _grains(after)
    gaps = (
        abs(old.get(name, 0.0) - new.get(name, 0.0)) for name in sorted(old.keys() | new.keys())
    )
    return 0.5 * math.fsum(gaps) > _OTHER_GRAINS


def _grains(made: MixAnalysis) -> dict[str, float]:
    parts = ((one, one.raw) for one in made.mix.parts)
    return {one.name: raw * retention(one.row).fraction for one, raw in parts if raw is not None}
