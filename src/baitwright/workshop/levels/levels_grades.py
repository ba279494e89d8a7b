"""A level for one egg of every grade: the same letter is another egg in another country."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.materials.eggs import EggGrade, contents_volume, egg_systems, grades_of
from baitwright.workshop.levels.level_lines import between
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.typed.unstated import SHOWN

_BEFORE = "eu-1995"
"""A system that no box of today is sold by."""


@dataclass(frozen=True, slots=True)
class GradeRow:
    """One egg of a grade: its ml [m3] and its dose [m3, kg or drops], at either end."""

    system: str
    grade: str
    egg: tuple[float, float]
    dose: tuple[float, float]

    @property
    def middle(self) -> float:
        """The dose of an egg in the middle of its grade."""
        return 0.5 * (self.dose[0] + self.dose[1])


def by_grade(answer: Answer, found: Levels) -> tuple[GradeRow, ...]:
    """The dose for one egg of every grade that is sold by; dry mix follows the ml of egg."""
    in_bowl = found.bowl.volume.value
    per_volume = (answer.dose.low / in_bowl, answer.dose.high / in_bowl)
    return tuple(_row(name, grade, per_volume) for name, grades in _systems() for grade in grades)


def _row(system: str, grade: EggGrade, per_volume: tuple[float, float]) -> GradeRow:
    egg = (contents_volume(grade.low), contents_volume(grade.high))
    return GradeRow(system, grade.grade, egg, (egg[0] * per_volume[0], egg[1] * per_volume[1]))


def _systems() -> Iterator[tuple[str, tuple[EggGrade, ...]]]:
    """Every system with its grades; those with the same limits are one."""
    names: dict[tuple[tuple[str, float, float], ...], list[str]] = {}
    grades = {}
    for system in egg_systems().values():
        if system.id == _BEFORE:
            continue
        rows = grades_of(system.id)
        limits = tuple((row.grade, row.low, row.high) for row in rows)
        names.setdefault(limits, []).append(system.id.upper())
        grades[limits] = rows
    for limits, told in names.items():
        yield ", ".join(told), grades[limits]


def grade_rows(answer: Answer, found: Levels) -> Iterator[tuple[str, str, str]]:
    """The grade with its system, the ml of one egg, and its dose."""
    unit = SHOWN[answer.liquid.level.measure]
    for row in by_grade(answer, found):
        yield f"{row.system} {row.grade}", between(*row.egg, "ml"), between(*row.dose, unit)
