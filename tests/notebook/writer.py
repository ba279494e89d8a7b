"""A program that writes batch after batch and says so, until it is killed."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.store import open_notebook

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)


def say(word: str) -> None:
    sys.stdout.write(f"{word}\n")
    sys.stdout.flush()


def main(place: Path, first: int) -> None:
    """Write batches from a number on; "begun" is said inside the transaction, "kept" after it."""
    book, at = open_notebook(place, now=NOW), first
    while True:
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
        at += 1


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
