"""The text of a recipe's version, and what two of them say otherwise."""

from __future__ import annotations

import tomllib

from baitwright.notebook.page import Revision
from baitwright.workshop.forms.changes import Change, entries_changed

RECIPE = "recipe"


def text_of(revision: Revision) -> str:
    """The recipe file as it was kept; nothing where it was taken away."""
    return "" if revision.body is None else str(revision.body["toml"])


def changes_between(before: str, after: str) -> tuple[Change, ...]:
    """What differs between two recipe files, entry by entry, in the order of the later one."""
    old, new = (tomllib.loads(text.lstrip("\ufeff")) for text in (before, after))
    return entries_changed(old, new)
