"""Names of fields as they are read: with gaps, a unit apart from its number, VAT in capitals."""

from __future__ import annotations

import re

_HOURS = re.compile(r"\b(\d+)h\b")
_VAT = re.compile(r"\bvat\b")


def words_of(name: str) -> str:
    """A field's name in words: ``twenty_at_8h`` is *twenty at 8 h*."""
    return _VAT.sub("VAT", _HOURS.sub(r"\1 h", name.replace("_", " ")))
