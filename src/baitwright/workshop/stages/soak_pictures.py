"""A soak in pictures: four drawings, and one page with them and their tables."""

from __future__ import annotations

from pathlib import Path

from baitwright.batch.soak_table import SoakTable
from baitwright.sheets.pictures import soak_page, soak_pictures
from baitwright.workshop.told.files import write_together


def write_soak(made: SoakTable, folder: Path) -> tuple[Path, ...]:
    """Write ``bait``, ``lift``, ``flavour`` and ``water`` as SVG and ``soak.html``, all or nothing.

    Parameters
    ----------
    made: the soak.
    folder: made when it is not there; files of these names in it are replaced.

    Returns
    -------
    Where the files are, the page last.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    pictures = soak_pictures(made)
    contents = {f"{picture.name}.svg": picture.svg.encode() for picture in pictures}
    contents["soak.html"] = soak_page(made, pictures).encode()
    return write_together(folder, contents, field="out")
