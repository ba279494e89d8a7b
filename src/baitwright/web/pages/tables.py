"""Tables from elsewhere: deliveries and foods, looked at before they come in; and tubs of mix."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.web.deeds import Deed, Doing, Of, Stands, add_all, here
from baitwright.web.files import kept_upload
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)
_TABLES = ".csv,.xlsx,text/csv"


def _upload(doing: Doing) -> Done:
    waits = kept_upload(doing, "table")
    return Done(here("/shelf/table/look", file=waits.mark))


def _looked(house: House, of: Of) -> Stands:
    """What every row of a table would do, or what is wrong with it; nothing is written."""
    from baitwright.workshop.tables.table_asked import look

    waits = house.uploads.waiting(of.get("file", ""))
    if house.notebook.is_there:
        with house.notebook.looking() as book:
            found = look(book, waits.path, of, now=house.now)
    else:
        found = look(None, waits.path, of, now=house.now)
    return Stands(shown={"found": found, "file": waits})


def _import(doing: Doing) -> Done:
    from baitwright.workshop.tables.table_asked import imported, wishes_of

    house, waits = doing.house, doing.house.uploads.waiting(doing.of.get("file", ""))
    wishes = replace(wishes_of(doing.of), only_look=False)
    with house.notebook.writing() as book:
        said = imported(book, waits.path, wishes, now=house.now)
    house.uploads.drop(waits.mark)
    return Done("/shelf", said)


def _foods_upload(doing: Doing) -> Done:
    waits = kept_upload(doing, "foods")
    return Done(here("/shelf/foods/look", file=waits.mark))


def _foods_looked(house: House, of: Of) -> Stands:
    from baitwright.workshop.tables.food_import import read_foods
    from baitwright.workshop.tables.food_words import recipe_lines
    from baitwright.workshop.tables.table_asked import how_of
    from baitwright.workshop.tables.table_words import wrong_line

    waits = house.uploads.waiting(of.get("file", ""))
    found = read_foods(waits.path, how_of(of))
    wrong = [wrong_line(one) for one in found.wrong]
    lines = [(one, recipe_lines(one)) for one in found.foods]
    return Stands(shown={"lines": lines, "wrong": wrong, "file": waits})


def _foods_keep(doing: Doing) -> Done:
    from baitwright.terms.errors import InputError
    from baitwright.workshop.tables.food_import import import_foods
    from baitwright.workshop.tables.food_words import kept_words
    from baitwright.workshop.tables.table_asked import how_of

    house, waits = doing.house, doing.house.uploads.waiting(doing.of.get("file", ""))
    with house.notebook.writing() as book:
        done = import_foods(book, waits.path, how_of(doing.of), now=house.now)
    if done.wrong:
        raise InputError("foods", f"{len(done.wrong)} of them wrong", "foods that are all right")
    house.uploads.drop(waits.mark)
    return Done("/shelf/foods", kept_words(done))


@pages.get("/shelf/food")
def food(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """The analysis of a food as lines for a recipe file."""
    from baitwright.workshop.tables.food_import import analysis_named
    from baitwright.workshop.tables.food_words import recipe_lines

    with house.notebook.looking() as book:
        found = analysis_named(book, name)
    return page(request, "food.html", food=found, lines=recipe_lines(found))


def _foods(house: House, of: Of) -> Stands:
    from baitwright.workshop.tables.food_import import analysis_names

    if not house.notebook.is_there:
        return Stands(shown={"foods": ()})
    with house.notebook.looking() as book:
        return Stands(shown={"foods": analysis_names(book)})


def _mix(doing: Doing) -> Done:
    from baitwright.workshop.recipes.recipe_history import newest_text
    from baitwright.workshop.records.shelf_words import mixed_text
    from baitwright.workshop.shelf.stock_words import moved_in
    from baitwright.workshop.tubs.mixing import Mixing, mix
    from baitwright.workshop.typed.typed_days import read_day

    told, now = doing.told, doing.house.now
    best = told.best_before and read_day(told.best_before.isoformat(), now.date())
    mixing = Mixing(told.finished, told.raw, best, told.why)
    with doing.house.notebook.writing() as book:
        found = mix(book, newest_text(book, told.recipe), mixing, now=now)
        said = mixed_text(found, moved_in(book, found.used))
    return Done(here("/shelf/item", name=found.item), said)


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.selling.making_tables import MixTable
    from baitwright.workshop.shelf.deed_tables import Nothing

    return {
        "table": Deed(
            "Bring in a table",
            "Look at it",
            Nothing,
            _upload,
            about="Deliveries, a row each, CSV or XLSX, of 20 MB at most. It is looked at first.",
            back="/shelf",
            file=_TABLES,
        ),
        "table/look": Deed(
            "The table",
            "Put all of it on the shelf",
            Nothing,
            _import,
            stands=_looked,
            about="All rows come in or none. The notebook is copied before; one undo is enough.",
            back="/shelf/table",
            template="table_look.html",
        ),
        "foods": Deed(
            "Food analyses",
            "Look at it",
            Nothing,
            _foods_upload,
            stands=_foods,
            about="JSON of foods and their nutrients, or a table with INFOODS tagnames on top.",
            back="/shelf",
            file=f"{_TABLES},.json,application/json",
            template="foods.html",
        ),
        "foods/look": Deed(
            "The foods",
            "Keep them all",
            Nothing,
            _foods_keep,
            stands=_foods_looked,
            about="All of them are kept or none.",
            back="/shelf/foods",
            template="foods_look.html",
        ),
        "mix": Deed(
            "A tub of mix",
            "It stands there",
            MixTable,
            _mix,
            about="The base and the hardener go off the shelf, and the tub comes on it.",
            back="/shelf",
        ),
    }


_NAMES = ("table", "table/look", "foods", "foods/look", "mix")
add_all(pages, "/shelf", _NAMES, deeds=deeds)
