"""Baits compared as a picture, and a page that holds it with its table."""

from __future__ import annotations

from pathlib import Path

from baitwright.sheets.picture_page import picture_page
from baitwright.sheets.picture_rates import Rate, rates_picture
from baitwright.sheets.svg import Picture
from baitwright.workshop.comparing.compare import Compared
from baitwright.workshop.comparing.compare_words import compared_text
from baitwright.workshop.told.files import write_together


def write_compared(made: Compared, folder: Path) -> tuple[Path, ...]:
    """Write ``rates.svg`` and ``compare.html``, all or nothing.

    Parameters
    ----------
    made: baits compared.
    folder: made when it is not there; files of these names in it are replaced.

    Returns
    -------
    Where the files are, the page last.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    picture = compared_picture(made)
    paragraphs = [line.strip() for line in compared_text(made).splitlines() if line]
    page = picture_page("Baits", "compared", (picture,), before=(), after=paragraphs)
    contents = {"rates.svg": picture.svg.encode(), "compare.html": page.encode()}
    return write_together(folder, contents, field="out")


def compared_picture(made: Compared) -> Picture:
    """The rate of each bait with its intervals, in no order of merit."""
    rates = tuple(
        Rate(one.name, one.fished.bites, one.fished.rod_hours, one.rate) for one in made.baits
    )
    return rates_picture(rates, name="rates", title="Baits: bites in their rod-hours")
