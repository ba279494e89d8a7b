"""What is doubtful of a night, told when it is written down, while somebody still knows better."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from baitwright.notebook.merging import Fate, Merge
from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.care.venue_asked import night_held
from baitwright.workshop.nights.counted_rods import Doubtful
from baitwright.workshop.nights.fished_nights import nights_fished
from baitwright.workshop.waters.venue_words import venue_lines

NIGHT = "night"


def doubts_of(book: Notebook, nights: Collection[str]) -> tuple[Doubtful, ...]:
    """What of these nights cannot be counted as it stands."""
    if not nights:
        return ()
    return tuple(one for one in nights_fished(book).doubtful if one.night in nights)


def doubts_that_came(book: Notebook, merge: Merge | None) -> tuple[Doubtful, ...]:
    """The same of the nights that an import brought: of all where the notebook was empty."""
    if merge is None:
        with book.reading() as page:
            return doubts_of(book, frozenset(page.names(NIGHT)))
    came = (one for one in merge.records if one.kind == NIGHT and one.fate is not Fate.ALIKE)
    return doubts_of(book, frozenset(one.name for one in came))


def doubts_text(book: Notebook, made: Revision) -> str:
    """The same of a record that was written, and what rule of its water it broke, a line each.

    Nothing of other records than nights.
    """
    lines = [f"  doubtful: {doubt_words(one)}" for one in _of(book, made)]
    held = night_held(book, made)
    if held is not None and held.broken:
        lines += venue_lines(held, every=False)
    return "\n".join(lines)


def doubts_json(book: Notebook, made: Revision) -> list[dict[str, Any]]:
    """The same for programs."""
    return [doubt_json(one) for one in _of(book, made)]


def doubt_words(one: Doubtful) -> str:
    """What is doubtful, and whether it counts all the same."""
    counts = "it counts" if one.counted else "left out"
    return f"{one.said}; {counts} when baits are compared"


def doubt_json(one: Doubtful) -> dict[str, Any]:
    """The same for programs."""
    return {"night": one.night, "said": one.said, "counted": one.counted}


def _of(book: Notebook, made: Revision) -> tuple[Doubtful, ...]:
    return doubts_of(book, {made.name} if made.kind == NIGHT and made.body is not None else set())
