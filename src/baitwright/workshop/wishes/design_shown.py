"""A designed mix as a page shows it: what to weigh, why it is so, or what clashes."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.sheets.text_clash import WAYS, clash_sentence, ways_told
from baitwright.sheets.text_design import (
    best_told,
    checked_told,
    dear_told,
    dearest_told,
    leaning_told,
    looked_rows,
    mix_rows,
    steps_told,
)
from baitwright.sheets.text_soak import INVENTED
from baitwright.workshop.levels.question_tables import DesignQuestion
from baitwright.workshop.recipe_files.demo import WISHES, demo_file
from baitwright.workshop.told.answer_parts import Grid, Part, said
from baitwright.workshop.typed.reading import parse
from baitwright.workshop.typed.toml_reading import in_toml
from baitwright.workshop.wishes.design_mix import Designed, PriceRange, designed, sweep_picture
from baitwright.workshop.wishes.wishes_file import wanted_by
from baitwright.workshop.wishes.wishes_tables import WishesFile

_SECONDS = 20.0
"""How long a page waits for a mix in steps (judgement)."""


def demo_wishes() -> str:
    """The wishes of the demonstration, as they stand in its file."""
    return demo_file(WISHES).read_text("utf-8")


def design_shown(told: DesignQuestion) -> tuple[Part, ...]:
    """The mix that does best what is wished.

    Raises
    ------
    InputError: the wishes, or the ingredient whose price is to be moved.
    """
    wanted = wanted_by(parse(in_toml(told.wishes, where=""), WishesFile, where=""))
    moved = PriceRange(told.prices, told.low, told.high) if told.prices else None
    made = designed(wanted, prices_of=moved, seconds=_SECONDS)
    invented = (INVENTED,) if wanted.invented else ()
    return (
        Part(wanted.name, lines=invented),
        *_clash(made),
        *_mix(made),
        *_why(made),
        *_swept(made),
        Part("Keep in mind", points=wanted.notes),
    )


def _clash(made: Designed) -> Iterator[Part]:
    if made.clash is None:
        return
    yield Part("These wishes cannot all be had", lines=(clash_sentence(made.clash),))
    if ways := ways_told(made.clash):
        yield Part("", lines=(f"{WAYS}.",), points=tuple(ways))
    if made.found is None:
        yield Part("", lines=("There is no mix near it.",))


def _mix(made: Designed) -> Iterator[Part]:
    if made.found is None or made.weighed is None:
        return
    heads, *rows = mix_rows(made.found, made.weighed, batch=made.wanted.batch)
    title = "The mix" if made.clash is None else "The nearest mix there is"
    checked = tuple(text for _, text in checked_told(made.found, made.weighed))
    lines = (best_told(made.found, made.weighed), *steps_told(made.weighed))
    grid = Grid("", heads, tuple(tuple(map(said, row)) for row in rows))
    yield Part(title, grids=(grid,), lines=lines, points=checked)


def _why(made: Designed) -> Iterator[Part]:
    if made.found is None or made.why is None:
        return
    leaning, rest = leaning_told(made.found, made.why)
    yield Part("What it leans on", points=tuple(leaning), lines=(rest,) if rest else ())
    dear, more = dear_told(made.why)
    yield Part("Left out for its price", points=tuple(filter(None, (*dear, more))))


def _swept(made: Designed) -> Iterator[Part]:
    if made.looked:
        heads, *rows = looked_rows(made.looked)
        grid = Grid("", heads, tuple(tuple(map(said, row)) for row in rows))
        yield Part("As its price moves", grids=(grid,))
    picture = sweep_picture(made)
    if picture is None or made.swept is None:
        return
    dearest = made.swept.dearest
    ends = () if dearest is None else (dearest_told(dearest),)
    yield Part("As its price moves", pictures=(picture,), lines=ends)
