"""An export held against a notebook, before anything comes in."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.merging import Keep
from baitwright.notebook.where import Where
from baitwright.workshop.copies.import_all import Imported, Wish, import_all
from baitwright.workshop.opening.notebook_care import Use, is_there, open_at


def looked_at(place: Where, file: Path, *, now: datetime, keep: Keep | None = None) -> Imported:
    """What an export would bring in; where there is no notebook, none is begun.

    Raises
    ------
    InputError: the file is damaged, of a later program or none of ours.
    """
    wish = Wish(now, keep, is_dry_run=True)
    with TemporaryDirectory() as empty:
        begins = not is_there(place)
        here: Where = Path(empty) / "notebook.sqlite" if begins else place
        use = Use.BEGIN if begins else Use.LOOK
        with open_at(here, use, clock=lambda: now) as book:
            return import_all(book, file, files=shelf_beside(here), wish=wish)


def wish_of(keep: str, *, now: datetime) -> Wish:
    """What is to become of what differs, as it was said."""
    return Wish(now, Keep(keep) if keep else None)
