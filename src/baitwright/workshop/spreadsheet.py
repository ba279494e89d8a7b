"""Text for a spreadsheet: no cell of it is ever taken for a formula."""

from __future__ import annotations

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def spreadsheet_text(text: str) -> str:
    """A cell's text, with an apostrophe before what a spreadsheet would calculate."""
    return f"'{text}" if text.startswith(_FORMULA) else text
