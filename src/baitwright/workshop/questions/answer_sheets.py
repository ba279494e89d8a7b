"""An answer written as a file: pages, HTML to mail, or text for a message, by the file's ending."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path

from baitwright.advice.answers import Advice
from baitwright.notebook.store import Notebook
from baitwright.sheets.advice_html import advice_html
from baitwright.sheets.advice_message import advice_message
from baitwright.sheets.advice_sheet import advice_pages
from baitwright.sheets.list_sheet import Paper
from baitwright.terms.errors import InputError
from baitwright.workshop.questions.answer_copies import Sheet, write_copy

_SHAPES: Mapping[str, Callable[[Advice, Paper], bytes]] = {
    ".pdf": advice_pages,
    ".html": lambda advice, _: advice_html(advice).encode(),
    ".txt": lambda advice, _: advice_message(advice).encode(),
}
SHAPES = tuple(_SHAPES)


def sheet_of(advice: Advice, ending: str, paper: str = "a4") -> Sheet:
    """An answer as what a file with an ending holds; ``paper`` is of pages.

    Raises
    ------
    InputError: an ending that is none of `SHAPES`.
    """
    make = _SHAPES.get(ending.lower())
    if make is None:
        raise InputError("file", ending, f"a name that ends in {', '.join(SHAPES)}")
    return Sheet(make(advice, Paper(paper)), (advice,))


def write_sheet(book: Notebook, path: Path, advice: Advice, *, paper: str, now: datetime) -> Path:
    """Write an answer as a file, noted for a purge.

    Raises
    ------
    InputError: an ending that is none of `SHAPES`, or what cannot be written.
    """
    return write_copy(book, path, sheet_of(advice, path.suffix, paper), now=now)
