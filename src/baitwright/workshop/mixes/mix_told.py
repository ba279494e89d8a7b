"""`mix analyse` from what was typed to what is printed or written."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from baitwright.materials.factors import prior_factors
from baitwright.materials.sieves import sieve
from baitwright.notebook.where import Where
from baitwright.quantities import Kind, read
from baitwright.sheets.explain import explain_all
from baitwright.terms.errors import InputError
from baitwright.workshop.mixes import mix_customer, mix_rows
from baitwright.workshop.mixes.mix_analysis import Analysed, Besides, analysed
from baitwright.workshop.mixes.mix_json import mix_json
from baitwright.workshop.mixes.mix_limits import read_limit
from baitwright.workshop.mixes.mix_prices import priced_by_shelf
from baitwright.workshop.mixes.mix_words import mix_text
from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.mix_file import MixAsked, changed, read_mix
from baitwright.workshop.told.table_out import write_table
from baitwright.workshop.typed.eggs_text import parse_eggs


@dataclass(frozen=True, slots=True, kw_only=True)
class MixWanted:
    """What goes with a mix file, as it was typed."""

    notebook: Where
    ingredients: Path | None = None
    shelf: bool = False
    eggs: str = ""
    dry_mix: str = ""
    water: str = ""
    hold: tuple[str, ...] = ()
    mesh: str = ""
    carp: bool = False
    factors: Path | None = None
    customer: bool = False
    explain: bool = False
    as_json: bool = False
    out: Path | None = None


def told_of(path: Path, wanted: MixWanted) -> tuple[str, Path | None]:
    """What is printed of a mix, and the table that was written besides, where one is wanted.

    Raises
    ------
    InputError: a file or anything typed cannot be used.
    """
    if wanted.customer and (wanted.explain or wanted.carp):
        kind = "--explain" if wanted.explain else "--carp"
        raise InputError("customer", kind, "a customer's sheet alone, which opens no number")
    found = analysed(_asked(path, wanted), _besides(wanted))
    said = _said(found, wanted)
    if wanted.out is None:
        return said, None
    return said, _written(found, wanted.out, customer=wanted.customer)


def _asked(path: Path, wanted: MixWanted) -> MixAsked:
    asked = read_mix(path, wanted.ingredients)
    dry_mix = read(wanted.dry_mix, Kind.MASS, "dry_mix") if wanted.dry_mix else None
    water = read(wanted.water, Kind.SHARE, "water") if wanted.water else None
    asked = changed(asked, dry_mix=dry_mix, water=water)
    if not wanted.shelf:
        return asked
    with open_at(wanted.notebook, Use.LOOK, clock=clock_with_zone) as book:
        return priced_by_shelf(book, asked)


def _besides(wanted: MixWanted) -> Besides:
    return Besides(
        eggs=parse_eggs(wanted.eggs, "eggs") if wanted.eggs else (),
        factors=prior_factors() if wanted.factors is None else read_factors(wanted.factors),
        limits=tuple(read_limit(one, "hold") for one in wanted.hold),
        mesh=sieve(wanted.mesh, "mesh").id if wanted.mesh else None,
        carp=wanted.carp,
    )


def _said(found: Analysed, wanted: MixWanted) -> str:
    if wanted.as_json:
        data = mix_customer.customer_json(found) if wanted.customer else mix_json(found)
        return json.dumps(data, ensure_ascii=False, indent=2) + "\n"
    if wanted.customer:
        return mix_customer.customer_text(found)
    if wanted.explain:
        return explain_all(found.quantities())
    return mix_text(found)


def _written(found: Analysed, out: Path, *, customer: bool) -> Path:
    sheet = found.asked.told.base.name
    if customer:
        return write_table(out, mix_customer.HEADER, mix_customer.customer_rows(found), sheet=sheet)
    return write_table(out, mix_rows.HEADER, mix_rows.mix_rows(found), sheet=sheet)
