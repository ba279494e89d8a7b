"""Rules about how many ingredients there are and in which steps: what makes a mix weighable."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from baitwright.quantities import show


@dataclass(frozen=True, slots=True)
class AtMost:
    """No more than a number of these ingredients."""

    count: int
    among: tuple[str, ...]
    about: str = "ingredients"

    @property
    def name(self) -> str:
        """The rule in the maker's words."""
        return f"at most {self.count} {self.about}"


@dataclass(frozen=True, slots=True)
class IfUsed:
    """At least a share of an ingredient, or none of it."""

    ingredient: str
    least: float
    about: str = ""

    @property
    def name(self) -> str:
        """The rule in the maker's words."""
        return f"{self.about or self.ingredient}: at least {show(self.least, '%')} or none"


@dataclass(frozen=True, slots=True)
class Steps:
    """Shares of an ingredient only in whole steps."""

    ingredient: str
    step: float
    about: str = ""

    @property
    def name(self) -> str:
        """The rule in the maker's words."""
        return f"{self.about or self.ingredient}: in steps of {show(self.step, '%')}"


@dataclass(frozen=True, slots=True)
class Implies:
    """Where one ingredient is used, another is too."""

    used: str
    needed: str
    about: tuple[str, str] | None = None

    @property
    def name(self) -> str:
        """The rule in the maker's words."""
        used, needed = self.about or (self.used, self.needed)
        return f"{needed} wherever {used} is used"


Rule: TypeAlias = AtMost | IfUsed | Steps | Implies
