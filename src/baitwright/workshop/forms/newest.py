"""The newest version of a record: read where it must be there, and followed by another."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError


def body_of(page: Page, kind: str, name: str) -> Mapping[str, Any]:
    """What the newest version of a record says.

    Raises
    ------
    InputError: it is not there, or was taken away.
    """
    record = page.latest(kind, name)
    if record is None or record.body is None:
        raise InputError(kind, name, "one that the notebook holds")
    return record.body


def write_again(
    page: Page,
    kind: str,
    name: str,
    *,
    body: Mapping[str, Any],
    now: datetime,
    reason: str = "",
) -> None:
    """Write the next version of a record, be there one or not."""
    record = page.latest(kind, name)
    seen = 0 if record is None else record.version
    page.write(kind, name, body, seen=seen, time=now, reason=reason)
