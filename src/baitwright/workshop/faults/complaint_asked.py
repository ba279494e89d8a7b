"""A complaint followed, with the fault finder asked where it says what was noticed."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.faults.complaint_followed import Followed, followed
from baitwright.workshop.faults.complaint_words import (
    answer_text,
    differs_told,
    samples_told,
    where_told,
)
from baitwright.workshop.faults.complaints import Row
from baitwright.workshop.faults.faults_asked import Found, why_wrong


def why_of(book: Notebook, found: Followed) -> Found | None:
    """What may have made it so; nothing where no symptom or no batch with its plan is told."""
    if not found.row.noticed or not found.batches:
        return None
    try:
        return why_wrong(book, found.batches[0], found.row.noticed)
    except InputError:
        return None


def draft(book: Notebook, name: str) -> str:
    """The answer to a complaint as it could be sent now.

    Raises
    ------
    InputError: no such complaint.
    """
    found = followed(book, name)
    return answer_text(found, why_of(book, found))


def listed_json(rows: Iterable[Row]) -> str:
    """Complaints, for programs."""
    return json.dumps([asdict(one) for one in rows], ensure_ascii=False, indent=2)


def followed_json(found: Followed) -> str:
    """A complaint followed, for programs."""
    told = {
        **asdict(found.row),
        "batches": list(found.batches),
        "who_else": list(where_told(found.recall)),
        "in_quarantine": found.aside,
        "differs": list(differs_told(found.same)),
        "kept_back": [asdict(one) for one in found.samples],
        "sample_told": list(samples_told(found)),
        "cautions": [{"text": one.text, "source": one.source} for one in found.care],
    }
    return json.dumps(told, ensure_ascii=False, indent=2)
