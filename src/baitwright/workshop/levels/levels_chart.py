"""Levels for the wall: the doses for 1 to 12 eggs and for every grade, on A4 or A5."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from itertools import groupby
from pathlib import Path

from baitwright.quantities import show, tidy
from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.workshop.levels import levels_said as words
from baitwright.workshop.levels.level_advice import advice_lines
from baitwright.workshop.levels.level_lines import answer_lines, between
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.levels.levels_grades import GradeRow, by_grade
from baitwright.workshop.levels.levels_said import ENGLISH, Said
from baitwright.workshop.levels.levels_together import together_lines
from baitwright.workshop.levels.levels_words import heading
from baitwright.workshop.told.files import write_together
from baitwright.workshop.typed.unstated import SHOWN

_SCALES = {Paper.A4: 1.25, Paper.A5: 1.0}
"""Larger than a list in the hand, as far as one level still has one page."""
_TOLD = ("strength", "judged", "carrier", "flagged", "free bait")


def write_chart(
    path: Path, found: Levels, *, paper: str, now: datetime, say: Said = ENGLISH
) -> Path:
    """Write levels as a PDF for the wall, on `a4` or `a5`, in the words of a language.

    Raises
    ------
    InputError: the file cannot be written.
    """
    sheet = replace(levels_chart(found, now=now, say=say), scale=_SCALES[Paper(paper)])
    pages = list_pages(sheet, Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def levels_chart(found: Levels, *, now: datetime, say: Said = ENGLISH) -> ListSheet:
    """The chart of an answer: two tables for each level, then the bridge they rest on."""
    tables = [table for one in found.answers for table in _of_level(one, found, say)]
    remarks = (say.dry_mix(found), *together_lines(found))
    rests = Listed(say(words.RESTS_ON), (), (), remarks)
    title, about = say(words.TITLE), say.about(found)
    return ListSheet(title, about, now, (*tables, rests), language=say.language)


def _of_level(answer: Answer, found: Levels, say: Said) -> tuple[Listed, Listed]:
    unit = SHOWN[answer.liquid.level.measure]
    rows = tuple(
        (str(row.eggs), say.span(row.dose, row.dose, unit), say.drawn(row.fill))
        for row in answer.table
    )
    told = [*answer_lines(answer, found), *advice_lines(answer, found)]
    remarks = tuple(f"{say(head)}: {line}" for head, line in told if head in _TOLD)
    same = "; ".join(say.on(basis, found) for basis in answer.bases)
    size = show(found.bowl.per_egg, "ml")
    return (
        Listed(
            say(words.OF_SIZE, level=_named(answer), size=size),
            (
                Column(say(words.EGGS), 0.6, numbers=True),
                Column(say(words.DOSE), 1.4, numbers=True),
                Column(say(words.DRAW_TO), 4),
            ),
            (Group(rows=rows),),
            (f"{say(words.THE_SAME)}: {same}", *remarks),
        ),
        _grades(answer, found, say),
    )


def _named(answer: Answer) -> str:
    name, level = heading(answer), answer.liquid.level.text
    return name if name == level else f"{name.partition(':')[0]}, {level}"


def _grades(answer: Answer, found: Levels, say: Said) -> Listed:
    rows = by_grade(answer, found)
    unit = SHOWN[answer.liquid.level.measure]
    listed = tuple(
        (system, ", ".join(_graded(row, unit, say) for row in same))
        for system, same in groupby(rows, key=lambda row: row.system)
    )
    columns = (Column(say(words.SOLD_AS), 1.2), Column(say(words.FOR_ONE_EGG, unit=unit), 7.0))
    off = tidy(100 * max(row.dose[1] / row.middle - 1.0 for row in rows), 2)
    title = say(words.BY_GRADE, liquid=answer.liquid.name)
    return Listed(title, columns, (Group(rows=listed),), (say.ends(answer, off),))


def _graded(row: GradeRow, unit: str, say: Said) -> str:
    amount = between(row.middle, row.middle, unit).removesuffix(f" {unit}")
    return f"{row.grade}: {say.figure(amount)}"
