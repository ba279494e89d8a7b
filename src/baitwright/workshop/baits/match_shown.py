"""A free bait matched to its hookbait as a page shows it: what to make, and both side by side."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from baitwright.notebook.store import Notebook
from baitwright.sheets.text_soak import INVENTED
from baitwright.sheets.wording import figure
from baitwright.workshop.baits.beside_shown import BELOW, beside_grids, day_of
from baitwright.workshop.baits.match_told import MatchTyped, match_of
from baitwright.workshop.baits.match_words import RESTS_ON, SIDES, about, taken, to_make
from baitwright.workshop.mixes.mix_questions import MatchQuestion
from baitwright.workshop.recipes.recipe_shelf import newest_of
from baitwright.workshop.recipes.recipe_texts import recipe_of
from baitwright.workshop.told.answer_parts import Grid, Large, Part, notes_of, row_of
from baitwright.workshop.told.in_hand import in_hand

_KEPT = 8
"""Answers kept in hand; one takes some seconds."""


def match_shown(book: Notebook, told: MatchQuestion, *, now: datetime) -> tuple[Part, ...]:
    """The free bait that goes with a hookbait of the notebook.

    Raises
    ------
    InputError: no such recipe, or anything told that cannot be used.
    """
    typed = {name: getattr(told, name) for name in MatchQuestion.model_fields if name != "recipe"}
    return _answer(_Asked(newest_of(book, told.recipe), MatchTyped(**typed), day_of(now)))


@dataclass(frozen=True, slots=True)
class _Asked:
    recipe: str
    typed: MatchTyped
    day: datetime


@in_hand(_KEPT)
def _answer(asked: _Asked) -> tuple[Part, ...]:
    made = match_of(recipe_of(asked.recipe), asked.typed, clock=lambda: asked.day)
    invented = (INVENTED,) if made.recipe.invented else ()
    batch = made.batch
    acted_on = (made.match.eggs, batch.lots, batch.loads, batch.bagged, batch.room)
    work = tuple(row_of(one.label, one) for one in to_make(made))
    return (
        Part(
            f"{made.recipe.name}: its free bait",
            large=tuple(Large(one.label, figure(one)) for one in acted_on),
            lines=(about(made), *invented),
        ),
        Part("To make", grids=(Grid("Middle, and below it 8 in 10", ("", SIDES[1]), work),)),
        Part("Side by side", grids=beside_grids(made.rows, SIDES), lines=(BELOW,)),
        Part("Keep in mind", points=(*notes_of(made.notes), RESTS_ON)),
        Part(
            "What was taken",
            grids=(Grid("", ("", ""), tuple(row_of(one.label, one) for one in taken(made))),),
            is_folded=True,
        ),
    )
