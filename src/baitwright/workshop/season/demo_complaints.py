"""What the invented season's customers complained of, and the bag that was kept back."""

from __future__ import annotations

from baitwright.workshop.batches.samples import keep_back
from baitwright.workshop.season.demo_writer import Season


def complained(one: Season, batches: tuple[str, ...]) -> None:
    """One complaint that is settled, one that waits, and a sample of its batch."""
    wrong = {"what": "Two baits cracked in the bag.", "bag": f"{batches[0]}/3", "state": "closed"}
    done = {"done": "Bag replaced.", "customer": "person 2"}
    one.write("complaint", {**wrong, **done}, at=one.ago(9))
    keep_back(one.book, f"{batches[2]}/7", "freezer, door", now=one.ago(9))
    mould = {"what": "Mould on one bait, in the fridge.", "bag": f"{batches[2]}/2"}
    one.write("complaint", {**mould, "noticed": "mould", "customer": "person 2"}, at=one.ago(1))
