"""What stands behind a number that was not computed here."""

from __future__ import annotations

from enum import StrEnum


class Evidence(StrEnum):
    """What stands behind a number that was not computed here."""

    MEASURED = "measured"
    READ = "read"
    COMPUTED = "computed"
    MEMORY = "memory"
    JUDGEMENT = "judgement"
    PRACTICE = "practice"
