"""A free bait matched to its hookbait, as a maker reads it, as data, and as a table."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from baitwright.quantities import show
from baitwright.sheets.layout import bullet, heading, paragraph, row
from baitwright.sheets.text_soak import INVENTED
from baitwright.sheets.wording import MARK, defaults_in, figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.baits.beside_words import (
    HEADER,
    IN_BRACKETS,
    beside_json,
    beside_lines,
    beside_rows,
    number_row,
)
from baitwright.workshop.baits.match_baits import Matched
from baitwright.workshop.told.plain import plain, told
from baitwright.workshop.told.table_out import write_table

SIDES = ("hookbait", "free bait")
_OF_THE_WORK = ("mixer", "basket", "swap_time", "rolling_pace", "bulk_packing")
RESTS_ON = (
    "An unsieved base is taken to hold as much egg as the sieved one, since no other figure is "
    "known: weigh the tub of the first portion before and after."
)


def title(made: Matched) -> str:
    """What is matched to what."""
    return f"{made.recipe.name}: its free bait"


def about(made: Matched) -> str:
    """The free bait in one sentence, with everything the hookbait has and it has not."""
    free = made.wanted.free_bait
    without = f", without {', '.join(made.left_out)}" if made.left_out else ""
    return (
        f"{show(free.diameter, 'mm')}, at {show(free.level_share, '%')} of the hookbait's level, "
        f"boiled {made.wanted.hardness}. The same base{without}."
    )


def to_make(made: Matched) -> tuple[Quantity, ...]:
    """What to weigh, crack, measure and fill, in the order of the work."""
    match, batch = made.match, made.batch
    coarse = (match.coarse, batch.raw) if made.wanted.coarse > 0.0 else ()
    doses = (one.mass if one.by_weight else one.volume for one in match.doses)
    return (
        *(match.dry_mix, *coarse, match.eggs, match.egg_volume, *doses, match.paste, batch.lots),
        *(match.baits, batch.rolling, batch.loads, batch.pot, batch.bagged, batch.room),
    )


def taken(made: Matched) -> Iterator[Quantity]:
    """What nobody told of mixer, pot, hands and bags."""
    for name, one in defaults_in(made.batch).items():
        if name.startswith(_OF_THE_WORK):
            yield one


def match_text(made: Matched) -> str:
    """Everything of a free bait beside its hookbait."""
    lines = [title(made), *([INVENTED] if made.recipe.invented else [])]
    lines += paragraph(about(made))
    lines += heading("To make")
    for one in to_make(made):
        lines += row(one.label, figure(one))
    lines += heading("Side by side")
    lines += beside_lines(made.rows, SIDES)
    lines += heading("Keep in mind")
    lines += [line for note in made.notes for line in bullet(note.text)]
    lines += [*bullet(RESTS_ON), *bullet(IN_BRACKETS)]
    lines += heading(f"What was taken {MARK}")
    for one in taken(made):
        lines += row(one.label, figure(one), mark=MARK)
    return "\n".join(lines) + "\n"


def match_json(made: Matched) -> dict[str, Any]:
    """The same as plain data."""
    free = made.wanted.free_bait
    return {
        "recipe": made.recipe.name,
        "invented": made.recipe.invented,
        "free_bait": {
            "diameter_mm": round(1e3 * free.diameter, 6),
            "level_share": free.level_share,
            "hardness": str(made.wanted.hardness),
            "left_out": list(made.left_out),
        },
        "match": plain(made.match),
        "batch": {name: told(getattr(made.batch, name)) for name in made.batch.__slots__},
        "beside": beside_json(made.rows, ("hookbait", "free_bait")),
        "notes": [note.text for note in made.notes],
    }


def write_match(made: Matched, path: Path) -> Path:
    """Write all of it as CSV or as a workbook, by the name's ending.

    Raises
    ------
    InputError: another ending, openpyxl is not installed, or the file cannot be written.
    """
    work = [number_row("to make", SIDES[1], one, label=one.label) for one in to_make(made)]
    return write_table(path, HEADER, [*work, *beside_rows(made.rows, SIDES)], sheet="free bait")
