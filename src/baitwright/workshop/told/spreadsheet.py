"""Text on its way into a spreadsheet and back: no cell of ours is ever run as a formula there."""

from __future__ import annotations

import re

_STARTS = "=+-@\t\r\n＝＋－＠"
_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?", re.ASCII)
_SHIELD = "'"


def spreadsheet_text(cell: object) -> str:
    """A cell as our tables write it: text that would be run as a formula gets an apostrophe first.

    Numbers stay numbers, and nothing is an empty cell. `text_of_cell` is the inverse, so that a
    table of ours comes back as it went.

    Notes
    -----
    Which starts of a cell are run as a formula is recalled from spreadsheets' own behaviour.
    """
    text = "" if cell is None else str(cell)
    return _SHIELD + text if _runs(text.lstrip(_SHIELD)) else text


def text_of_cell(cell: str) -> str:
    """What a cell of a table said before `spreadsheet_text` shielded it."""
    shielded = cell.startswith(_SHIELD) and _runs(cell.lstrip(_SHIELD))
    return cell[1:] if shielded else cell


def _runs(text: str) -> bool:
    """Whether a spreadsheet takes a cell for a formula; spaces before the sign do not help it."""
    bare = text.lstrip(" ")
    return bare.startswith(tuple(_STARTS)) and not _NUMBER.fullmatch(text)
