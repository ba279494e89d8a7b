"""A dose in ten seconds: eggs on the scale, one liquid, one's own syringe, and the mark for it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.materials.tools import syringes
from baitwright.notebook.store import Notebook
from baitwright.quantities import from_si, show, tidy
from baitwright.sheets.wording import to_the_mark
from baitwright.terms.errors import InputError
from baitwright.workshop.levels.level_lines import COVERAGE, mark
from baitwright.workshop.levels.levels import Answer, levels
from baitwright.workshop.levels.levels_request import Asked, understand
from baitwright.workshop.recipe_files.demo import demo_recipe
from baitwright.workshop.recipes.recipe_changes import text_of
from baitwright.workshop.recipes.recipe_shelf import recipes

BOWL, SHELL = "in the bowl", "in the shell"
_ON_SCALE = re.compile(r"(?<!fl )\boz\b(?! weight)")
"""An ounce without a country, where only a scale stands."""
_BARE = re.compile(r"\s*\d+([.,]\d+)?\s*")


@dataclass(frozen=True, slots=True)
class Choice:
    """A liquid of a recipe."""

    key: str
    name: str
    level: str
    carrier: str
    strength: str


@dataclass(frozen=True, slots=True)
class Quick:
    """What is on the scale, what is dosed, and the syringe at hand; any where none is named."""

    eggs: str
    liquid: Choice
    where: str = BOWL
    syringe: str = ""


@dataclass(frozen=True, slots=True)
class Read:
    """What to draw or weigh: the number, its unit and with what; and what to know besides."""

    number: str
    unit: str
    tool: str
    eggs: str
    level: str
    within: str
    also: tuple[str, ...]


def tools() -> tuple[str, ...]:
    """The syringes there are, by what they hold."""
    every = (one for one in syringes().values() if one.kind == "syringe")
    return tuple(show(one.nominal, "ml") for one in every)


def choices(book: Notebook | None) -> tuple[Choice, ...]:
    """The liquids of all recipes of the notebook, or of the demonstration where there is none."""
    kept = () if book is None else recipes(book)
    texts = (text_of(one).lstrip("\ufeff") for one in kept)
    return tuple(_liquids(map(tomllib.loads, texts))) or tuple(_liquids([demo_recipe()]))


def read_off(quick: Quick) -> Read:
    """Where to draw to.

    Raises
    ------
    InputError: no eggs, or a number that cannot be.
    """
    if not quick.eggs.strip():
        raise InputError("eggs", None, "their weight, such as 171 g")
    grams = f"{quick.eggs} g" if _BARE.fullmatch(quick.eggs) else quick.eggs
    grams = _ON_SCALE.sub("oz weight", grams)
    told = grams if any(word in grams for word in (BOWL, SHELL, "x")) else f"{grams} {quick.where}"
    liquid = quick.liquid
    found = levels(
        understand(
            Asked(
                (f"{liquid.name}: {liquid.level}",),
                told,
                carriers=(liquid.carrier,) if liquid.carrier else (),
                strengths=(liquid.strength,) if liquid.strength else (),
                syringes=quick.syringe or None,
            )
        )
    )
    (answer,) = found.answers
    dose = answer.dose
    number, unit, tool = (
        (show(dose.mass, "g").removesuffix(" g"), "g", "on the scale")
        if dose.fill is None
        else (to_the_mark(dose.fill).number, "ml", f"in the {dose.fill.tool.name}")
    )
    error = COVERAGE * dose.strength.relative
    return Read(
        number=number,
        unit=unit,
        tool=tool,
        eggs=f"{tidy(from_si(found.bowl.volume.value, 'ml'))} ml of egg",
        level=liquid.level,
        within=f"{tidy(100.0 * error, 2)} %" if error else "",
        also=_also(answer),
    )


def _also(answer: Answer) -> tuple[str, ...]:
    dose, said = answer.dose, []
    if dose.fill is None:
        said.append("No such syringe takes it in one fill.")
    else:
        said.append(f"That weighs {show(dose.mass, 'g')}.")
    if dose.blend is not None:
        parts, fill = dose.blend.carrier_parts, dose.blend.fill
        said.append(f"Or let down 1 to {parts}, and draw {mark(fill)}.")
    return (*said, answer.remark) if answer.remark else tuple(said)


def _liquids(told: Iterable[Mapping[str, Any]]) -> Iterable[Choice]:
    for recipe in told:
        for one in recipe.get("liquid", ()):
            name = str(one["name"])
            key = f"{name}, {recipe['name']}"
            words = (str(one.get(word, "")) for word in ("level", "carrier", "strength"))
            yield Choice(key, name, *words)
