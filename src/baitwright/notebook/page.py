"""A page of the notebook: what is read and written in one transaction."""

from __future__ import annotations

from baitwright.notebook.people import People
from baitwright.notebook.record_lists import Revision
from baitwright.notebook.records import LONGEST_BODY, ChangedMeanwhileError, Records
from baitwright.notebook.reserved import Reserved
from baitwright.notebook.shelf_book import ShelfBook
from baitwright.notebook.traces import Traces

__all__ = ["LONGEST_BODY", "ChangedMeanwhileError", "Page", "Revision"]


class Page(Records, ShelfBook, Reserved, Traces, People):
    """What a transaction reads and writes: records, the shelf's book, traces and people."""
