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
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def notebook(kind: str, name: str, *, notebook: Where, **how: Any) -> None:
    """Tell what the notebook holds, every version of RECIPE, or records of a KIND and one of them.

    Such as: notebook night, notebook night 2026-11-27/1, notebook search overcast.
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    if how["undo"] and (how["version"] is not None or how["take_away"]):
        raise InputError("notebook", "--undo and --version", "one of both")
    typed, kind = kind, _kind_of(kind)
    changes = how["undo"] or how["take_away"]
    is_record = kind in KINDS and (name != "" or kind != RECIPE)
    recipe = "" if is_record or kind == SEARCH else name if kind == RECIPE and name else typed
    if not (recipe or name) and (changes or how["version"] is not None):
        hint = "A recipe's name, or a kind and a name, stands before --undo, --version and such."
        raise InputError("notebook", None, "a recipe's name", hint=hint)
    use = Use.CHANGE if changes else Use.LOOK
    with open_at(notebook, use, clock=clock_with_zone) as book:
        if kind != typed:
            _refuse_either(book, typed, kind)
        if kind == SEARCH:
            _search(book, name, **how)
        elif is_record:
            _records(book, kind, name, notebook=notebook, **how)
        elif recipe:
            _recipe(book, recipe, **how)
        else:
            _cover(book, notebook, **how)
    if not how["as_json"] and (kind == SEARCH or (is_record and not name)):
        tell_last_copy(notebook)


def _kind_of(word: str) -> str:
    """A kind of record or `search`, however it was capitalised; any other word as it was typed."""
    plain = word.casefold()
    return plain if plain in (*KINDS, SEARCH, RECIPE) else word


def _refuse_either(book: Notebook, typed: str, kind: str) -> None:
    """Refuse a kind's word in capitals where a recipe is called so."""
    from baitwright.workshop.recipes.recipe_shelf import recipes

    if any(one.name == typed for one in recipes(book)):
        accepted = f"`{kind}` for that kind, or `{RECIPE} {typed}` for the recipe of that name"
        raise InputError("notebook", typed, accepted)


def _cover(book: Notebook, notebook: Where, *, as_json: bool, **_: Any) -> None:
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.copies.notebook_json import cover_json
    from baitwright.workshop.forms.form_lists import kinds_text
    from baitwright.workshop.forms.read_records import tally
    from baitwright.workshop.opening.notebook_care import last_copy
    from baitwright.workshop.recipes.recipe_shelf import recipes
    from baitwright.workshop.records.people_book import people
    from baitwright.workshop.records.shelf_words import shelf_text

    known, copied = people(book), last_copy(notebook)
    if as_json:
        told = {**tally(book), PERSON: len(known)}
        click.echo(cover_json(recipes(book), where=notebook, copied=copied, records=told))
        return
    told_kinds = kinds_text(tally(book), known)
    click.echo(shelf_text(recipes(book), where=notebook, copied=copied, kinds=told_kinds))


def _recipe(
    book: Notebook, recipe: str, *, version: int | None, undo: bool, as_json: bool, **how: Any
) -> None:
    from baitwright.workshop.copies.notebook_json import recipe_json
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.recipes.recipe_shelf import version_of, versions
    from baitwright.workshop.recipes.recipe_taken import take_away, take_back
    from baitwright.workshop.records.shelf_words import history_text, kept_text

    now = clock_with_zone()
    if undo or how["take_away"]:
        reason = how["reason"]
        kept = (
            take_back(book, recipe, now=now)
            if undo
            else take_away(book, recipe, now=now, reason=reason)
        )
        click.echo(recipe_json((kept.revision,)) if as_json else kept_text(kept))
    elif as_json:
        found = versions(book, recipe)
        click.echo(recipe_json(one for one in found if version in (None, one.version)))
    elif version is None:
        click.echo(history_text(versions(book, recipe)))
    else:
        click.echo(version_of(book, recipe, version), nl=False)


def _records(
    book: Notebook, kind: str, name: str, *, notebook: Where, as_json: bool, **how: Any
) -> None:
    from baitwright.cli.record_form import tell_record
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.copies.notebook_json import list_json
    from baitwright.workshop.entries.made_words import shelf_text
    from baitwright.workshop.forms.form_lists import list_text
    from baitwright.workshop.forms.forms import form_of
    from baitwright.workshop.forms.read_records import history, records
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.records.form_text import record_text
    from baitwright.workshop.records.people_book import people
    from baitwright.workshop.records.record_forms import take_away, undo

    form, now = form_of(kind), clock_with_zone()
    if kind == PERSON:
        _people(book, name, as_json=as_json, **how)
    elif not name:
        found = records(book, form)
        click.echo(list_json(kind, found) if as_json else list_text(kind, found))
    elif how["undo"]:
        tell_record((undo(book, form, name, now=now),), as_json=as_json)
    elif how["take_away"]:
        made = take_away(book, form, name, now=now, reason=how["reason"])
        tell_record((made,), as_json=as_json)
    elif as_json:
        tell_record(history(book, form, name), as_json=as_json)
    else:
        versions = history(book, form, name)
        told = record_text(versions, people(book), files=shelf_beside(notebook))
        click.echo("\n".join(filter(None, (told, shelf_text(book, versions[-1])))))


def _people(book: Notebook, name: str, *, as_json: bool, **how: Any) -> None:
    from baitwright.workshop.copies.notebook_json import people_json
    from baitwright.workshop.forms.form_lists import people_text
    from baitwright.workshop.records.form_text import person_text
    from baitwright.workshop.records.people_book import code_of, people

    if how["undo"] or how["take_away"]:
        hint = "Nothing earlier is kept of people: `baitwright purge person CODE` erases one."
        raise InputError("person", name, "neither --undo nor --take-away", hint=hint)
    known = people(book)
    code = code_of(name, known) if name else ""
    if as_json:
        click.echo(people_json({code: known[code]} if code else known))
    else:
        click.echo(person_text(code, known[code]) if code else people_text(known))


def _search(book: Notebook, words: str, *, as_json: bool, **_: Any) -> None:
    from baitwright.workshop.copies.notebook_json import found_json
    from baitwright.workshop.forms.form_lists import found_text
    from baitwright.workshop.forms.read_records import search

    if not words.strip():
        raise InputError("search", None, "words, such as: notebook search overcast")
    found = search(book, words)
    click.echo(found_json(words, found) if as_json else found_text(found))
