"""What no choice can bring together: one name for two things, stock taken twice, circles."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import Any

from baitwright.ledger.entries import undoes
from baitwright.ledger.trace import Chain, Link, Place, Stop
from baitwright.notebook.merging import Fate, Merge, new_lines
from baitwright.notebook.page import Page
from baitwright.notebook.rows import Row, rows_of
from baitwright.notebook.tables import reservations
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.shelf.lots import LOT, lots_named, place_of
from baitwright.workshop.shelf.stock import ITEM

_NAME, _RECENT = "name", sys.maxsize


def hindrances(merge: Merge, here: Page, there: Page) -> tuple[str, ...]:
    """Why a file cannot be brought in truthfully, each reason in a sentence."""
    lines = list(new_lines(merge, there))
    found = chain(
        _two_things(merge, lines),
        _two_units(merge, here, there),
        _other_versions(merge, there),
        _taken_twice(lines, here),
        _let_go_twice(merge, here),
        _undone_later(merge, there),
        _circles(merge, here),
        _two_people(merge, here, there),
    )
    return tuple(found)


def _two_things(merge: Merge, lines: Iterable[Row]) -> Iterator[str]:
    """Lots, batches and bags are named in each notebook by day and number: one name, two things."""
    moved = {row["lot"] for row in chain(lines, merge.reservations)}
    moved |= {row["holder"] for row in merge.reservations}
    moved |= {row[f"{end}_name"] for row in merge.links for end in ("source", "into")}
    for one in merge.records:
        is_other = one.fate in (Fate.DIFFERS, Fate.ALIKE) and not one.common
        if is_other and one.kind != ITEM and moved & {one.name, f"{one.kind} {one.name}"}:
            yield f"{one.kind} {one.name} is one thing here and another in the file."


def _two_units(merge: Merge, here: Page, there: Page) -> Iterator[str]:
    for one in merge.differing:
        if one.kind == ITEM:
            units = [_body(page, one.name).get("counted") for page in (here, there)]
            if units[0] != units[1] and None not in units:
                yield f"{one.name} is counted in {units[0]} here and in {units[1]} in the file."


def _taken_twice(lines: Iterable[Row], here: Page) -> Iterator[str]:
    held: dict[str, int] = {}
    items: set[str] = set()
    for row in lines:
        if row["item"] not in items:
            items.add(row["item"])
            held |= here.lots(row["item"])
        held[row["lot"]] = held.get(row["lot"], 0) + row["amount"]
        if row["amount"] < 0 and held[row["lot"]] < 0 and not row["override"].strip():
            yield f"Both took from lot {row['lot']}, more together than it held."
            return


def _other_versions(merge: Merge, there: Page) -> Iterator[str]:
    """A batch says by its number which version of a recipe it was made to."""
    common = {one.name: one.common for one in merge.differing if one.kind == RECIPE}
    for one in merge.records:
        if one.kind == BATCH and common:
            body = _body(there, one.name, BATCH)
            recipe = str(body.get("about"))
            if body.get("recipe_version", 0) > common.get(recipe, _RECENT):
                yield f"batch {one.name} was made to a {recipe} that is not the one here."


def _let_go_twice(merge: Merge, here: Page) -> Iterator[str]:
    reserved: Counter[tuple[str, str, str]] = Counter()
    for row in chain(rows_of(here.connection, reservations), merge.reservations):
        reserved[row["holder"], row["item"], row["lot"]] += row["amount"]
    for (holder, item, _), amount in reserved.items():
        if amount < 0:
            yield f"Both let go of the {item} that was kept for {holder}."
            return


def _undone_later(merge: Merge, there: Page) -> Iterator[str]:
    """What undoes an entry comes directly after it, and is known by that."""
    for entry in sorted(merge.entries):
        follows = merge.numbers.get(entry - 1, 0) + 1 == merge.numbers[entry]
        if not follows and undoes(there.entry_lines(entry), there.entry_lines(entry - 1)):
            yield "The file undoes an entry of the shelf's book after which others came here."
            return


def _circles(merge: Merge, here: Page) -> Iterator[str]:
    if not merge.links:
        return
    try:
        Chain(chain(here.links(), map(link_of, merge.links)))
    except InputError as error:
        yield f"What went into what would go round in a circle: {error.got}."


def _two_people(merge: Merge, here: Page, there: Page) -> Iterator[str]:
    mine, theirs = here.persons(), there.persons()
    for code in merge.differing_people:
        known, told = mine[code] or {}, theirs[code]
        if told is not None and known.get(_NAME) != told.get(_NAME):
            yield f"{code} is somebody else here."


def link_of(row: Row) -> Link:
    """A line of the table of links."""
    source = Place(Stop(row["source_stop"]), row["source_name"])
    return Link(source, Place(Stop(row["into_stop"]), row["into_name"]))


def _body(page: Page, name: str, kind: str = ITEM) -> Mapping[str, Any]:
    latest = page.latest(kind, name)
    return {} if latest is None or latest.body is None else latest.body


def joined(merge: Merge, here: Page) -> Iterator[tuple[str, Place]]:
    """Lots from which something newly goes on, with that; and those that were written anew."""
    for link in map(link_of, merge.links):
        yield link.source.name, link.into
    changed = (one.name for one in merge.records if one.kind == LOT and one.fate is not Fate.ALIKE)
    for name, lot in lots_named(here, changed):
        yield name, place_of(name, lot)
