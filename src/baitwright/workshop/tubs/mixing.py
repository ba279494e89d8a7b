"""A tub of mix made: its base and hardener off the shelf, the finished mix on it, in the trace."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from baitwright.ledger.movements import Movement
from baitwright.ledger.trace import Stop
from baitwright.materials.powders import allergens_in
from baitwright.notebook.store import Notebook
from baitwright.quantities import show
from baitwright.recipe.model import HardenerBasis, Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_needs import (
    Part,
    Wish,
    mass,
    not_on_shelf,
    wanted_from_shelf,
)
from baitwright.workshop.batches.recipes_behind import known_as
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.newest import write_again
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.recipes.recipe_texts import recipe_of
from baitwright.workshop.shelf.drawing import draw, make
from baitwright.workshop.shelf.item_units import agree_on_unit
from baitwright.workshop.shelf.lots import Lot, earliest, next_lot
from baitwright.workshop.shelf.stock import as_item
from baitwright.workshop.tubs.tellings import ENTRY, TUB


@dataclass(frozen=True, slots=True)
class Mixing:
    """What was weighed of a tub, kg: the finished mix, and the raw base before the sieve."""

    finished: float
    raw: float | None = None
    best_before: date | None = None
    why_short: str = ""


@dataclass(frozen=True, slots=True)
class Mixed:
    """A tub that was made: its lot, what it took, and what the shelf did not have."""

    item: str
    lot: str
    used: tuple[Movement, ...]
    missing: tuple[str, ...]


def mix(book: Notebook, recipe: Path | str, mixing: Mixing, *, now: datetime) -> Mixed:
    """Take the parts of a recipe's base and its hardener off the shelf, and put the tub there.

    What stays on the sieve is paid for by what went through. The recipe is told by its file or the
    text of one. The tub's best-before is the earliest of its parts unless told, and its record has
    the lot's name, for weighing it later.

    Raises
    ------
    InputError: a recipe without parts, less raw base than what the tub holds of it, or more used
        than the book holds without a reason.
    """
    asked = read_recipe(recipe) if isinstance(recipe, Path) else recipe_of(recipe)
    wanted = _wanted(asked, mixing)
    with book.writing() as page:
        needs = wanted_from_shelf(page, wanted)
        used = draw(page, needs, time=now, why_short=mixing.why_short)
        item, lot = as_item(page, asked.base.name), next_lot(page, now.date())
        agree_on_unit(page, item, mass(mixing.finished), now=now)
        best = mixing.best_before or earliest(page, (one.lot for one in used))
        day = None if best is None else best.isoformat()
        told = Lot(
            item, now.date().isoformat(), day, stop=Stop.MIX.value, allergens=_allergens(asked)
        )
        entry = make(page, lot, told, units=mass(mixing.finished).units, used=used, time=now)
        body = {**_record(asked, mixing, item=item, today=now.date()), ENTRY: entry}
        write_again(page, TUB, lot, body=body, now=now)
    return Mixed(item, lot, used, not_on_shelf(wanted, needs))


def _wanted(recipe: Recipe, mixing: Mixing) -> tuple[Wish, ...]:
    """The parts of the raw base, and the hardener, by their names."""
    if not recipe.base.parts:
        accepted = 'the parts of the base, such as [base.parts] with semolina = "45 %"'
        raise InputError("base.parts", None, accepted)
    hardener = _hardener(recipe) * mixing.finished
    base = mixing.finished - hardener
    raw = base if mixing.raw is None else mixing.raw
    if raw < base:
        accepted = f"{base * 1000:.0f} g at least, which the tub holds of it"
        raise InputError("raw", f"{raw * 1000:.0f} g", accepted)
    parts = [(one.ingredient, one.share * raw) for one in recipe.base.parts]
    if recipe.hardener is not None:
        parts.append((recipe.hardener.ingredient, hardener))
    return tuple(Wish(Part.MIX, name, (mass(weight),)) for name, weight in parts)


def _allergens(recipe: Recipe) -> str:
    """The groups that the parts hold, those among them that do not stand on the shelf."""
    names = [one.ingredient for one in recipe.base.parts]
    names += [] if recipe.hardener is None else [recipe.hardener.ingredient]
    certain, _ = allergens_in(filter(None, map(known_as, names)))
    return "; ".join(one.id for one in certain)


def _record(recipe: Recipe, mixing: Mixing, *, item: str, today: date) -> dict[str, Any]:
    """The tub as a record, in the words in which a maker would write it down."""
    told = {"base": item, "left": show(mixing.finished, "g", 12)}
    if recipe.sieve is not None:
        told["sieve"] = recipe.sieve
    if recipe.hardener is not None:
        told["hardener"] = show(recipe.hardener.share, "%", 12)
        told["hardener_basis"] = recipe.hardener.basis.value
    return read_form(FORMS[TUB], told, today=today)


def _hardener(recipe: Recipe) -> float:
    """The hardener's share of the finished mix."""
    if recipe.hardener is None:
        return 0.0
    share = recipe.hardener.share
    on_top = recipe.hardener.basis is HardenerBasis.ON_TOP
    return share / (1.0 + share) if on_top else share
