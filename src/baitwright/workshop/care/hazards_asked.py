"""Questions about cautions, blends, packs and waters, answered for a page."""

from __future__ import annotations

import tomllib
from datetime import date
from itertools import groupby

from baitwright.advice.hazards import Doing
from baitwright.advice.venue_rules import Verdict
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.own_country import own_country
from baitwright.workshop.care.blend_screening import blends, screen_blend, screen_parts
from baitwright.workshop.care.hazard_questions import (
    BlendQuestion,
    CautionsQuestion,
    PackQuestion,
    WaterQuestion,
)
from baitwright.workshop.care.hazards_shown import premises_hazards, recipe_hazards
from baitwright.workshop.care.packs_shown import packs_checked, packs_shown
from baitwright.workshop.care.premises import of_recipe, premises
from baitwright.workshop.care.screening_shown import screening_shown
from baitwright.workshop.care.venue_asked import Outing, names_told, outing_held
from baitwright.workshop.plans.liquid_sheets import sheets_of, with_sheets
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.recipes.recipe_history import newest_text
from baitwright.workshop.told.answer_parts import Part
from baitwright.workshop.waters.venue import Held, waters
from baitwright.workshop.waters.venue_words import headline, rule_words, where_from

_TITLES = {
    Verdict.BREAKS: "Breaks",
    Verdict.NEARLY: "Close to it",
    Verdict.LOOK: "Look yourself",
    Verdict.UNKNOWN: "Not known",
    Verdict.KEEPS: "Keeps",
}


def cautions_answered(book: Notebook, told: CautionsQuestion) -> tuple[Part, ...]:
    """What the shelf or a recipe calls for.

    Raises
    ------
    InputError: no such recipe.
    """
    country = told.country or own_country(book)
    selling = (Doing.SELLING,) if told.selling else ()
    if not told.recipe:
        return premises_hazards(premises(book), doings=selling, country=country)
    written = tomllib.loads(newest_text(book, told.recipe))
    recipe = with_sheets(
        recipe_from(written, where=told.recipe),
        sheets_of(book),
    )
    return recipe_hazards(of_recipe(recipe), doings=(Doing.MAKING, *selling), country=country)


def blend_answered(book: Notebook, told: BlendQuestion) -> tuple[Part, ...]:
    """A blend of the notebook screened, or the parts that were typed.

    Raises
    ------
    InputError: no such blend, or a part that is none.
    """
    if told.blend:
        return screening_shown(screen_blend(book, told.blend))
    return screening_shown(screen_parts(one.part for one in told.part))


def pack_answered(told: PackQuestion) -> tuple[Part, ...]:
    """What a pack may lack, and a sample.

    Raises
    ------
    InputError: no weight, or one beyond the table.
    """
    return packs_shown(*packs_checked(told.stated, names_told((told.weighed,))))


def water_answered(book: Notebook, told: WaterQuestion, *, today: date) -> tuple[Part, ...]:
    """A water's rules held against what is taken there.

    Raises
    ------
    InputError: a bag or batch that the notebook does not have.
    """
    outing = Outing(
        names_told((told.bag,)),
        *(told.rods, told.night, told.lead),
        free_bait=told.free_bait,
        day=told.day or today,
    )
    return venue_parts(outing_held(book, told.water, outing))


def venue_parts(held: Held) -> tuple[Part, ...]:
    """Rules by what comes of them, the broken ones first."""
    first = Part(lines=(headline(held),))
    if held.rules is None:
        return (first,)
    by_verdict = groupby(held.findings, key=lambda one: one.verdict)
    several = [(verdict, tuple(map(rule_words, found))) for verdict, found in by_verdict]
    parts = (Part(_TITLES[verdict], points=points) for verdict, points in several)
    return (first, *parts, Part(lines=(where_from(held),)))


def blends_told(book: Notebook) -> list[tuple[str, str]]:
    """The blends there are to screen."""
    with book.reading() as page:
        return [(one, "") for one in blends(page)]


def waters_told(book: Notebook) -> list[tuple[str, str]]:
    """The waters whose rules are written down."""
    with book.reading() as page:
        return [(one, "") for one in waters(page)]
