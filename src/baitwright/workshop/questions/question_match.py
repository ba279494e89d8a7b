"""What is computed of a question about the free bait that goes with a recipe of the notebook."""

from __future__ import annotations

from datetime import datetime

from baitwright.advice.answers import Care, Found, said
from baitwright.materials.factors import prior_factors
from baitwright.notebook.store import Notebook
from baitwright.sheets.wording import figure
from baitwright.terms.errors import InputError
from baitwright.workshop.baits.beside_shown import day_of
from baitwright.workshop.baits.match_told import MatchTyped, match_of
from baitwright.workshop.baits.match_words import taken, to_make
from baitwright.workshop.forms.form_questions import QuestionTable
from baitwright.workshop.questions.question_levels import cautions_of, sheets_of
from baitwright.workshop.recipes.recipe_shelf import newest_of
from baitwright.workshop.recipes.recipe_texts import recipe_of
from baitwright.workshop.told.quantity_footing import standing_on


def of_match(book: Notebook, told: QuestionTable, *, now: datetime) -> Found:
    """What to make of the free bait, each number with what it hangs on.

    Raises
    ------
    InputError: no recipe, or eggs that cannot be used.
    """
    if not told.recipe:
        raise InputError("recipe", None, "the recipe they ask about, such as Copper wafter")
    recipe = recipe_of(newest_of(book, told.recipe))
    made = match_of(recipe, MatchTyped(eggs=told.eggs), clock=lambda: day_of(now))
    numbers = to_make(made)
    weighed = next(at for at, one in enumerate(numbers) if one is made.match.paste)
    liquids = recipe.liquids
    return Found(
        tuple(
            said(one.label, figure(one).with_band, standing_on(one), first=at < weighed)
            for at, one in enumerate(numbers)
        ),
        (),
        tuple(said(one.label, figure(one).with_band, standing_on(one)) for one in taken(made)),
        (
            *(Care(note.text, note.source) for note in made.notes),
            *sheets_of(book, liquids),
            *cautions_of(liquids),
        ),
        prior_factors().name,
    )
