"""`baitwright notebook`: what is kept, a recipe's versions, one of them, and the last undone."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


@click.command()
@click.argument("recipe", required=False, default="")
@click.option("--version", type=click.IntRange(1), metavar="N", help="Print that version's file.")
@click.option("--undo", is_flag=True, help="Write the version before the last as the newest.")
@notebook_option
def notebook(recipe: str, *, version: int | None, undo: bool, notebook: Where) -> None:
    """Tell what the notebook holds, or every version of RECIPE, named as in its file."""
    if undo and version is not None:
        raise InputError("notebook", "--undo and --version", "one of both")
    if not recipe and (undo or version is not None):
        raise InputError("notebook", None, "a recipe's name before --undo or --version")
    from baitwright.workshop.notebook_care import Use, clock_with_zone, last_copy, open_at
    from baitwright.workshop.recipe_shelf import recipes, take_back, version_of, versions
    from baitwright.workshop.shelf_words import history_text, kept_text, shelf_text

    use = Use.CHANGE if undo else Use.LOOK
    with open_at(notebook, use, clock=clock_with_zone) as book:
        if not recipe:
            click.echo(shelf_text(recipes(book), where=notebook, copied=last_copy(notebook)))
        elif undo:
            click.echo(kept_text(take_back(book, recipe, now=clock_with_zone())))
        elif version is None:
            click.echo(history_text(versions(book, recipe)))
        else:
            click.echo(version_of(book, recipe, version), nl=False)
