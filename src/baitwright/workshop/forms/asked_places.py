"""Which field of a page an error is about."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import KEY, SHARE, Group


@dataclass(frozen=True, slots=True)
class Wrong:
    """An error as a page tells it: what it says, and at which field."""

    said: str
    place: str


def wrong(group: Group, error: InputError) -> Wrong:
    """An error of what a group's fields were told."""
    return Wrong(str(error), place_of(group, error.field))


def place_of(group: Group, refused: str) -> str:
    """The field of a page that an error is about, by what the error calls it; nothing if none is.

    ``base.parts.semolina`` is the row whose key is semolina.
    """
    names = {one.name for one in group.walk()}
    if refused in names:
        return refused
    above, _, key = refused.rpartition(".")
    for one in group.walk():
        if one.name.startswith(f"{above}[") and one.value == key.strip('"'):
            return one.name.removesuffix(KEY) + SHARE
    rest = sorted(group.walk(), key=lambda one: (not one.is_required, one.name))
    begun = [one.name for one in rest if refused and one.name.startswith(refused)]
    ends = [one.name for one in rest if refused and one.name.endswith(f".{refused}")]
    return next(iter((*begun, *ends)), "")
