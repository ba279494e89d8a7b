"""Programs that write, restore, make, update and import notebooks, until they are killed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from tempfile import mkdtemp

import alembic.command  # noqa: F401 - read once, before writers are forked from this

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.store import open_notebook
from baitwright.notebook.where import Where, folder_of, where_is
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.copies.import_all import Wish, import_all
from tests.notebook.kitchen import begin_long_ago, room_in

IN_A_FILE = 20
"""Batches of each file that is imported."""
NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
Say = Callable[[str], None]


def write_batches(place: Where, first: int, say: Say) -> None:
    """Write batches from a number on; "begun" is said inside the transaction, "kept" after it."""
    book = open_notebook(place, now=NOW)
    for at in count(first):
        name = f"{at:06d}"
        with book.writing() as page:
            page.write("tub", name, {"eggs": 3, "notes": "x" * 2000}, seen=0, time=NOW)
            say("begun")
            page.post(
                [
                    Movement("eggs", "eggs", NOW, -3, Decimal(0), Reason.USED, "counted"),
                    Movement("copper", "tub", NOW, -260_000, Decimal(0), Reason.USED, "counted"),
                    Movement("baits", "baits", NOW, 50, Decimal("1.25"), Reason.MADE),
                ]
            )
            page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, name)))
        say("kept")


def put_back_and_forth(place: Where, first: int, say: Say) -> None:
    """Put one copy and the other in the notebook's place; "begun" is said just before."""
    one = back_up(place, now=NOW)
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        for at in range(200):
            page.write("more", f"{first} {at}", {"notes": "x" * 2000}, seen=0, time=NOW)
    book.close()
    other = back_up(place, now=NOW + timedelta(hours=1))
    for at in count(2):
        say("begun")
        restore(place, (one, other)[at % 2], now=NOW + timedelta(hours=at))
        say("kept")


def make_notebooks(place: Where, first: int, say: Say) -> None:
    """Make one notebook after the other; "begun" is said just before."""
    for at in count(first):
        say("begun")
        open_notebook(room_in(place, at), now=NOW).close()
        say("kept")


def take_steps(place: Where, first: int, say: Say) -> None:
    """Bring one old notebook after the other up to date; "begun" is said just before."""
    for at in count(first):
        begin_long_ago(room_in(place, at))
        say("begun")
        open_notebook(room_in(place, at), now=NOW).close()
        say("kept")


def bring_in(place: Where, first: int, say: Say) -> None:
    """Import one file after the other, each of some batches; "begun" is said just before."""
    book, files = open_notebook(place, now=NOW), shelf_beside(place)
    room = Path(mkdtemp(dir=folder_of(place)))  # the one killed before left such files
    for at in count(first):
        other = open_notebook(room / f"source-{at}.sqlite", now=NOW)
        with other.writing() as page:
            for one in range(IN_A_FILE):
                name = f"{at:06d}-{one}"
                page.write("tub", name, {"notes": "x" * 2000}, seen=0, time=NOW)
                page.post([Movement("eggs", "eggs", NOW, 3 + at, Decimal(0), Reason.BOUGHT, name)])
                page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, name)))
        file = export_all(other, room / f"source-{at}.zip", files=files, now=NOW).path
        other.close()
        say("begun")
        import_all(book, file, files=files, wish=Wish(NOW + timedelta(hours=at)))
        say("kept")


WRITERS: Mapping[str, Callable[[Where, int, Say], None]] = {
    "write": write_batches,
    "restore": put_back_and_forth,
    "make": make_notebooks,
    "step": take_steps,
    "import": bring_in,
}


def begin(what: str, told: tuple[str, str], first: int, ear: Connection) -> None:
    """Do one of them at a place (its file or address, and its folder), heard by whoever kills."""
    place, home = told
    WRITERS[what](where_is(place, home=Path(home)), first, ear.send)
