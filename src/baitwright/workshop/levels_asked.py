"""The levels answer for a page: asked by a table, told line by line."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.workshop.level_lines import answer_lines
from baitwright.workshop.levels import levels
from baitwright.workshop.levels_request import Asked, understand
from baitwright.workshop.levels_words import dry_mix_line, eggs_line, heading, table_rows
from baitwright.workshop.question_tables import LevelsTable


@dataclass(frozen=True, slots=True)
class LevelAnswer:
    """One level: what it is, what is told of it, and the dose for 1 to 12 eggs."""

    title: str
    lines: tuple[tuple[str, str], ...]
    table: tuple[tuple[int, str, str], ...]


@dataclass(frozen=True, slots=True)
class LevelsAnswer:
    """The bowl, the bridge between egg and kilogram, and every level."""

    eggs: str
    bridge: str
    answers: tuple[LevelAnswer, ...]


def answered(told: LevelsTable) -> LevelsAnswer:
    """Answer a question about levels.

    Raises
    ------
    InputError: whatever cannot be read.
    """
    named = tuple(f"{one.name}: {one.level}" if one.name else one.level for one in told.level)
    asked = Asked(
        named,
        told.eggs,
        dry_mix=told.dry_mix or None,
        carriers=_known(tuple(one.carrier for one in told.level)),
        strengths=_known(tuple(one.strength for one in told.level)),
        use=told.use,
        syringes=told.syringes or None,
        drops_per_ml=told.drops_per_ml,
    )
    found = levels(understand(asked))
    answers = (
        LevelAnswer(heading(one), tuple(answer_lines(one, found)), tuple(table_rows(one)))
        for one in found.answers
    )
    return LevelsAnswer(eggs_line(found), dry_mix_line(found), tuple(answers))


def _known(words: tuple[str, ...]) -> tuple[str, ...]:
    """One for each; nothing where none is told."""
    return words if any(words) else ()
