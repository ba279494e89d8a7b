"""The question what made a batch go wrong, as a page asks it."""

from __future__ import annotations

from typing import Annotated

from baitwright.workshop.faults.faults_asked import noticed
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text


class WhyQuestion(Table):
    """What was noticed, and of which batch."""

    batch: Annotated[
        str, text(about="A batch that went wrong, or one of its bags.", example="2026-11-27/B1")
    ]
    symptom: Annotated[
        str, one_of(tuple(label for label, _ in noticed()), about="What was noticed.")
    ] = ""
