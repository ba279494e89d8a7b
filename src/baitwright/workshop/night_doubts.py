"""What is doubtful of a night, told when it is written down, while somebody still knows better."""

from __future__ import annotations

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.fished_nights import nights_fished


def doubts_text(book: Notebook, made: Revision) -> str:
    """What of a night cannot be counted as it stands, a line each; nothing of other records."""
    if made.kind != "night" or made.body is None:
        return ""
    doubtful = (one for one in nights_fished(book).doubtful if one.night == made.name)
    return "\n".join(
        f"  doubtful: {one.said}; {'it counts' if one.counted else 'left out'} when baits are "
        "compared"
        for one in doubtful
    )
