"""The levels answer for a page: asked by a table, told line by line."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.workshop.levels.levels import Levels, levels
from baitwright.workshop.levels.levels_back import asks_back
from baitwright.workshop.levels.levels_grades import grade_rows
from baitwright.workshop.levels.levels_request import Asked, understand
from baitwright.workshop.levels.levels_together import together_lines
from baitwright.workshop.levels.levels_words import (
    all_lines,
    dry_mix_line,
    eggs_line,
    heading,
    table_rows,
)
from baitwright.workshop.levels.question_tables import LevelsTable


@dataclass(frozen=True, slots=True)
class LevelAnswer:
    """One level: what it is, what is told of it, the dose for 1 to 12 eggs and by grade."""

    title: str
    lines: tuple[tuple[str, str], ...]
    table: tuple[tuple[int, str, str], ...]
    grades: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class LevelsAnswer:
    """The bowl, the bridge between egg and kilogram, every level, and all of them in one bait.

    ``asks`` is what is asked back, a line each.
    """

    eggs: str
    bridge: str
    answers: tuple[LevelAnswer, ...]
    together: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


def answered(told: LevelsTable) -> LevelsAnswer:
    """Answer a question about levels.

    Raises
    ------
    InputError: whatever cannot be read.
    """
    found = found_for(told)
    answers = (
        LevelAnswer(
            heading(one),
            tuple(all_lines(one, found)),
            tuple(table_rows(one)),
            tuple(grade_rows(one, found)),
        )
        for one in found.answers
    )
    several = tuple(together_lines(found))
    back = asks_back(found)
    return LevelsAnswer(eggs_line(found), dry_mix_line(found), tuple(answers), several, back)


def found_for(told: LevelsTable) -> Levels:
    """The answer to a question as a page asks it.

    Raises
    ------
    InputError: whatever cannot be read.
    """
    return levels(understand(as_asked(told)))


def as_asked(told: LevelsTable) -> Asked:
    """A question as a page asks it, as any door does."""
    named = tuple(f"{one.name}: {one.level}" if one.name else one.level for one in told.level)
    return Asked(
        named,
        told.eggs,
        dry_mix=told.dry_mix or None,
        carriers=_known(tuple(one.carrier for one in told.level)),
        strengths=_known(tuple(one.strength for one in told.level)),
        use=told.use,
        syringes=told.syringes or None,
        drops_per_ml=told.drops_per_ml,
    )


def _known(words: tuple[str, ...]) -> tuple[str, ...]:
    """One for each; nothing where none is told."""
    return words if any(words) else ()
