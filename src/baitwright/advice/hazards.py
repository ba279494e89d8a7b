"""What calls for care of all that is at hand: cautions, each with what raised it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from baitwright.batch.cautions import MAKING
from baitwright.materials.care import (
    Sheet,
    triggers_of_liquid,
    triggers_of_name,
    triggers_of_powder,
)
from baitwright.materials.cautions import Caution, raised
from baitwright.materials.countries import country_words
from baitwright.materials.liquids import Carrier
from baitwright.materials.powders import Allergen, Ingredient, allergens

ALWAYS = "always"


class Doing(StrEnum):
    """What is done with what is at hand, which has cautions of its own."""

    MAKING = "making baits"
    SELLING = "selling"


_BY_DOING = {Doing.MAKING: (ALWAYS, *MAKING), Doing.SELLING: ("selling",)}


@dataclass(frozen=True, slots=True)
class AtHand:
    """One thing that stands here: a powder, a liquid, or something of which only a name is known.

    ``named`` are ids of allergen groups that its own labels name; ``is_known`` is false where
    nobody knows which it holds. ``besides`` are triggers of what is done with it, such as a glug.
    """

    name: str
    powder: Ingredient | None = None
    carrier: Carrier | None = None
    sheet: Sheet = field(default_factory=Sheet)
    has_sheet: bool = False
    named: tuple[str, ...] = ()
    is_known: bool = True
    strength: str = ""
    besides: frozenset[str] = frozenset()

    @property
    def triggers(self) -> set[str]:
        """What of it calls for care."""
        found = triggers_of_name(self.name) | self.besides
        if self.powder is not None:
            found |= triggers_of_powder(self.powder)
        if self.carrier is not None:
            found |= triggers_of_liquid(self.name, self.carrier, self.sheet, strength=self.strength)
            if not (self.has_sheet or self.sheet.hazards):
                found.add("no-sheet")
        return found | ({"allergens"} if self.holds or self.may_hold else set())

    @property
    def holds(self) -> frozenset[str]:
        """Allergen groups in it, by its table row and its labels."""
        by_table = frozenset[str]() if self.powder is None else self.powder.contains
        return by_table.union(self.named)

    @property
    def may_hold(self) -> frozenset[str]:
        """Allergen groups that may be in it."""
        return (frozenset[str]() if self.powder is None else self.powder.may_contain) - self.holds


@dataclass(frozen=True, slots=True)
class Card:
    """A caution and the names of what raised it; of none where doing it raised it."""

    caution: Caution
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cards:
    """Cautions in the order of the work, and what is to be said of their country."""

    cards: tuple[Card, ...]
    country: str


def cards_of(
    at_hand: Sequence[AtHand], *, doings: Iterable[Doing] = (), country: str = ""
) -> Cards:
    """Every caution that some things and doings raise, for a country; for all where none is known.

    More things or doings never raise fewer.
    """
    by_doing = {trigger for doing in doings for trigger in _BY_DOING[doing]}
    by_thing = [(one.name, one.triggers) for one in at_hand]
    every = by_doing.union(*(found for _, found in by_thing))
    cards = [
        Card(one, tuple(name for name, found in by_thing if one.trigger in found))
        for one in raised(every, country)
        if one.trigger in every  # what always holds is told only of what is made
    ]
    return Cards(tuple(cards), country_words(country))


@dataclass(frozen=True, slots=True)
class GroupHere:
    """One of the fourteen groups: what of all that is here holds it, and what may."""

    group: Allergen
    holding: tuple[str, ...]
    perhaps: tuple[str, ...]


def allergens_here(at_hand: Sequence[AtHand]) -> tuple[GroupHere, ...]:
    """All fourteen groups in the order of the law, with what is here of each."""
    return tuple(
        GroupHere(
            group,
            tuple(one.name for one in at_hand if group.id in one.holds),
            tuple(one.name for one in at_hand if group.id in one.may_hold),
        )
        for group in allergens().values()
    )


def unknown_here(at_hand: Sequence[AtHand]) -> Iterator[str]:
    """What stands here of which nobody knows what it holds."""
    yield from (one.name for one in at_hand if not one.is_known)
