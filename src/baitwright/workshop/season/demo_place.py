"""Where the demonstration's notebook is: beside the maker's own, and never that."""

from __future__ import annotations

from pathlib import Path

from baitwright.notebook.where import Where, folder_of

NAME = "demonstration"


def place_beside(place: Where) -> Path:
    """The demonstration's notebook beside another one."""
    return folder_of(place) / f"{NAME}.sqlite"
