"""Labels in words, for programs and on paper."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from baitwright.materials.labels import label_size
from baitwright.sheets.labels import (
    allergen_words,
    best_words,
    caution_words,
    keeping_words,
    label_pages,
    label_text,
    lot_code,
    made_words,
)
from baitwright.workshop.labels.labels import Labels
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.worth_words import as_json


def write_labels(path: Path, labels: Labels, *, paper: str, skip: int = 0) -> Path:
    """Write labels as a PDF.

    Parameters
    ----------
    path: of the file.
    labels: each so many times.
    paper: which size, by its id or name.
    skip: places of the first page to leave free.

    Raises
    ------
    InputError: no such size, words that it has no room for, or a file that cannot be written.
    """
    pages = label_pages(labels, label_size(paper), skip=skip)
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def labels_text(labels: Labels) -> str:
    """Each label's words, and how many of it."""
    return "\n\n".join(f"{count} of:\n{label_text(one)}" for one, count in labels)


def labels_shown(labels: Labels, *, paper: str) -> list[dict[str, Any]]:
    """The same for a page: the words of each, and the sign of its lot for a phone to read.

    Raises
    ------
    InputError: no such size, or a lot that is too long for it.
    """
    size = label_size(paper)
    return [
        {
            "label": one,
            "copies": count,
            "made": made_words(one),
            "best": best_words(one),
            "keep": keeping_words(one),
            "allergens": allergen_words(one),
            "cautions": caution_words(one),
            "code": lot_code(one.lot, size).picture,
        }
        for one, count in labels
    ]


def labels_json(labels: Labels) -> str:
    """The same for programs."""
    told = [
        {
            **asdict(one),
            "copies": count,
            "allergen_words": allergen_words(one),
            "caution_words": caution_words(one),
        }
        for one, count in labels
    ]
    return as_json({"labels": told})
