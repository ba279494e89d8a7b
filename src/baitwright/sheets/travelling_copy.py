"""A travelling copy: recipes and answers in one HTML file that needs no network and no script."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from baitwright.advice.answers import Advice
from baitwright.sheets.advice_html import advice_body, heading, points, table, whole

NOT_FOOD = "This is bait and not food. Keep it away from children and animals."
INVENTED = "Invented for a demonstration: maker and recipe do not exist."
_ALLERGENS = "Allergens"


@dataclass(frozen=True, slots=True)
class ToldRecipe:
    """A recipe as somebody else may read it: each part and liquid with its amount, if that is told.

    A hidden line has neither name nor amount; ``contains`` and ``may_contain`` are of all lines.
    """

    name: str
    invented: bool
    bait: str
    base: str
    parts: tuple[tuple[str, str], ...]
    liquids: tuple[tuple[str, str], ...]
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToldMix:
    """A mix as somebody else may read it: what it holds, what it is made with, its allergens."""

    name: str
    heads: tuple[str, ...]
    holds: tuple[tuple[str, ...], ...]
    made_with: tuple[str, ...]
    allergens: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TravellingCopy:
    """What goes along, under a title."""

    title: str
    recipes: tuple[ToldRecipe, ...] = ()
    mixes: tuple[ToldMix, ...] = ()
    answers: tuple[Advice, ...] = ()


def travelling_html(copy: TravellingCopy) -> str:
    """The whole file."""
    title = f'<h1 style="font-size:28px;margin:0 0 12px">{escape(copy.title)}</h1>'
    parts = [title, *map(_recipe, copy.recipes), *map(_mix, copy.mixes)]
    parts += (advice_body(one, level=2) for one in copy.answers)
    return whole(copy.title, "\n".join(parts))


def _recipe(one: ToldRecipe) -> str:
    return "\n".join(_lines(one))


def _lines(one: ToldRecipe) -> Iterator[str]:
    yield f'<h2 style="font-size:24px;margin:28px 0 4px">{escape(one.name)}</h2>'
    if one.invented:
        yield f"<p>{escape(INVENTED)}</p>"
    yield f"<p>{escape(one.bait)}</p>"
    yield from _listed(f"Base mix: {one.base}", one.parts)
    yield from _listed("Liquids", one.liquids)
    told = [f"contains {', '.join(one.contains)}"] if one.contains else []
    told += [f"may contain {', '.join(one.may_contain)}"] if one.may_contain else []
    yield from points(_ALLERGENS, told, 3)
    yield f"<p><strong>{escape(NOT_FOOD)}</strong></p>"


def _mix(one: ToldMix) -> str:
    lines = [f'<h2 style="font-size:24px;margin:28px 0 4px">{escape(one.name)}</h2>']
    lines.append(table([map(escape, row) for row in (one.heads, *one.holds)]))
    lines += points("Made with", one.made_with, 3)
    lines += points(_ALLERGENS, one.allergens, 3)
    return "\n".join([*lines, f"<p><strong>{escape(NOT_FOOD)}</strong></p>"])


def _listed(head: str, rows: Sequence[tuple[str, str]]) -> Iterator[str]:
    if rows:
        yield heading(head, 3) + table((escape(name), escape(amount)) for name, amount in rows)
