"""Cautions, allergens and bottles as an answer shows them: of a recipe, or of all that is here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from baitwright.advice.hazards import (
    AtHand,
    Card,
    Cards,
    Doing,
    GroupHere,
    allergens_here,
    cards_of,
    unknown_here,
)
from baitwright.materials.hazard_phrases import codes_in, meaning
from baitwright.quantities import show
from baitwright.sources import source
from baitwright.workshop.care.premises import Premises
from baitwright.workshop.told.answer_parts import Part

STAGES = {
    "shelf": "On the shelf",
    "eggs": "Breaking eggs",
    "dose": "Dosing",
    "mix": "Mixing",
    "roll": "Rolling",
    "boil": "Boiling",
    "coat": "Coating",
    "dry": "Drying",
    "glug": "Glugging",
    "keep": "Keeping",
    "pack": "Packing",
    "fish": "At the water",
    "sell": "Selling",
    "post": "Posting",
}
LIMITS = (
    "What is written here is what labels and sheets were said to say. The supplier's safety data "
    "sheet and your local authority decide."
)


def recipe_hazards(
    at_hand: Sequence[AtHand], *, doings: Iterable[Doing], country: str
) -> tuple[Part, ...]:
    """What a recipe calls for, step by step."""
    cards = cards_of(at_hand, doings=doings, country=country)
    return (*_heads(cards), *card_parts(cards), *allergen_parts(at_hand, all_groups=False))


def premises_hazards(found: Premises, *, doings: Iterable[Doing], country: str) -> tuple[Part, ...]:
    """What all that stands here calls for: bottles, allergens, then cautions."""
    cards = cards_of(found.at_hand, doings=doings, country=country)
    return (
        *_heads(cards),
        *bottle_parts(found),
        *allergen_parts(found.at_hand, all_groups=True),
        *card_parts(cards),
    )


def card_parts(cards: Cards) -> Iterator[Part]:
    """Cautions by the step at which they matter."""
    for stage, several in groupby(cards.cards, key=lambda card: card.caution.stage):
        yield Part(STAGES[stage], points=tuple(map(card_words, several)), is_folded=True)


def card_words(card: Card) -> str:
    """A caution with where it holds, what raised it, whom to ask, its date and its source."""
    one = card.caution
    place = f"{one.place}: " if one.place else ""
    because = f" ({'; '.join(card.because)})" if card.because else ""
    ask = f" Ask {one.ask}." if one.ask else ""
    return f"{place}{one.text}{because}{ask} [{one.checked_on}, {source(one.source).title}]"


def bottle_parts(found: Premises) -> Iterator[Part]:
    """Every liquid with its phrases, its flash point, and the day of its sheet."""
    bottles = [one for one in found.at_hand if one.carrier is not None]
    if bottles:
        yield Part("Bottles", points=tuple(_bottle(one, found) for one in bottles))


def _bottle(one: AtHand, found: Premises) -> str:
    day = found.sheets.get(one.name)
    sheet = f", sheet of {day}" if day else ""
    return f"{one.name}: {phrases(one)}. Flash point: {flash(one)}{sheet}."


def allergen_parts(at_hand: Sequence[AtHand], *, all_groups: bool) -> Iterator[Part]:
    """The fourteen groups with what holds each; of a recipe those alone that are in it."""
    here = allergens_here(at_hand)
    points = [_group(one) for one in here if one.holding or one.perhaps]
    none = [one.group.name for one in here if not (one.holding or one.perhaps)]
    if all_groups and none:
        points.append(f"In nothing that is known here: {', '.join(none)}")
    dark = list(unknown_here(at_hand))
    lines = [f"Not known what is in: {'; '.join(dark)}. Read their labels."] if dark else []
    lines.append("Food law's fourteen groups, as a warning to whoever handles what is here.")
    yield Part("Allergens", points=tuple(points), lines=tuple(lines))


def _group(one: GroupHere) -> str:
    said = [f"in {'; '.join(one.holding)}"] if one.holding else []
    said += [f"perhaps in {'; '.join(one.perhaps)}"] if one.perhaps else []
    return f"{one.group.number} {one.group.name}: {', '.join(said)}"


def phrases(one: AtHand) -> str:
    """Codes of a bottle with what each means in short."""
    told = [f"{code} {meaning(code)}" for code in codes_in(one.sheet.hazards)]
    if told:
        return "; ".join(told)
    return "no hazard phrase" if one.has_sheet else "no sheet written down: not known"


def flash(one: AtHand) -> str:
    """A bottle's flash point; that of its carrier where its sheet has none, and said so."""
    if one.sheet.flash_point is not None:
        return show(one.sheet.flash_point, "C")
    if one.carrier is None or one.carrier.flash_point is None:
        return "not told"
    return f"not told; {one.carrier.name}: {show(one.carrier.flash_point, 'C')}"


def _heads(cards: Cards) -> Iterator[Part]:
    lines = filter(None, (LIMITS, cards.country))
    yield Part(lines=tuple(lines))
