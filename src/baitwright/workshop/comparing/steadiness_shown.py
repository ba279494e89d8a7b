"""Steadiness as a page shows it: a chart of each thing, and the batches that stand out."""

from __future__ import annotations

from collections import Counter

from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.comparing.steadiness import Series, Steadiness, steadiness
from baitwright.workshop.comparing.steadiness_words import NOTHING, charts_of, fit_told, series_told
from baitwright.workshop.levels.question_tables import SteadyQuestion
from baitwright.workshop.told.answer_parts import Part


def recipes_made(book: Notebook) -> tuple[tuple[str, str], ...]:
    """Every recipe of which batches were made, and of how many."""
    with book.reading() as page:
        told = [one.body or {} for one in page.all(BATCH)]
    made = Counter(str(one["about"]) for one in told if one.get("state") == State.MADE)
    return tuple((name, str(many)) for name, many in sorted(made.items()))


def steadiness_shown(book: Notebook, told: SteadyQuestion) -> tuple[Part, ...]:
    """The batches of a recipe held against each other.

    Raises
    ------
    InputError: no batch of it that was made, or a size that cannot be used.
    """
    made = steadiness(book, told.recipe, wanted=told.wanted, within=told.within)
    things = [_thing(made, one, at) for at, one in enumerate(made.series, start=1)]
    return (
        Part(made.recipe, lines=() if things else (NOTHING,)),
        *things,
        Part("The size that is wanted", lines=tuple(fit_told(made))),
    )


def _thing(made: Steadiness, one: Series, at: int) -> Part:
    last, *out = series_told(one)
    title = one.value[:1].upper() + one.value[1:]
    pictures = tuple(charts_of(made, one, at))
    return Part(title, lines=(last,), points=tuple(map(str.strip, out)), pictures=pictures)
