"""Labels in words, for programs and on paper."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from baitwright.materials.labels import label_size
from baitwright.sheets.labels import allergen_words, caution_words, label_pages, label_text
from baitwright.workshop.cost_words import as_json
from baitwright.workshop.files import write_together
from baitwright.workshop.labels import Labels


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
