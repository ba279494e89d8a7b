"""A file of wishes read: the mix wanted, with every name on it resolved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from baitwright.blending import wanted
from baitwright.blending.candidate import Candidate
from baitwright.blending.fibre import fibres_in
from baitwright.blending.rows import Row, Sense
from baitwright.blending.wanted import Ask, Bound
from baitwright.blending.wishes import Goal, Wishes
from baitwright.materials.eggs import egg_form
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.ingredient_tables import shelf_of
from baitwright.workshop.typed.reading import load, parse
from baitwright.workshop.wishes.wishes_bans import bans_of
from baitwright.workshop.wishes.wishes_limits import own_limits, present_mix, refuse_contradictions
from baitwright.workshop.wishes.wishes_rows import Bench, rows_of
from baitwright.workshop.wishes.wishes_rules import rules_of, thumb_rows
from baitwright.workshop.wishes.wishes_tables import GOALS, LIKE, LikeTable, MostTable, WishesFile

_GOALS = dict(zip(GOALS, (Goal.CHEAPEST, Goal.NEAREST, Goal.MOST, Goal.CHEAPEST), strict=True))


@dataclass(frozen=True, slots=True)
class Wanted:
    """A mix wanted, as its file tells it: the wishes, the batch [kg], and the step for the scale.

    ``notes`` are what has to be said beside the numbers.
    """

    name: str
    wishes: Wishes
    batch: float | None
    step: float
    invented: bool = False
    notes: tuple[str, ...] = ()


def read_wishes(path: Path) -> Wanted:
    """The mix wanted in a TOML file.

    Raises
    ------
    InputError: the file cannot be read, or anything in it cannot be used; the message names file,
        field or row, value and what would be accepted.
    """
    return wishes_from(load(path, what="wishes"), where=str(path))


def wishes_from(data: Mapping[str, Any], *, where: str) -> Wanted:
    """The mix wanted in a file's raw contents.

    Raises
    ------
    InputError: as `read_wishes`.
    """
    try:
        return wanted_by(parse(data, WishesFile, where=where))
    except InputError as error:
        raise error.located(where) from None


def wanted_by(file: WishesFile) -> Wanted:
    """The mix wanted by a file's fields.

    Raises
    ------
    InputError: what they say together cannot be.
    """
    shelf = shelf_of(file.ingredients)
    if not shelf:
        raise InputError("ingredients", None, "at least one ingredient: [ingredients.semolina]")
    candidates = tuple(shelf.values())
    present, outsiders = present_mix(file, shelf)
    bench = Bench(candidates, bound=_bound(file))
    bench = Bench(
        candidates,
        {name: bench.ids(members) for name, members in file.classes.items()},
        bench.bound,
    )
    rows = [*rows_of(file.row, bench), *own_limits(file, candidates)]
    if file.budget is not None:
        rows.append(wanted.price(candidates, Ask(Sense.AT_MOST, file.budget)))
    if file.batch is not None:
        rows += [row for one in candidates if (row := wanted.stock(one, file.batch)) is not None]
    rows += bans_of(file, candidates)
    rows += _like(file, (*candidates, *outsiders), present)
    refuse_contradictions(rows)
    if file.rules_of_thumb:
        rows += thumb_rows(candidates, cold=file.cold)
    wishes = Wishes(
        candidates=candidates,
        rows=tuple(rows),
        rules=rules_of(file, bench),
        goal=_GOALS[file.goal],
        most=_most(file, bench),
        present=present or None,
    )
    return Wanted(
        file.name, wishes, file.batch, file.round_to, file.invented, _notes(rows, candidates)
    )


def _bound(file: WishesFile) -> Bound | None:
    if file.paste is None:
        return None
    paste = file.paste
    return Bound(egg_form(paste.kind), paste.egg / paste.dry_mix_per_egg, paste.water)


def _most(file: WishesFile, bench: Bench) -> Row | None:
    if _GOALS[file.goal] is not Goal.MOST:
        return None
    most = file.most or MostTable()
    ask = Ask(Sense.AT_LEAST, 0.0)
    return wanted.nutrient(bench.candidates, most.figure, ask, basis=most.basis, bound=bench.bound)


def _like(
    file: WishesFile, known: tuple[Candidate, ...], present: Mapping[str, float]
) -> list[Row]:
    if file.goal != LIKE:
        return []
    if not present:
        raise InputError("present", None, f"your present mix, for the goal {LIKE!r}")
    return wanted.likeness(known, present, dict(file.like or LikeTable()))


def _notes(rows: list[Row], candidates: tuple[Candidate, ...]) -> tuple[str, ...]:
    kinds = fibres_in(one.ingredient for one in candidates)
    if len(kinds) < 2 or not any(row.about.startswith("fibre") for row in rows):
        return ()
    told = ", ".join(str(kind) for kind in kinds)
    return (f"The fibre rows add up what tables count in different ways: {told}.",)
