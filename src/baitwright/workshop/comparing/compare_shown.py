"""Baits compared as a page shows it: their rates drawn, each against the others, no winner."""

from __future__ import annotations

from collections.abc import Sequence

from baitwright.notebook.store import Notebook
from baitwright.workshop.comparing.compare import compare
from baitwright.workshop.comparing.compare_pictures import compared_picture
from baitwright.workshop.comparing.compare_words import (
    against_told,
    baits_told,
    doubts_told,
    scatter_told,
)
from baitwright.workshop.nights.fished_nights import nights_fished
from baitwright.workshop.told.answer_parts import Part


def baits_fished(book: Notebook) -> tuple[str, ...]:
    """Every bait that can be compared."""
    return nights_fished(book).baits


def compare_shown(book: Notebook, baits: Sequence[str], *, water: str = "") -> tuple[Part, ...]:
    """Some baits, or all that were fished, by the nights of the notebook.

    Raises
    ------
    InputError: no night to compare by, or a bait that no night has.
    """
    made = compare(book, baits, water=water)
    against = tuple(one.strip() for one in against_told(made))
    return (
        Part("Bites in their rod-hours", points=tuple(baits_told(made))),
        Part("", pictures=(compared_picture(made),)),
        Part("Against each other", points=against),
        Part("How your nights scatter", lines=(scatter_told(made.scatter),)),
        Part("To look at", points=tuple(doubts_told(made))),
    )
