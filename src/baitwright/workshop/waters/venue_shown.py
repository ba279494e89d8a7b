"""A water's rules as plan and batch show them: what is broken open, all of them behind a fold."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.workshop.waters.venue import Held
from baitwright.workshop.waters.venue_words import finding_words, headline, where_from


@dataclass(frozen=True, slots=True)
class HeldShown:
    """The rules in words."""

    water: str
    headline: str
    broken: tuple[str, ...]
    every: tuple[str, ...]
    where_from: str


def held_shown(held: Held | None) -> HeldShown | None:
    """What a page shows of rules; nothing where no water is named."""
    if held is None:
        return None
    every = held.findings if held.rules is not None else ()
    return HeldShown(
        held.water,
        headline(held),
        tuple(map(finding_words, held.broken)),
        tuple(map(finding_words, every)),
        where_from(held),
    )
