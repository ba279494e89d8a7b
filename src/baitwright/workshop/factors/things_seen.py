"""What the notebook's cores and liquids show of the maker's own factors, lot by lot."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from datetime import date
from typing import TypeVar

from baitwright.batch.dose_notes import STRENGTH
from baitwright.learning.history import Seen
from baitwright.learning.plain_evidence import NOSE, RULE, WEIGHED
from baitwright.materials.cores import Core, cores
from baitwright.notebook.page import Page, Revision
from baitwright.quantities import Kind, read
from baitwright.terms.errors import InputError
from baitwright.workshop.factors.lots_seen import CORE
from baitwright.workshop.forms.form_things import CoreTable, LiquidTable
from baitwright.workshop.forms.read_records import written_in
from baitwright.workshop.typed.nearest import alike
from baitwright.workshop.typed.reading import Table, parse

Told = TypeVar("Told", bound=Table)
_SIZE = re.compile(r"\d+([.,]\d+)?\s*mm\b")


def things_seen(page: Page) -> Iterator[tuple[date, Seen]]:
    """What every lot of cores and liquids that was weighed or smelled shows, with its day."""
    for one in page.all("core"):
        for lot, (when, core) in _by_lot(page, one, CoreTable).items():
            seen = _core(one.name, lot, core)
            if seen is not None:
                yield when, seen
    for one in page.all("liquid"):
        for lot, (when, liquid) in _by_lot(page, one, LiquidTable).items():
            if liquid.times_as_strong is not None:
                ratio = math.log(liquid.times_as_strong)
                yield when, Seen(_record("liquid", one), STRENGTH, one.name, ratio, NOSE**2, lot)


def _by_lot(page: Page, one: Revision, table: type[Told]) -> dict[str, tuple[date, Told]]:
    """The last version of a record for each lot that it had, with the day of that lot's first."""
    found: dict[str, tuple[date, Told]] = {}
    for version in page.history(one.kind, one.name):
        if version.body is None:
            continue
        told = parse(written_in(version), table, where="")
        lot = str(getattr(told, "lot", ""))
        first = found[lot][0] if lot in found else version.time.date()
        found[lot] = first, told
    return found


def _core(name: str, lot: str, told: CoreTable) -> Seen | None:
    """The density of a lot of cores beside the table's, by what some of them weigh together.

    The weight is off as the scale, the room as three times what a rule is, the mean as one ball
    differs from the next over the root of their count.
    """
    kind, size = _kind_of(name), told.diameter or _size_in(name)
    if kind is None or size is None or told.weighed is None:
        return None
    each = told.weighed.weight / told.weighed.count
    density = each / (math.pi / 6.0 * size**3)
    differ = kind.density_ball_spread / kind.density
    blur = WEIGHED**2 + (3.0 * RULE) ** 2 + differ**2 / told.weighed.count
    ratio = math.log(density / kind.density)
    return Seen(f"core {name}", CORE, kind.id, ratio, blur, lot)


def _kind_of(name: str) -> Core | None:
    """The kind of core that a record's name begins with."""
    told = alike(name)
    named = [one for one in cores().values() if told.startswith((alike(one.id), alike(one.name)))]
    return max(named, key=lambda one: len(one.id), default=None)


def _size_in(name: str) -> float | None:
    found = _SIZE.search(name)
    try:
        return None if found is None else read(found.group(), Kind.LENGTH, "core")
    except InputError:
        return None


def _record(kind: str, one: Revision) -> str:
    return f"{kind} {one.name}"
