"""`baitwright record KIND`: one record, told by a file, by words, or question by question."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where, folder_of
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from baitwright.notebook.page import Revision
    from baitwright.notebook.store import Notebook
    from baitwright.workshop.forms.form import Form
    from baitwright.workshop.records.record_forms import Told

KINDS = (
    *("ingredient", "core", "liquid", "hook", "tub", "blend", "test", "readings", "night"),
    *("water", "question", "template", "complaint", "person"),
)


@click.command()
@click.argument("kind", type=click.Choice(KINDS, case_sensitive=False), metavar="KIND")
@click.argument("words", nargs=-1, metavar="[NAME] [FILE | KEY=VALUE ...]")
@click.option(
    "--reason", "--why", "reason", default="", metavar="TEXT", help="Why it changed, for later."
)
@click.option("--version", type=click.IntRange(0), metavar="N", help="Only if N is the newest yet.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def write_down(
    kind: str, words: tuple[str, ...], *, notebook: Where, as_json: bool, **how: Any
) -> None:
    """Write a record into the notebook, or its next version where one of the NAME stands.

    It is told by a file (TOML or JSON, - for JSON from standard input), by words such as
    bites=1 or rod[1].position=left, or, without either, question by question; an empty answer
    leaves a thing out. Words change what stands, and KEY= takes a thing away; a file is the whole
    record.
    """
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.entries.made_words import moved_text
    from baitwright.workshop.forms.form import fields_of
    from baitwright.workshop.forms.forms import form_of
    from baitwright.workshop.nights.night_doubts import doubts_json, doubts_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.records.people_book import record_person
    from baitwright.workshop.records.record_forms import record

    form = form_of(kind)
    name, pieces = name_and_rest(words)
    if not pieces and not somebody_is_there():
        hint = f"Its keys: {', '.join(fields_of(form.table))}."
        raise InputError(f"record {kind}", None, "a FILE, or words such as key=value", hint=hint)
    told = from_words(form, pieces, notebook=notebook)
    told = replace(told, name=name, seen=how["version"], reason=how["reason"])
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        told = told if pieces else asked_for(form, told, book)
        if kind == PERSON:
            code = record_person(book, told, now=clock_with_zone())
            mention = f"{code}: mention them by this in records"
            click.echo(json.dumps({"code": code}) if as_json else mention)
            return
        made = record(book, form, told, now=clock_with_zone())
        besides = "\n".join(filter(None, (moved_text(book, made), doubts_text(book, made))))
        doubts = doubts_json(book, made)
    tell_record((made,), besides=besides, doubts=doubts, as_json=as_json)


def tell_record(
    versions: tuple[Revision, ...],
    *,
    as_json: bool,
    besides: str = "",
    doubts: Sequence[Mapping[str, Any]] | None = None,
) -> None:
    """Say that a record's newest version was written; for programs, all that is told of it."""
    from baitwright.workshop.records.form_text import record_json, written_text

    if as_json:
        told = {**record_json(versions), **({} if doubts is None else {"doubtful": doubts})}
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(filter(None, (written_text(versions[-1]), besides))))


def somebody_is_there() -> bool:
    """Whether there is a terminal with somebody before it, who can answer."""
    return sys.stdin.isatty()


def name_and_rest(words: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    """The name, if the first word is one, and the words that fill the record."""
    first = words[0] if words else "="
    return ("", words) if "=" in first or _is_file(first) else (first, words[1:])


def _is_file(word: str) -> bool:
    return word == "-" or word.lower().endswith((".toml", ".json"))


def from_words(form: Form, pieces: tuple[str, ...], *, notebook: Where) -> Told:
    """A record told by a file, which is the whole of it, or by words, which change it."""
    from baitwright.workshop.forms.attached import Beside
    from baitwright.workshop.forms.form_words import from_file, from_json, with_words
    from baitwright.workshop.records.record_forms import Told

    def changed(standing: Mapping[str, Any]) -> Mapping[str, Any]:
        return with_words(standing, pieces, form=form)

    here = Beside(folder_of(notebook), Path())
    if len(pieces) != 1 or not _is_file(pieces[0]):
        return Told(changed, here)
    path = Path(pieces[0])
    if pieces[0] == "-":
        whole = from_json(sys.stdin.buffer.read(), kind=form.kind, where="-")
    else:
        whole, here = from_file(path, kind=form.kind), Beside(folder_of(notebook), path.parent)
    return Told(lambda standing: whole, here, where=pieces[0])


def asked_for(form: Form, told: Told, book: Notebook) -> Told:
    """A record asked for question by question, over what stands of its name."""
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.forms.form_ask import ask
    from baitwright.workshop.forms.read_records import standing_of
    from baitwright.workshop.records.people_book import unless_changed

    version, standing = standing_of(book, form, told.name)
    click.echo("An empty answer leaves a thing out, or as it is. Ctrl-C writes nothing.")
    answers = ask(form, standing, put=_put, more=_more, tell=_tell)
    if form.kind == PERSON:
        return replace(told, fill=unless_changed(standing, answers))
    return replace(told, fill=lambda standing: answers, seen=told.seen or version)


def _put(question: str, stands: str) -> str:
    return str(click.prompt(question, default=stands, show_default=bool(stands)))


def _more(what: str) -> bool:
    return click.confirm(f"{what}?", default=False)


def _tell(why: str) -> None:
    click.echo(f"  ! {why}")
