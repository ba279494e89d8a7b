"""What a maker does with a notebook, one deed each, as the doors do it: opened, done, closed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Server, Where, folder_of
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.bench.bench_book import tap
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.copies.exports_noted import export_noted
from baitwright.workshop.copies.import_all import Wish, import_all
from baitwright.workshop.copies.purge import loss_of, purge
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.opening.notebook_care import Use, copy_now, open_at, put_back
from baitwright.workshop.recipes.recipe_shelf import keep_recipe
from baitwright.workshop.records.attaching import Waiting, attach
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.strip.bench_tap import Tap, Tapped
from baitwright.workshop.tables.food_import import import_foods
from baitwright.workshop.tables.table_file import HowToRead
from baitwright.workshop.tables.table_import import Wishes, import_table
from tests.workshop.batching import DELIVERIES, NOW, PLAN
from tests.workshop.records import write
from tests.workshop.shelf import path, planned

LATER = NOW + timedelta(hours=1)
BATCH = "2026-11-27/B1"
NIGHT = ("day=2026-11-20", "water=Long Reedpool")
TABLE = "item,amount,price\nsemolina,25 kg,32.50\nsoya,5 kg,9.10\n"
FOODS = "name,WATER,PROCNT,FAT,CHOCDF,FIBTG,ASH\nInvented meal,10,30,10,40,0,10\n"
PHOTO = b"\xff\xd8\xff" + bytes(range(256)) * 40
COME = "came"
"""The folder of files that came from elsewhere, below the notebook's."""


def clock() -> Any:
    """When all of it is done."""
    return LATER


def furnish(place: Where) -> None:
    """A notebook with a shelf, a planned batch, a night and a copy, and files to bring in."""
    came = folder_of(place) / COME
    came.mkdir(parents=True)
    (came / "table.csv").write_text(TABLE, encoding="utf-8")
    (came / "foods.csv").write_text(FOODS, encoding="utf-8")
    (came / "photo.jpg").write_bytes(PHOTO)
    with open_at(place, Use.BEGIN, clock=lambda: NOW) as book:
        for one in DELIVERIES:
            bring_in(book, one, now=NOW)
        plan_into(book, path(PLAN[0]), planned(*PLAN), now=NOW)
        _night(book, name="2026-11-20/1")
    copy_now(place, clock=lambda: NOW)
    with open_at(place, Use.CHANGE, clock=lambda: NOW) as book:
        bring_in(book, DELIVERIES[2], now=NOW)
    with open_at(came / "other.sqlite", Use.BEGIN, clock=lambda: NOW) as other:
        (came / "other.jpg").write_bytes(PHOTO)
        _night(other, f"files={came / 'other.jpg'}", name="2026-11-21/1")
        bring_in(other, DELIVERIES[1], now=NOW - timedelta(days=1))
        export_all(other, came / "other.zip", files=shelf_beside(other.place), now=NOW)


def _night(book: Notebook, *more: str, name: str) -> None:
    if isinstance(book.place, Server):
        from baitwright.workshop.records.record_forms import record
        from tests.workshop.records import told

        folder = folder_of(book.place)
        record(
            book, FORMS["night"], told("night", *NIGHT, *more, name=name, folder=folder), now=NOW
        )
    else:
        write(book, "night", *NIGHT, *more, name=name)


@dataclass(frozen=True, slots=True)
class Deed:
    """Something done in a place, and what may differ between one doing of it and another.

    Parameters
    ----------
    name: as a maker would call it.
    does: it, with the notebook open.
    may_differ: kinds of records of which a failed one may leave a note behind.
    """

    name: str
    does: Callable[[Notebook], object]
    may_differ: tuple[str, ...] = ()

    def do(self, place: Where) -> None:
        """Open the notebook, do it, close it."""
        with open_at(place, Use.CHANGE, clock=clock) as book:
            self.does(book)


@dataclass(frozen=True, slots=True)
class Closed(Deed):
    """A deed on a notebook that is not open."""

    def do(self, place: Where) -> None:
        """Do it."""
        deeds: Mapping[str, Callable[[Where], object]] = {
            "back up": lambda place: copy_now(place, clock=clock),
            "restore": lambda place: put_back(place, None, clock=clock),
        }
        deeds[self.name](place)


def _came(book: Notebook, name: str) -> Path:
    return folder_of(book.place) / COME / name


def _recipe(book: Notebook) -> None:
    text = path(PLAN[0]).read_text(encoding="utf-8") + "\n# once more\n"
    keep_recipe(book, text, now=LATER)


def _made(book: Notebook) -> None:
    made(book, BATCH, Making(BatchTable.model_construct(baits_made=264)), now=LATER)


def _plan(book: Notebook) -> None:
    plan_into(book, path(PLAN[0]), planned(*PLAN), now=LATER)


def _import(book: Notebook) -> None:
    files = shelf_beside(book.place)
    import_all(book, _came(book, "other.zip"), files=files, wish=Wish(LATER))


def _attach(book: Notebook) -> None:
    waiting = Waiting(_came(book, "photo.jpg"), shelf_beside(book.place))
    attach(book, FORMS["night"], "2026-11-20/1", waiting=waiting, now=LATER)


def _export(book: Notebook) -> None:
    into = folder_of(book.place) / "out.zip"
    export_noted(book, into, files=shelf_beside(book.place), now=LATER)


def _purge(book: Notebook) -> None:
    left = purge(book, loss_of(book, "night", "2026-11-20/1"), now=LATER)
    if left:
        from baitwright.terms.errors import InputError

        raise InputError("purge", sorted(map(str, left)), "copies that can be written to")


def _tap(book: Notebook) -> None:
    tap(book, BATCH, [Tap("tap-00000001", Tapped.DONE, LATER, step="1")], now=LATER)


def _table(book: Notebook) -> None:
    import_table(book, _came(book, "table.csv"), Wishes(), now=LATER)


def _foods(book: Notebook) -> None:
    import_foods(book, _came(book, "foods.csv"), HowToRead(), now=LATER)


DEEDS = {
    deed.name: deed
    for deed in (
        Deed("keep a recipe", _recipe),
        Deed("plan a batch", _plan),
        Deed("make a batch", _made),
        Deed("take a delivery in", lambda book: bring_in(book, DELIVERIES[3], now=LATER)),
        Deed("undo the last entry", lambda book: undo_last(book, now=LATER)),
        Deed("tap at the bench", _tap),
        Deed("write a night down", lambda book: _night(book, name="2026-11-22/1")),
        Deed("attach a photo", _attach),
        Deed("bring in a table", _table),
        Deed("bring in foods", _foods),
        Deed("merge an export", _import),
        Deed("export", _export, may_differ=("export",)),
        Deed("purge", _purge),
        Closed("back up", lambda book: None),
        Closed("restore", lambda book: None),
    )
}
