"""An answer's parts as text for the screen: the same words and numbers as on its page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from baitwright.sheets.layout import WIDTH, bullet, heading, paragraph, row, table
from baitwright.workshop.told.answer_parts import Grid, Part

_GAP = 2
_WORDS = 56
"""The widest a column of words gets before it is folded."""


def answer_text(parts: Iterable[Part]) -> str:
    """Every part, one below the other; pictures stay on the page."""
    lines = [line for part in parts for line in _part(part)]
    return "\n".join(lines).strip("\n") + "\n"


def _part(part: Part) -> Iterator[str]:
    if part.title:
        yield from heading(part.title)
    for large in part.large:
        yield from row(large.label, large.figure, after=large.how)
    for line in part.lines:
        yield from paragraph(line)
    for grid in part.grids:
        yield from _grid(grid)
    for at, step in enumerate(part.steps, start=1):
        yield from bullet(f"{step}.", f"{at}.")
    for point in part.points:
        yield from bullet(point)


def _grid(grid: Grid) -> list[str]:
    rows = [grid.heads, *(tuple(cell.with_band for cell in cells) for cells in grid.rows)]
    if not any(grid.heads):
        rows = rows[1:]
    if not rows:
        return []
    widest = [max(len(cells[at]) for cells in rows) for at in range(len(rows[0]))]
    widths = [min(each, _WORDS) for each in widest]
    room = WIDTH - 2 - _GAP * (len(widths) - 1)
    at = max(range(len(widths)), key=lambda place: widths[place])
    widths[at] -= max(0, sum(widths) - room)
    caption = paragraph(f"{grid.caption}:") if grid.caption else []
    return ["", *caption, *table(rows, tuple(max(1, each) for each in widths)), ""]
