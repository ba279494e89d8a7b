"""`mix mend` from what was typed to what is printed or written."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from baitwright.materials.factors import prior_factors
from baitwright.quantities import Kind, read
from baitwright.sheets.explain import explain_all
from baitwright.sheets.layout import paragraph
from baitwright.terms.errors import InputError
from baitwright.workshop.mending.mend_asked import STEP, Mishap
from baitwright.workshop.mending.mend_file import mended_file
from baitwright.workshop.mending.mend_json import mend_json, mend_rows
from baitwright.workshop.mending.mend_made import Beside, Mended
from baitwright.workshop.mending.mend_mix import mended
from baitwright.workshop.mending.mend_read import changed_in, mend_from
from baitwright.workshop.mending.mend_shown import mended_shown
from baitwright.workshop.opening.notebook_care import clock_with_zone
from baitwright.workshop.recipe_files.factors_file import read_factors, write_factors
from baitwright.workshop.recipe_files.mix_file import read_shelf
from baitwright.workshop.told.answer_text import answer_text
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.table_out import write_table
from baitwright.workshop.typed.eggs_text import parse_eggs
from baitwright.workshop.typed.reading import load

HEADER = (
    *("about", "name", "before", "after", "change", "unit"),
    *("8 in 10 from", "8 in 10 to", "note"),
)


_HOW = (
    "Write the set that begins anew with --accept FILE and plan with --factors FILE; what is of "
    "the whole kitchen begins anew with --restart. --write FILE writes the new mix into your file."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MendWanted:
    """What goes with a mix to be mended, as it was typed."""

    without: tuple[str, ...] = ()
    changed: Path | None = None
    instead: tuple[str, ...] = ()
    ingredients: Path | None = None
    name: str = ""
    step: str = ""
    eggs: str = ""
    old_left: str = ""
    factors: Path | None = None
    restart: tuple[str, ...] = ()
    accept: Path | None = None
    write: Path | None = None
    explain: bool = False
    as_json: bool = False
    out: Path | None = None


def mend_told(path: Path, wanted: MendWanted) -> tuple[str, tuple[Path, ...]]:
    """What is printed of a mended mix, and every file that was written besides.

    Raises
    ------
    InputError: a file or anything typed cannot be used.
    """
    data = load(path, what="mix, recipe or wishes")
    asked = mend_from(data, _mishap(wanted), where=str(path))
    told = mended(asked, _beside(wanted))
    return _said(told, wanted), tuple(_written(told, wanted, data))


def _mishap(wanted: MendWanted) -> Mishap:
    changed = {}
    if wanted.changed is not None:
        where = str(wanted.changed)
        changed = dict(changed_in(load(wanted.changed, what="ingredients"), where=where))
    return Mishap(
        without=wanted.without,
        changed=changed,
        instead=wanted.instead,
        shelf={} if wanted.ingredients is None else read_shelf(wanted.ingredients),
        name=wanted.name.strip(),
        step=read(wanted.step, Kind.SHARE, "round_to") if wanted.step else STEP,
    )


def _beside(wanted: MendWanted) -> Beside:
    return Beside(
        now=clock_with_zone(),
        factors=prior_factors() if wanted.factors is None else read_factors(wanted.factors),
        eggs=parse_eggs(wanted.eggs, "eggs") if wanted.eggs else (),
        restart=wanted.restart,
        old_left=read(wanted.old_left, Kind.MASS, "old_left") if wanted.old_left else None,
    )


def _said(told: Mended, wanted: MendWanted) -> str:
    if wanted.as_json:
        return json.dumps(mend_json(told), ensure_ascii=False, indent=2, allow_nan=False) + "\n"
    if wanted.explain and told.made is not None:
        return explain_all(told.made.quantities())
    said = answer_text(mended_shown(told))
    return said if told.made is None else "\n".join([said, *paragraph(_HOW)]) + "\n"


def _written(told: Mended, wanted: MendWanted, data: Mapping[str, Any]) -> list[Path]:
    if told.made is None:
        for field in ("accept", "write", "out"):
            if (path := getattr(wanted, field)) is not None:
                raise InputError(field, str(path), "wishes that a mix can keep, to be written")
        return []
    made: list[Path] = []
    if wanted.write is not None:
        text = mended_file(told, data)
        if wanted.write.exists():
            raise InputError("write", str(wanted.write), "the name of a file that is not there yet")
        contents = {wanted.write.name: text.encode()}
        made += write_together(wanted.write.parent, contents, field="write")
    if wanted.accept is not None:
        made.append(write_factors(wanted.accept, told.made.factors))
    if wanted.out is not None:
        made.append(write_table(wanted.out, HEADER, mend_rows(told), sheet=told.asked.name))
    return made
