"""Programs that write, put copies back, or make notebooks, and say so, until they are killed."""

from __future__ import annotations

import sqlite3
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import count
from pathlib import Path

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.store import open_notebook

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)


def say(word: str) -> None:
    sys.stdout.write(f"{word}\n")
    sys.stdout.flush()


def write_batches(place: Path, first: int) -> None:
    """Write batches from a number on; "begun" is said inside the transaction, "kept" after it."""
    book = open_notebook(place, now=NOW)
    for at in count(first):
        name = f"{at:06d}"
        with book.writing() as page:
            page.write("batch", name, {"eggs": 3, "notes": "x" * 2000}, seen=0, time=NOW)
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


def put_back_and_forth(place: Path, first: int) -> None:
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


def make_notebooks(place: Path, first: int) -> None:
    """Make one notebook after the other; "begun" is said just before."""
    for at in count(first):
        say("begun")
        open_notebook(place.with_name(f"new-{at}.sqlite"), now=NOW).close()
        say("kept")


def take_steps(place: Path, first: int) -> None:
    """Bring one notebook of the first step after the other up to date; "begun" is said before."""
    kept = Path(__file__).with_name("stores") / "0001.sql"
    for at in count(first):
        old = place.with_name(f"old-{at}") / "notebook.sqlite"
        old.parent.mkdir()
        with closing(sqlite3.connect(old)) as plain:
            plain.executescript(kept.read_text(encoding="utf-8"))
        say("begun")
        open_notebook(old, now=NOW).close()
        say("kept")


if __name__ == "__main__":
    what = {
        "write": write_batches,
        "restore": put_back_and_forth,
        "make": make_notebooks,
        "step": take_steps,
    }
    what[sys.argv[1]](Path(sys.argv[2]), int(sys.argv[3]))
