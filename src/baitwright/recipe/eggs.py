"""Eggs and other binding liquids on the table, in a module that quick answers can load."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class EggKind(StrEnum):
    """The binding liquid; each has a composition of its own in the egg table."""

    WHOLE = "whole"
    WHITE = "white"
    YOLK = "yolk"
    CARTON = "carton"
    EGG_FREE = "egg-free"


@dataclass(frozen=True, slots=True)
class Eggs:
    """Eggs of one kind: by grade and count, weighed in the shell, or measured in the bowl.

    A measurement of the contents wins over a weight in the shell, and that over the grade.
    ``grade`` names its system, as in ``"EU L"``. ``usual`` stands for eggs of which nothing is
    known but how many there are.
    """

    kind: EggKind
    count: int | None = None
    grade: str | None = None
    shell_mass: float | None = None
    contents_mass: float | None = None
    contents_volume: float | None = None
    usual: bool = False
