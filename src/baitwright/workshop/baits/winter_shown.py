"""A recipe's winter version as a page shows it: what changes, what stays, both side by side."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from baitwright.notebook.store import Notebook
from baitwright.sheets.text_soak import INVENTED
from baitwright.workshop.baits.beside_shown import BELOW, beside_grids, day_of
from baitwright.workshop.baits.winter_bait import Wintered
from baitwright.workshop.baits.winter_told import WinterTyped, winter_of
from baitwright.workshop.baits.winter_words import (
    NOTHING,
    RESTS_ON,
    SIDES,
    parts,
    stays,
    title,
    turned,
)
from baitwright.workshop.mixes.mix_questions import WinterQuestion
from baitwright.workshop.recipes.recipe_shelf import newest_of
from baitwright.workshop.told.answer_parts import Grid, Part, said
from baitwright.workshop.told.in_hand import in_hand
from baitwright.workshop.typed.toml_reading import in_toml

_KEPT = 8
"""Answers kept in hand; one takes some seconds."""


def winter_shown(
    book: Notebook, told: WinterQuestion, *, now: datetime
) -> tuple[tuple[Part, ...], str]:
    """The winter version of a recipe of the notebook, and the text of its own file.

    Raises
    ------
    InputError: no such recipe, or anything told that cannot be used.
    """
    typed = WinterTyped(
        eggs=told.eggs, keep=(told.keep,), soluble=told.soluble, hours=told.hours, at=told.at
    )
    return _answer(_Asked(newest_of(book, told.recipe), typed, day_of(now)))


@dataclass(frozen=True, slots=True)
class _Asked:
    recipe: str
    typed: WinterTyped
    day: datetime


@in_hand(_KEPT)
def _answer(asked: _Asked) -> tuple[tuple[Part, ...], str]:
    data = in_toml(asked.recipe.lstrip("\ufeff"), where="")
    made, text = winter_of(data, asked.typed, where="", clock=lambda: asked.day)
    return _parts(made), text


def _parts(made: Wintered) -> tuple[Part, ...]:
    invented = (INVENTED,) if made.before.invented else ()
    rows = tuple(tuple(map(said, one)) for one in parts(made))
    base = (Grid("Shares of the base", ("", *SIDES), rows),) if rows else ()
    changes = tuple(turned(made)) or (NOTHING,)
    return (
        Part(title(made), lines=invented),
        Part("What changes", grids=base, points=changes),
        Part("What stays", points=stays(made), is_folded=True),
        Part("Side by side", grids=beside_grids(made.rows, SIDES), lines=(BELOW,)),
        Part("Keep in mind", lines=(RESTS_ON,)),
    )
