"""What is computed of a question about levels, and of a hookbait's level beside a free bait's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from baitwright.advice.answers import Care, Found, Statement, said
from baitwright.materials.cautions import ANYWHERE, raised
from baitwright.materials.defaults import default
from baitwright.materials.factors import prior_factors
from baitwright.materials.liquids import carrier
from baitwright.notebook.store import Notebook
from baitwright.quantities import tidy
from baitwright.recipe.dosing import FREE_BAIT_LEVEL
from baitwright.recipe.levels import times
from baitwright.recipe.liquid import Liquid
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form_questions import HOOKBAIT, QuestionTable
from baitwright.workshop.levels.levels import levels
from baitwright.workshop.levels.levels_back import asks_back
from baitwright.workshop.levels.levels_footing import assumptions, statements
from baitwright.workshop.levels.levels_request import Asked, LevelsRequest, understand
from baitwright.workshop.levels.levels_under import Under, of_row
from baitwright.workshop.levels.levels_words import heading

_STEPS = ("eggs", "dose")
_LIQUID = "liquid"


def of_levels(book: Notebook, told: QuestionTable) -> Found:
    """How much of each level for their eggs.

    Raises
    ------
    InputError: whatever cannot be read, or is asked back.
    """
    request = understand(as_asked(told))
    if told.about == HOOKBAIT:
        return _beside_free_bait(book, request)
    under = Under(request, levels(request))
    return _found(book, under, tuple(statements(under)))


def as_asked(told: QuestionTable) -> Asked:
    """A question as the levels answer takes it."""
    if not told.levels:
        raise InputError("levels", None, "what they ask about: 'Malt: 0.8 ml per egg of 50 ml'")
    return Asked(
        told.levels,
        told.eggs or None,
        dry_mix=told.dry_mix or None,
        carriers=told.carriers,
        strengths=told.strengths,
        use=told.use or ("free bait" if told.about == HOOKBAIT else "hookbait"),
        syringes=told.syringes or None,
        drops_per_ml=told.drops_per_ml,
    )


def _beside_free_bait(book: Notebook, request: LevelsRequest) -> Found:
    """The level of a hookbait that goes with their free bait, for the same eggs."""
    share = default(FREE_BAIT_LEVEL)
    asked = replace(request, use="free bait")
    stronger = tuple(
        replace(one, level=times(one.level, 1.0 / share.value)) for one in request.liquids
    )
    under = Under(asked, levels(asked))
    hook = replace(request, liquids=stronger, use="hookbait")
    on_hook = Under(hook, levels(hook))
    span = f"{tidy(1 / share.high, 2)} to {tidy(1 / share.low, 2)} times the free bait's"
    footing = of_row(share, share.label)
    beside = [
        said("hookbait", f"{one.level.text}; makers take {span}", footing, about=name, first=True)
        for one, name in zip(stronger, map(heading, under.found.answers), strict=True)
    ]
    doses = [
        replace(one, about=f"the hookbait, {one.about}")
        for one in statements(on_hook)
        if one.head in ("dose", "draw to", "weigh", "strength", "judged", "flagged", "carrier")
    ]
    return _found(book, on_hook, (*beside, *doses))


def _found(book: Notebook, under: Under, told: Sequence[Statement]) -> Found:
    return Found(
        tuple(told),
        asks_back(under.found),
        tuple(assumptions(under)),
        (*sheets_of(book, under.request.liquids), *cautions_of(under.request.liquids)),
        prior_factors().name,
    )


def sheets_of(book: Notebook, liquids: Sequence[Liquid]) -> Iterator[Care]:
    """Where the safety data sheet of each liquid is to be read, and what is known of it here."""
    with book.reading() as page:
        known = {one.name.casefold(): one for one in page.all(_LIQUID)}
    for one in liquids:
        kept = known.get(one.name.casefold())
        body = {} if kept is None else kept.body or {}
        codes = ", ".join(body.get("hazards", ()))
        day = f" of {body['data_sheet']}" if body.get("data_sheet") else ""
        said_there = f"; it has {codes}" if codes else ""
        text = f"{one.name}: read its supplier's safety data sheet{day} first{said_there}."
        yield Care(text, "supplier")


def cautions_of(liquids: Sequence[Liquid]) -> Iterator[Care]:
    """What the steps up to dosing these call for."""
    triggers = {"raw-egg"}
    for one in liquids:
        row = carrier(one.carrier)
        triggers |= {"flash-point-below-60C"} if row.flammable else set()
        triggers |= {"neat-essential-oil"} if row.id == "essential-oil" else set()
        triggers |= {"acid"} if "acid" in one.strength else set()
    for caution in raised(triggers, ANYWHERE):
        if caution.stage in _STEPS or caution.id == "not-food":
            yield Care(caution.text, caution.source)
