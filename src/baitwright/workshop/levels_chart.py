"""Levels for the wall: the doses for 1 to 12 eggs and for every grade, on A4 or A5."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from itertools import groupby
from pathlib import Path

from baitwright.quantities import show, tidy
from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.sheets.wording import count_of
from baitwright.workshop.bases import Basis
from baitwright.workshop.files import write_together
from baitwright.workshop.level_advice import advice_lines
from baitwright.workshop.level_lines import answer_lines, between
from baitwright.workshop.levels import Answer, Levels
from baitwright.workshop.levels_grades import GradeRow, by_grade
from baitwright.workshop.levels_together import together_lines
from baitwright.workshop.levels_words import dry_mix_line, heading, table_rows
from baitwright.workshop.unstated import SHOWN

_EGGS = (Column("eggs", 0.6, numbers=True), Column("dose", 1.4, numbers=True), Column("draw to", 4))
_SCALES = {Paper.A4: 1.25, Paper.A5: 1.0}
"""Larger than a list in the hand, as far as one level still has one page."""
_TOLD = ("strength", "judged", "carrier", "flagged", "free bait")


def write_chart(path: Path, found: Levels, *, paper: str, now: datetime) -> Path:
    """Write levels as a PDF for the wall, on `a4` or `a5`.

    Raises
    ------
    InputError: the file cannot be written.
    """
    sheet = replace(levels_chart(found, now=now), scale=_SCALES[Paper(paper)])
    pages = list_pages(sheet, Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def levels_chart(found: Levels, *, now: datetime) -> ListSheet:
    """The chart of an answer: two tables for each level, then the bridge they rest on."""
    tables = [table for one in found.answers for table in _of_level(one, found)]
    rests = Listed("Rests on", (), (), (dry_mix_line(found), *together_lines(found)))
    about = f"{count_of(len(found.answers), 'level')} for a {found.use}"
    return ListSheet("Levels", about, now, (*tables, rests))


def _of_level(answer: Answer, found: Levels) -> tuple[Listed, Listed]:
    rows = tuple((str(eggs), amount, drawn) for eggs, amount, drawn in table_rows(answer))
    told = [*answer_lines(answer, found), *advice_lines(answer, found)]
    remarks = tuple(f"{head}: {words}" for head, words in told if head in _TOLD)
    same = "; ".join(_on(basis) for basis in answer.bases)
    size = show(found.bowl.per_egg, "ml")
    return (
        Listed(
            f"{_named(answer)}, eggs of {size}",
            _EGGS,
            (Group(rows=rows),),
            (f"the same: {same}", *remarks),
        ),
        _grades(answer, found),
    )


def _named(answer: Answer) -> str:
    name, level = heading(answer), answer.liquid.level.text
    return name if name == level else f"{name.partition(':')[0]}, {level}"


def _on(basis: Basis) -> str:
    return f"{between(basis.low, basis.high, basis.unit)} {basis.per}"


def _grades(answer: Answer, found: Levels) -> Listed:
    rows = by_grade(answer, found)
    unit = SHOWN[answer.liquid.level.measure]
    listed = tuple(
        (system, ", ".join(_graded(row, unit) for row in same))
        for system, same in groupby(rows, key=lambda row: row.system)
    )
    columns = (Column("sold as", 1.2), Column(f"{unit} for one egg", 7.0))
    off = tidy(100 * max(row.dose[1] / row.middle - 1.0 for row in rows), 2)
    dry = "" if answer.dose.low == answer.dose.high else " and of the dry mix"
    remark = f"The middle of each grade{dry}; the ends are up to {off} % off."
    return Listed(f"{answer.liquid.name}, by grade", columns, (Group(rows=listed),), (remark,))


def _graded(row: GradeRow, unit: str) -> str:
    return f"{row.grade}: {between(row.middle, row.middle, unit).removesuffix(f' {unit}')}"
