"""What is remarked on when baits are put away: wishes not met, what is added, what is lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from baitwright.materials.keeping import KeepingLine, Preserver, preservers_in
from baitwright.materials.liquids import carrier
from baitwright.quantities import percent, show
from baitwright.recipe.bench import Storage
from baitwright.recipe.model import Recipe
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Origin, Quantity, unwrap
from baitwright.uncertainty.bands import median_of

_ALCOHOLS = ("ethanol", "isopropanol")
_NEARLY_ALL = 0.95
"""A tray counts as freezing when this share of it does."""


class Place(Protocol):
    """What the notes read of a place."""

    @property
    def place(self) -> str:
        """Fridge, ambient or freezer."""

    @property
    def temperature(self) -> Quantity:
        """How warm it is."""

    @property
    def cautious(self) -> Quantity:
        """The days to plan with."""

    @property
    def lines(self) -> tuple[KeepingLine, ...]:
        """What authorities say of it."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What was asked, the places, and the share of baits that freezes."""

    recipe: Recipe
    store: Storage
    places: Sequence[Place]
    freezes: Quantity


def keeping_notes(kept: Kept) -> tuple[Note, ...]:
    """Every note on keeping."""
    return (
        *_on_wish(kept),
        *_on_warm_places(kept),
        *_on_pack(kept),
        *_on_freezing(kept),
        *_on_additions(kept.recipe),
        *_on_flavour(kept.recipe),
    )


def _on_wish(kept: Kept) -> list[Note]:
    wish = kept.store.keep_for
    if wish is None:
        return []
    fridge, freezer = (
        next(one for one in kept.places if one.place == name) for name in ("fridge", "freezer")
    )
    if float(unwrap(fridge.cautious.value)) >= wish:
        return []
    text = (
        f"They are wanted for {show(wish, 'd')}, and the fridge is planned with "
        f"{_days(fridge)}: bag what is for later by outing and freeze it, dry them further, or "
        "make fewer."
    )
    if float(unwrap(freezer.cautious.value)) < wish:
        text += f" The freezer too is planned with no more than {_days(freezer)}."
    return [Note("keep", text, "judgement", Weight.DOUBT)]


def _days(place: Place) -> str:
    days = float(unwrap(place.cautious.value))
    return show(days, "d") if days > 0.0 else "less than a day"


def _on_warm_places(kept: Kept) -> list[Note]:
    notes = []
    for one in kept.places:
        if one.place == "ambient":
            continue
        here = median_of(one.temperature)
        meant = [line for line in one.lines if line.warmest is not None and here > line.warmest]
        if meant:
            names = "; ".join(f"{line.name}, {show(line.warmest or 0.0, 'C')}" for line in meant)
            text = (
                f"At {show(here, 'C')} the {one.place} is warmer than some of the advice is meant "
                f"for ({names}): take a thermometer to it and count on fewer days."
            )
            known = one.temperature.origin is Origin.GIVEN
            weight = Weight.CAUTION if known else Weight.REMARK
            notes.append(Note("keep", text, meant[0].source, weight))
    return notes


def _on_pack(kept: Kept) -> list[Note]:
    if kept.store.packed is False:
        text = (
            "Left open in the fridge they go on drying and take up smells; the days are worked "
            "out for closed bags, where the skin draws water from the middle."
        )
        return [Note("keep", text, "crank-1975")]
    text = (
        "Bag them cold: a bag closed warm sweats. In the bag water from the middle moistens the "
        "skin within a day or two. A bag filled after drying in the open counts for the tables as "
        "no pack."
    )
    return [Note("keep", text, "fda-food-code")]


def _on_freezing(kept: Kept) -> list[Note]:
    freezes = float(unwrap(kept.freezes.value))
    thaw = (
        "Thaw in the closed bag in the fridge, so that water settles on the bag and not on the "
        "baits; use what is thawed within the days of the fridge and do not freeze it again."
    )
    notes = [Note("keep", thaw, "common-practice")]
    if freezes < _NEARLY_ALL:
        text = (
            f"In the freezer ice forms in {percent(freezes)} of these baits only; the rest are too "
            "dry for it and are kept by the cold alone."
        )
        notes.insert(0, Note("keep", text, "murphy-koop-2005"))
    return notes


def _on_additions(recipe: Recipe) -> list[Note]:
    names = [liquid.name for liquid in recipe.liquids]
    names += [
        liquid.strength
        for liquid in recipe.liquids
        if liquid.strength == "sweetener" and not preservers_in(liquid.name)
    ]
    names += [part.ingredient for part in recipe.base.parts]
    found: dict[str, tuple[str, Preserver]] = {}
    for name in names:
        for row in preservers_in(name):
            found.setdefault(row.id, (name, row))
    return [
        Note(
            "keep",
            f"{name.replace('-', ' ')}, a {row.kind}, is recorded: it {row.text}. No longer life "
            "is counted for it; dose it by its own label.",
            row.source,
            Weight.CAUTION,
        )
        for name, row in found.values()
    ]


def _on_flavour(recipe: Recipe) -> list[Note]:
    notes = []
    open_air = [one.name for one in recipe.liquids if one.carrier in _ALCOHOLS]
    if open_air:
        text = (
            f"{', '.join(open_air)}: the alcohol is gone by the end of an open tray and takes the "
            "lightest of the flavour with it."
        )
        notes.append(Note("keep", text, "judgement"))
    others = [one.name for one in recipe.liquids if carrier(one.carrier).id == "essential-oil"]
    if others:
        text = (
            f"{', '.join(others)}: the light part of an oil leaves from warm open trays; closed "
            "bags and the freezer hold what is left."
        )
        notes.append(Note("keep", text, "judgement"))
    return notes
