"""What really happened, as the maker wrote it down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement of something the plan predicted, in SI.

    ``quantity`` is the predicted quantity's name; ``count`` how many baits were measured together.
    """

    quantity: str
    value: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """The readings of one batch, made on one day, against one plan."""

    plan_name: str
    made_on: datetime | None
    readings: tuple[Reading, ...]
    remark: str = ""
