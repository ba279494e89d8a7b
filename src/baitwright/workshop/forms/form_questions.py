"""Questions of customers and templates for answers, as records.

A question says what somebody has, what they want and on what basis; what is computed of it stands
in an answer of its own, version after version.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated

from baitwright.workshop.forms.form_fields import notes, on_day, person_code, several
from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.typed.fields import number
from baitwright.workshop.typed.words import one_of, text

QUESTION, TEMPLATE, ANSWER = "question", "template", "answer"
LEVELS, HOOKBAIT, KEEPING, CORE, LAKE = "levels", "hookbait level", "keeping", "core", "lake"
MATCH = "free bait"
TOPICS = (LEVELS, HOOKBAIT, KEEPING, CORE, LAKE, MATCH)
"""What is computed: levels for their eggs; a hookbait's level for their free bait; how long baits
of a batch keep, what floats or sinks them, and their hours in the lake; the free bait that goes
with a recipe."""


class QuestionTable(FormTable):
    """What a customer asked, what they have, and what was answered."""

    question: Annotated[str, notes(about="What was asked.", example="how much malt in winter?")]
    answer: Annotated[
        str, notes(about="Your own words above the answer.", example="half of the summer's")
    ] = ""
    asker: Annotated[
        str, text(about="A short label; no name is needed.", example="spring order")
    ] = ""
    customer: Annotated[str, person_code(about="Who asked.")] = ""
    about: Annotated[str, one_of(TOPICS, about="What to compute; levels where some are told.")] = ""
    eggs: Annotated[str, text(about="Their eggs, as they say.", example="6 x EU L")] = ""
    levels: Annotated[
        tuple[str, ...],
        several(about="Levels they ask about.", example="Malt: 0.8 ml per egg of 50 ml"),
    ] = ()
    dry_mix: Annotated[
        str, text(about="What one of their eggs takes up, if weighed.", example="86 g per egg")
    ] = ""
    carriers: Annotated[
        tuple[str, ...],
        several(about="One for all levels, or one for each.", example="propylene glycol"),
    ] = ()
    strengths: Annotated[
        tuple[str, ...], several(about="One for all levels, or one for each.", example="quality")
    ] = ()
    use: Annotated[str, one_of(("hookbait", "free bait"), about="A hookbait unless told.")] = ""
    syringes: Annotated[str, text(about="What they have.", example="1 ml, 5 ml")] = ""
    drops_per_ml: Annotated[
        float | None,
        number(5, 200, whole=False, example=34, about="Counted from their very bottle."),
    ] = None
    batch: Annotated[
        str, text(about="Of which bag or batch, if of baits.", example="2026-11-27/1")
    ] = ""
    recipe: Annotated[
        str, text(about="Of which recipe, if of its free bait.", example="Copper wafter")
    ] = ""
    template: Annotated[
        str, text(about="Whose opening and closing words to use.", example="spring mail")
    ] = ""
    day: Annotated[date | None, on_day(about="When it was asked; today unless told.")] = None


class TemplateTable(FormTable):
    """Words of your own that answers begin and end with, and the question it is usually for."""

    opening: Annotated[str, notes(about="What stands above.", example="Thank you for asking.")] = ""
    closing: Annotated[
        str, notes(about="What stands below.", example="Good luck at the water.")
    ] = ""
    question: Annotated[
        str, notes(about="The question it is usually for.", example="how much malt in winter?")
    ] = ""
    about: Annotated[str, one_of(TOPICS, about="What to compute of it.")] = ""
    use: Annotated[str, one_of(("hookbait", "free bait"), about="What levels are judged as.")] = ""
    levels: Annotated[
        tuple[str, ...],
        several(about="Levels it is usually about.", example="Malt: 0.8 ml per egg of 50 ml"),
    ] = ()
