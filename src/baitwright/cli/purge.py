"""`baitwright purge`: destroy a record or a person's entry for good, after telling what goes."""

from __future__ import annotations

from typing import Any

import click

from baitwright.cli.place import notebook_option
from baitwright.cli.record_form import somebody_is_there
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


@click.command()
@click.argument("kind")
@click.argument("name")
@click.option(
    "--overwrite",
    multiple=True,
    metavar="WORDS",
    help="Words of a person that their code overwrites, wherever they stand; more than once.",
)
@click.option(
    "--questions", is_flag=True, help="Of a person: what they asked goes too, answers and all."
)
@click.option("--yes", is_flag=True, help="Do it.")
@click.option("--json", "as_json", is_flag=True, help="For programs; it asks nothing.")
@notebook_option
def purge(
    *,
    kind: str,
    name: str,
    yes: bool,
    as_json: bool,
    notebook: Where,
    **how: Any,
) -> None:
    """Tell what a purge of the record NAME would destroy, and do it when told yes.

    Such as: purge complaint 2026-11-27/1, or purge person 3. It empties the notebook, every copy in
    its folder of backups and its pages, and deletes its exports; nothing brings it back. A person
    may stand in the words of other records: --overwrite puts the code there. What they asked stays
    under the code; --questions takes it too, every answer and the files answers were written into.
    """
    from baitwright.cli.main import WRONG_INPUT
    from baitwright.workshop.copies.care_json import purge_json
    from baitwright.workshop.copies.purge import loss_of
    from baitwright.workshop.copies.purge import purge as destroy
    from baitwright.workshop.copies.purge_words import loss_text, purged_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        loss = loss_of(book, kind, name, words=how["overwrite"], questions=how["questions"])
        if as_json:
            left = destroy(book, loss, now=clock_with_zone()) if yes else None
            click.echo(purge_json(loss, left))
            if not yes:
                click.get_current_context().exit(WRONG_INPUT)
            return
        click.echo(loss_text(loss))
        if not yes and not somebody_is_there():
            raise InputError("purge", None, "--yes, once you have read what goes")
        if not yes and click.prompt("Type yes to do it", default="", show_default=False) != "yes":
            click.echo("nothing was changed")
            return
        left = destroy(book, loss, now=clock_with_zone())
    click.echo(purged_text(loss, left))
