"""One line of eggs in plain floats: what its volume depends on, and how sure each of those is."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from baitwright.materials.eggs import (
    EggForm,
    EggParts,
    contents_volume,
    egg_form,
    egg_part,
    grade,
    mass_in_shell,
)
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet
from baitwright.uncertainty.gum import Measured, kept_student, rectangular

USUAL_EGG = 50e-6
"""The egg that recipes are commonly written for [m3] (common practice, no source)."""
BEAKER_ERROR = 0.05
"""A kitchen beaker's marks are right within 5 % (common practice, no source)."""
LARGEST_EGG = 75e-6
"""What the largest grades of egg give [m3]; an amount up to this needs no count."""
_IN_SHELLS = (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)
_Values = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of eggs: what it depends on, and its volume from those."""

    inputs: Mapping[str, Measured]
    volume: Callable[[_Values], float]
    density: float
    count: float
    counted: bool

    @property
    def middle(self) -> float:
        """The volume with everything at its middle [m3]."""
        return self.volume({name: measured.value for name, measured in self.inputs.items()})


def line_of(eggs: Eggs, place: int, factors: FactorSet) -> Line:
    """One line of eggs: as measured, as weighed in the shell, or as its grade tells, in that order.

    Parameters
    ----------
    eggs: the line.
    place: its number among the lines, which keeps its unknowns apart from theirs.
    factors: the maker's own; the factor of egg contents is one for all lines of a grade.

    Raises
    ------
    InputError: shells of something that does not come in shells.
    """
    form = egg_form(eggs.kind)
    if eggs.contents_mass is not None:
        volume = eggs.contents_mass / form.density
        return Line({}, lambda values: volume, form.density, *_count(eggs, volume))
    if eggs.contents_volume is not None:
        read, name = eggs.contents_volume, f"read_{place}"
        error = Measured(read, rectangular(BEAKER_ERROR * read))
        return Line({name: error}, lambda values: values[name], form.density, *_count(eggs, read))
    return _from_shells(eggs, form, place=place, factors=factors)


def _count(eggs: Eggs, volume: float) -> tuple[float, bool]:
    """How many, and whether that is known; an amount no larger than one egg's is one egg."""
    if eggs.count is not None:
        return float(eggs.count), True
    return (1.0, True) if volume <= LARGEST_EGG else (volume / USUAL_EGG, False)


def _from_shells(eggs: Eggs, form: EggForm, *, place: int, factors: FactorSet) -> Line:
    if eggs.kind not in _IN_SHELLS:
        wanted = "its measured ml or g, since it does not come in shells"
        raise InputError("eggs", eggs.kind.value, wanted)
    shells = _shells(eggs)
    count = eggs.count or max(1, round(shells.value / mass_in_shell(USUAL_EGG)))
    share, residue = egg_part("shell_share"), egg_part("residue")
    factor = factors.find("egg_volume", eggs.grade or "")
    shell_name, share_name, left_name = (f"{n}_{place}" for n in ("shell", "share", "left"))
    factor_name = f"factor_{factor.about}"
    inputs = {
        shell_name: shells,
        share_name: Measured(share.value, share.spread),
        left_name: Measured(residue.value, residue.spread),
        factor_name: _measured(factor),
    }

    def volume(values: _Values) -> float:
        parts = EggParts(values[share_name], values[left_name], form.density)
        each = contents_volume(values[shell_name] / count, parts)
        return count * each * _part_used(eggs.kind) * values[factor_name]

    return Line(inputs, volume, form.density, float(count), eggs.count is not None)


def _shells(eggs: Eggs) -> Measured:
    """Weight in the shell: as weighed, or the sum of eggs anywhere within their grade's limits."""
    if eggs.shell_mass is not None:
        return Measured(eggs.shell_mass)
    if eggs.grade is None or eggs.count is None:
        raise InputError("eggs", None, "a grade such as 'EU L', a weight in g, or measured ml")
    row = grade(eggs.grade)
    return Measured(eggs.count * row.mass, math.sqrt(eggs.count) * row.mass_u)


def _measured(factor: Factor) -> Measured:
    """A factor with the standard deviation of its Student t variable, as the draws keep it."""
    return Measured(factor.median, factor.median * factor.scale * kept_student(factor.nu))


def _part_used(kind: EggKind) -> float:
    """The part of a shell egg's contents that goes into the bowl."""
    if kind is EggKind.WHOLE:
        return 1.0
    white = egg_part("white_share").value
    return white if kind is EggKind.WHITE else 1.0 - white
