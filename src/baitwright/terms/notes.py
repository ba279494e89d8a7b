"""A remark of the program to the maker, with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Weight(StrEnum):
    """How much a note matters."""

    REMARK = "remark"
    DOUBT = "doubt"
    CAUTION = "caution"


@dataclass(frozen=True, slots=True)
class Note:
    """One sentence or two on a stage of the plan, with source key and weight."""

    stage: str
    text: str
    source: str
    weight: Weight = Weight.REMARK
