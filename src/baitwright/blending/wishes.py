"""What a maker wishes of a mix: ingredients, rows, rules, and what is to be best."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Row
from baitwright.blending.rules import Rule, Steps
from baitwright.blending.wanted import whole
from baitwright.terms.errors import InputError


class Goal(StrEnum):
    """What is to be best about a mix."""

    CHEAPEST = "least cost"
    NEAREST = "nearest to the present mix"
    MOST = "most"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """A mix wanted.

    Parameters
    ----------
    candidates: what it may be made of.
    rows: what it must keep; that shares sum to 100 % goes without saying.
    rules: about counts and steps.
    goal: what is to be best; with ``MOST``, the number of the row ``most``.
    present: the maker's present mix by ingredient id; equal mixes are decided by nearness to it.
    soft_beside: whether what soft rows miss counts beside the goal, in its unit by their weights;
        else it comes before it.
    """

    candidates: tuple[Candidate, ...]
    rows: tuple[Row, ...]
    rules: tuple[Rule, ...] = ()
    goal: Goal = Goal.CHEAPEST
    most: Row | None = None
    present: Mapping[str, float] | None = None
    soft_beside: bool = False

    def __post_init__(self) -> None:
        """Refuse wishes that lack what their goal needs.

        Raises
        ------
        InputError: no ingredients, no present mix to be near to, or no number to be the most.
        """
        if not self.candidates:
            raise InputError("ingredient", None, "at least one ingredient")
        if self.goal is Goal.NEAREST and not self.present:
            raise InputError("present", None, "your present mix, to which the new one is nearest")
        if (self.goal is Goal.MOST) != (self.most is not None):
            raise InputError("most", None, "the number that is to be the most")

    @property
    def names(self) -> tuple[str, ...]:
        """The ingredients' ids."""
        return tuple(one.id for one in self.candidates)

    @property
    def all_rows(self) -> tuple[Row, ...]:
        """Every row, that of the whole before all others."""
        return (whole(self.candidates), *self.rows)

    def step_of(self, name: str) -> float | None:
        """The step of an ingredient's share, where there is one."""
        steps = (
            one.step for one in self.rules if isinstance(one, Steps) and one.ingredient == name
        )
        return next(steps, None)
