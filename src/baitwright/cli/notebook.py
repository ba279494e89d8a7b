"""`baitwright notebook`: what is kept, a record's versions, one of them, and the last undone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from baitwright.cli.place import notebook_option, tell_last_copy
from baitwright.cli.record_form import KINDS
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from baitwright.notebook.store import Notebook

SEARCH, RECIPE = "search", "recipe"


@click.command()
@click.argument("kind", required=False, default="", metavar="[KIND | RECIPE]")
@click.argument("name", required=False, default="", metavar="[NAME]")
@click.option("--version", type=click.IntRange(1), metavar="N", help="Print that recipe's file.")
@click.option("--undo", is_flag=True, help="Write the version before the last as the newest.")
@click.option("--take-away", is_flag=True, help="Take a record away; its versions stay.")
@click.option("--reason", default="", metavar="TEXT", help="Why it is taken away.")
@click.option("--json", "as_json", is_flag=True, help="A record as data.")
@notebook_option
def notebook(kind: str, name: str, *, notebook: Where, **how: Any) -> None:
    """Tell what the notebook holds, every version of RECIPE, or records of a KIND and one of them.

    Such as: notebook night, notebook night 2026-11-27/1, notebook search overcast.
    """
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at

    if how["undo"] and (how["version"] is not None or how["take_away"]):
        raise InputError("notebook", "--undo and --version", "one of both")
    changes = how["undo"] or how["take_away"]
    is_record = kind in KINDS and (name != "" or kind != RECIPE)
    recipe = "" if is_record or kind == SEARCH else name if kind == RECIPE and name else kind
    if not (recipe or name) and (changes or how["version"] is not None):
        hint = "A recipe's name, or a kind and a name, stands before --undo, --version and such."
        raise InputError("notebook", None, "a recipe's name", hint=hint)
    use = Use.CHANGE if changes else Use.LOOK
    with open_at(notebook, use, clock=clock_with_zone) as book:
        if kind == SEARCH:
            _search(book, name)
            tell_last_copy(notebook)
        elif is_record:
            _records(book, kind, name, notebook=notebook, **how)
            if not name:
                tell_last_copy(notebook)
        elif recipe:
            _recipe(book, recipe, **how)
        else:
            _cover(book, notebook)


def _cover(book: Notebook, notebook: Where) -> None:
    from baitwright.workshop.form_lists import kinds_text
    from baitwright.workshop.notebook_care import last_copy
    from baitwright.workshop.people_book import people
    from baitwright.workshop.read_records import tally
    from baitwright.workshop.recipe_shelf import recipes
    from baitwright.workshop.shelf_words import shelf_text

    told = kinds_text(tally(book), people(book))
    click.echo(shelf_text(recipes(book), where=notebook, copied=last_copy(notebook), kinds=told))


def _recipe(book: Notebook, recipe: str, *, version: int | None, undo: bool, **how: Any) -> None:
    from baitwright.workshop.notebook_care import clock_with_zone
    from baitwright.workshop.recipe_shelf import take_away, take_back, version_of, versions
    from baitwright.workshop.shelf_words import history_text, kept_text

    now = clock_with_zone()
    if undo:
        click.echo(kept_text(take_back(book, recipe, now=now)))
    elif how["take_away"]:
        click.echo(kept_text(take_away(book, recipe, now=now, reason=how["reason"])))
    elif version is None:
        click.echo(history_text(versions(book, recipe)))
    else:
        click.echo(version_of(book, recipe, version), nl=False)


def _records(book: Notebook, kind: str, name: str, *, notebook: Where, **how: Any) -> None:
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.form_lists import list_text
    from baitwright.workshop.form_text import record_json, record_text, written_text
    from baitwright.workshop.forms import form_of
    from baitwright.workshop.made_words import shelf_text
    from baitwright.workshop.notebook_care import clock_with_zone
    from baitwright.workshop.people_book import people
    from baitwright.workshop.read_records import history, records
    from baitwright.workshop.record_forms import take_away, undo

    form, now = form_of(kind), clock_with_zone()
    if kind == PERSON:
        _people(book, name, **how)
    elif not name:
        click.echo(list_text(kind, records(book, form)))
    elif how["undo"]:
        click.echo(written_text(undo(book, form, name, now=now)))
    elif how["take_away"]:
        click.echo(written_text(take_away(book, form, name, now=now, reason=how["reason"])))
    elif how["as_json"]:
        import json

        click.echo(json.dumps(record_json(history(book, form, name)), indent=2, ensure_ascii=False))
    else:
        found = history(book, form, name)
        told = record_text(found, people(book), files=shelf_beside(notebook))
        click.echo("\n".join(filter(None, (told, shelf_text(book, found[-1])))))


def _people(book: Notebook, name: str, **how: Any) -> None:
    from baitwright.workshop.form_lists import people_text
    from baitwright.workshop.form_text import person_text
    from baitwright.workshop.people_book import code_of, people

    if how["undo"] or how["take_away"]:
        hint = "Nothing earlier is kept of people: `baitwright purge person CODE` erases one."
        raise InputError("person", name, "neither --undo nor --take-away", hint=hint)
    known = people(book)
    code = code_of(name, known) if name else ""
    click.echo(person_text(code, known[code]) if code else people_text(known))


def _search(book: Notebook, words: str) -> None:
    from baitwright.workshop.form_lists import found_text
    from baitwright.workshop.read_records import search

    if not words.strip():
        raise InputError("search", None, "words, such as: notebook search overcast")
    click.echo(found_text(search(book, words)))
