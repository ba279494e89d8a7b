"""All that stands here on paper: bottles with their hazards, allergens, and the cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import groupby
from pathlib import Path

from baitwright.advice.hazards import Cards, Doing, allergens_here, cards_of, unknown_here
from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.sheets.wording import count_of
from baitwright.workshop.care.hazards_shown import LIMITS, STAGES, card_words, flash, phrases
from baitwright.workshop.care.premises import Premises
from baitwright.workshop.told.files import write_together

_BOTTLES = (
    Column("bottle", 1.6),
    Column("on its sheet", 4.4),
    Column("flash point", 1.6),
    Column("sheet of", 1.2),
)
_GROUPS = (Column("group", 1.8), Column("in", 4.0), Column("perhaps in", 2.2))
_CARDS = (Column("at this step", 1.0),)


def write_premises(path: Path, found: Premises, *, country: str, paper: str, now: datetime) -> Path:
    """Write the sheet as a PDF on `a4` or `a5`.

    Raises
    ------
    InputError: the file cannot be written.
    """
    pages = list_pages(premises_sheet(found, country=country, now=now), Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def premises_sheet(
    found: Premises, *, country: str, now: datetime, doings: Iterable[Doing] = ()
) -> ListSheet:
    """The sheet: bottles, the fourteen groups, then cautions by their step."""
    cards = cards_of(found.at_hand, doings=doings, country=country)
    tables = (*_bottles(found), _allergens(found), *_cards(cards))
    about = count_of(len(found.at_hand), "item")
    return ListSheet("Here on the premises", about, now, tables)


def _bottles(found: Premises) -> Iterator[Listed]:
    rows = tuple(
        (one.name, phrases(one), flash(one), found.sheets.get(one.name, ""))
        for one in found.at_hand
        if one.carrier is not None
    )
    if rows:
        yield Listed("Bottles", _BOTTLES, (Group(rows=rows),), (LIMITS,))


def _allergens(found: Premises) -> Listed:
    rows = tuple(
        (
            f"{one.group.number} {one.group.name}",
            "; ".join(one.holding) or "nothing known",
            "; ".join(one.perhaps),
        )
        for one in allergens_here(found.at_hand)
    )
    dark = list(unknown_here(found.at_hand))
    remarks = [f"! Not known what is in: {'; '.join(dark)}."] if dark else []
    return Listed("Allergens", _GROUPS, (Group(rows=rows),), tuple(remarks))


def _cards(cards: Cards) -> Iterator[Listed]:
    groups = tuple(
        Group((STAGES[stage],), tuple((card_words(card),) for card in several))
        for stage, several in groupby(cards.cards, key=lambda card: card.caution.stage)
    )
    if groups:
        remarks = (cards.country,) if cards.country else ()
        yield Listed("Cautions", _CARDS, groups, remarks)
