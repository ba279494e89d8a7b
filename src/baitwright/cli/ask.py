"""`baitwright ask`: questions of customers, answered, kept, found again and sent."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from baitwright.cli.listing import Listing
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from baitwright.notebook.store import Notebook
    from baitwright.workshop.questions.answer_book import Answered
    from baitwright.workshop.records.record_forms import Told

_json = click.option("--json", "as_json", is_flag=True, help="For programs.")
_FILE = click.Path(path_type=Path)


@click.group(cls=Listing)
@notebook_option
@click.pass_context
def ask(context: click.Context, *, notebook: Where) -> None:
    """Answer a customer's question, keep the answer, find it again, send it."""
    context.obj = notebook


@ask.command("put")
@click.argument("words", nargs=-1, metavar="[NAME] [FILE | KEY=VALUE ...]")
@click.option("--template", default="", metavar="NAME", help="Words of your own to begin with.")
@_json
@click.pass_obj
def put(notebook: Where, /, *, words: tuple[str, ...], template: str, as_json: bool) -> None:
    """Write a question down, or change it, and answer it.

    Such as: ask put question="how much malt?" eggs="6 x EU L" levels="Malt: 5 ml per lb dry mix".
    Without words it is asked question by question. `baitwright record template NAME opening=...`
    keeps words of your own.
    """
    from baitwright.cli.record_form import asked_for, from_words, name_and_rest, somebody_is_there
    from baitwright.workshop.forms.form_questions import QUESTION
    from baitwright.workshop.forms.forms import form_of
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.questions.answer_book import put as put_down

    form = form_of(QUESTION)
    name, pieces = name_and_rest(words)
    if not pieces and not somebody_is_there():
        raise InputError("ask put", None, "a FILE, or words such as question='how much malt?'")
    told = replace(from_words(form, pieces, notebook=notebook), name=name)
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        told = told if pieces else asked_for(form, told, book)
        told = _begun(book, told, template) if template else told
        _tell(put_down(book, told, now=clock_with_zone()), as_json=as_json)


def _begun(book: Notebook, told: Told, template: str) -> Told:
    """The same begun with a template's usual question."""
    from baitwright.workshop.questions.question_begun import begun_with

    start = begun_with(book, template)

    def filled(standing: Mapping[str, Any]) -> Mapping[str, Any]:
        return told.fill({**start, **standing})

    return replace(told, fill=filled)


@ask.command("answer")
@click.argument("name")
@_json
@click.pass_obj
def answer(notebook: Where, /, *, name: str, as_json: bool) -> None:
    """Answer the question NAME, or compute its answer again and tell what changed."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        _tell(_answered(book, name), as_json=as_json)


def _answered(book: Notebook, name: str) -> Answered:
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.questions.answer_book import answer

    return answer(book, name, now=clock_with_zone())


def _tell(done: Answered, *, as_json: bool) -> None:
    from baitwright.workshop.questions.answer_words import advice_json, answered_text

    if as_json:
        _print(advice_json(done.advice, done.changes))
    else:
        click.echo(answered_text(done))


def _print(told: Mapping[str, Any]) -> None:
    click.echo(json.dumps(told, ensure_ascii=False, indent=2))


@ask.command("show")
@click.argument("name")
@click.option("--version", type=click.IntRange(1), metavar="N", help="The newest unless told.")
@_json
@click.pass_obj
def show(notebook: Where, /, *, name: str, version: int | None, as_json: bool) -> None:
    """Show the answer to NAME as it was given, and what each version changed."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.questions.answer_words import advice_json, given_text
    from baitwright.workshop.questions.answers_found import advice_of, given

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        advice, found = advice_of(book, name, version), given(book, name)
    if as_json:
        (changes,) = (one.changes for one in found if one.advice.version == advice.version)
        _print(advice_json(advice, changes))
    else:
        click.echo(given_text(found, advice.version))


@ask.command("find")
@click.argument("words", nargs=-1)
@_json
@click.pass_obj
def find(notebook: Where, /, *, words: tuple[str, ...], as_json: bool) -> None:
    """List questions that hold all WORDS, in what was asked or answered; the last ones of none."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.questions.answer_words import found_json, found_text
    from baitwright.workshop.questions.answers_found import find as found_in

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        rows = found_in(book, " ".join(words))
    if as_json:
        _print(found_json(rows))
    else:
        click.echo(found_text(rows))


@ask.command("sheet")
@click.argument("name")
@click.argument("file", type=_FILE)
@click.option("--version", type=click.IntRange(1), metavar="N", help="The newest unless told.")
@click.option("--paper", type=click.Choice(("a4", "a5")), default="a4", help="Of a PDF.")
@click.pass_obj
def sheet(notebook: Where, /, *, name: str, file: Path, version: int | None, paper: str) -> None:
    """Write the answer to NAME into FILE: .pdf to print, .html to mail, .txt for a message.

    Where it went is noted, so that a purge can reach it.
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.questions.answer_sheets import write_sheet
    from baitwright.workshop.questions.answers_found import advice_of

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        advice, now = advice_of(book, name, version), clock_with_zone()
        written = write_sheet(book, file, advice, paper=paper, now=now)
    click.echo(f"written: {written}")


@ask.command("copy")
@click.argument("file", type=_FILE)
@click.option("--recipe", "recipes", multiple=True, metavar="NAME", help="Of the notebook.")
@click.option("--answer", "answers", multiple=True, metavar="NAME", help="To a question.")
@click.option("--mix", "mixes", multiple=True, type=_FILE, metavar="FILE", help="A mix's own file.")
@click.option("--hide", multiple=True, metavar="NAME", help="A part or liquid nobody is to read.")
@click.option("--title", default="", metavar="TEXT", help="Above all of it.")
@click.pass_obj
def copy(notebook: Where, /, *, file: Path, title: str, **chosen: Any) -> None:
    """Write chosen recipes and answers into one HTML FILE that needs no network, to send.

    What is hidden stands nowhere in it, but its allergens do.
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.questions.travelling_copy import (
        Chosen,
        travelling_copy,
        write_travelling,
    )

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        made = travelling_copy(book, Chosen(**chosen, title=title))
        written = write_travelling(book, file, made, now=clock_with_zone())
    click.echo("\n".join((f"written: {written}", *(f"  ! {one}" for one in made.mind))))


@ask.command("held")
@click.argument("person")
@click.pass_obj
def held(notebook: Where, /, *, person: str) -> None:
    """Print as JSON all that is held about PERSON, such as "person 3", to hand over on request."""
    from baitwright.workshop.copies.held_about import held_about
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        _print(held_about(book, person))
