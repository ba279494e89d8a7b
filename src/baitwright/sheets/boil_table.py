"""The table of seconds by size and core: as text, and as a page for the wall over the hob."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from baitwright.batch.boil_table import BoilCell, BoilTable
from baitwright.materials.cores import core as core_row
from baitwright.materials.defaults import default
from baitwright.quantities import show
from baitwright.sheets.layout import paragraph, table
from baitwright.sheets.typeset import pdf_of
from baitwright.sheets.wording import MARK, day, figure
from baitwright.sources import key_said, sources
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Origin, Quantity

_TEMPLATE = Path(__file__).with_name("boil_table.typ")
_SIZE, _CELL, _ABREAST = 8, 11, 6
NO_ROOM = "-"
_IN_TEXT = "First the seconds by which half of the baits have set through, then those for the timer"
_ON_THE_PAGE = "Large, the seconds for the timer; small, those by which half of the baits have set"
KEPT_TO = (
    "at the timer's 9 in 10 have set, and the hold of this hardness is over. Vigorous boil, timed "
    "from when the baits go in. Cut one open: if yours set earlier or later, all numbers move in "
    "the same proportion."
)
_RESTS_ON = ("di-lorenzo-2025", "choi-okos-1986", "crank-1975", "iapws-if97", "judgement")


def boil_table_text(made: BoilTable) -> str:
    """The table in plain text of at most 100 columns, several tables where cores are many."""
    lines = paragraph(f"{made.recipe.name}: {_title(made)}", first="", then="")
    if made.recipe.invented:
        lines += ["Invented demo: maker and recipe do not exist."]
    cores = made.asked.cores
    for first in range(0, len(cores), _ABREAST):
        few = cores[first : first + _ABREAST]
        lines += ["", *table(_rows(made, few), (-_SIZE, *(-_CELL for _ in few)))]
    lines.append("")
    for words in (stands_on(made), f"{_IN_TEXT}: {KEPT_TO}", marks(made)):
        lines += paragraph(words, first="", then="")
    lines += [line for note in made.notes for line in paragraph(_told(note), first="? ")]
    return "\n".join(lines) + "\n"


def boil_table_page(made: BoilTable) -> bytes:
    """The table as a PDF of one A4 page, tagged for screen readers (PDF/UA-1); black on white.

    The same table gives the same bytes: the file is dated by the bench's own ``now``. A name in a
    script the fonts lack still prints, and the file then does not claim the standard.
    """
    return pdf_of(_TEMPLATE, page_data(made), moment=made.bench.now)


def page_data(made: BoilTable) -> dict[str, Any]:
    """Everything the page prints, as text."""
    return {
        "name": made.recipe.name,
        "title": _title(made),
        "invented": made.recipe.invented,
        "made": day(made.bench.now),
        "head": list(head(made.asked.cores)),
        "rows": [_row_of_page(made, size) for size in made.asked.sizes],
        "stands_on": stands_on(made),
        "legend": f"{_ON_THE_PAGE}: {KEPT_TO}",
        "marks": marks(made),
        "notes": [_told(note) for note in made.notes],
        "sources": "; ".join(sources()[key].citation for key in _RESTS_ON),
    }


def _title(made: BoilTable) -> str:
    return f"seconds in the pot, {made.recipe.bait.hardness}"


def head(cores: tuple[float, ...]) -> tuple[str, ...]:
    """What stands over the columns."""
    return ("bait", *("no core" if core == 0.0 else show(core, "mm") for core in cores))


def _rows(made: BoilTable, cores: tuple[float, ...]) -> list[tuple[str, ...]]:
    body = [
        (show(size, "mm"), *(_cell(made.cell(size, core)) for core in cores))
        for size in made.asked.sizes
    ]
    return [head(cores), *body]


def _cell(cell: BoilCell | None) -> str:
    if cell is None:
        return NO_ROOM
    words = f"{figure(cell.middle).number} / {figure(cell.advised).number}"
    return f"({words})" if cell.thin else words


def _row_of_page(made: BoilTable, size: float) -> dict[str, Any]:
    """One size: a large and a small number for each core, or none."""
    cells = []
    for core in made.asked.cores:
        cell = made.cell(size, core)
        if cell is None:
            cells.append({"large": NO_ROOM, "small": ""})
            continue
        large, small = figure(cell.advised).number, figure(cell.middle).number
        cells.append({"large": f"({large})" if cell.thin else large, "small": small})
    return {"size": show(size, "mm"), "cells": cells}


def stands_on(made: BoilTable) -> str:
    """What of pot and place the numbers hold for, defaults marked."""
    cores = [core for core in made.asked.cores if core]
    row = core_row(made.asked.material) if cores else None
    pot = made.bench.pot
    parts = [
        f"pot boiling at {_stated(made.boiling_point)}",
        f"paste going in at {_stated(made.start)}",
        _of_pot("pot_volume", pot.water_volume, "of water"),
        _of_pot("pot_power", pot.net_power, "of heat"),
        _of_pot("basket", pot.basket, "baits at once"),
    ]
    if row is not None:
        parts.append(f"cores: {row.name}")
    return f"For {made.recipe.base.name} paste; {'; '.join(parts)}."


def _stated(quantity: Quantity) -> str:
    mark = MARK if any(part.origin is Origin.DEFAULT for part in quantity.walk()) else ""
    return f"{show(float(quantity.value), 'C')}{mark}"


def _of_pot(key: str, value: float | None, words: str) -> str:
    row = default(key)
    number = show(row.value if value is None else value, "" if row.unit == "1" else row.unit)
    return f"{number}{MARK if value is None else ''} {words}"


def marks(made: BoilTable) -> str:
    """What the signs in the table mean, those that are in it."""
    least = show(default("shell_minimum").value, "mm")
    signs = [f"{MARK} a default nobody has stated"]
    if any(cell.thin for cell in made.cells):
        signs.append(f"( ) less than {least} of paste, which may crack or come off")
    if len(made.cells) < len(made.asked.sizes) * len(made.asked.cores):
        signs.append(f"{NO_ROOM} no room for paste")
    if any(figure(cell.advised).number == "never" for cell in made.cells):
        signs.append("never: 9 in 10 do not set in this pot, however long")
    return "; ".join(signs) + "."


def _told(note: Note) -> str:
    return f"{note.text} [{key_said(note.source)}]"
