"""What is doubtful of a night, told when it is written down, while somebody still knows better."""

from __future__ import annotations

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.fished_nights import nights_fished
from baitwright.workshop.venue_asked import night_held
from baitwright.workshop.venue_words import venue_lines


def doubts_text(book: Notebook, made: Revision) -> str:
    """What of a night cannot be counted as it stands or broke a rule; nothing of other records."""
    if made.kind != "night" or made.body is None:
        return ""
    doubtful = (one for one in nights_fished(book).doubtful if one.night == made.name)
    lines = [
        f"  doubtful: {one.said}; {'it counts' if one.counted else 'left out'} when baits are "
        "compared"
        for one in doubtful
    ]
    held = night_held(book, made)
    if held is not None and held.broken:
        lines += venue_lines(held, every=False)
    return "\n".join(lines)
