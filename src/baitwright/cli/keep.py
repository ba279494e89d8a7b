"""`baitwright keep`: a recipe into the notebook, version after version."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("recipe", type=click.Path(path_type=Path))
@click.option("--reason", default="", metavar="TEXT", help="Why it changed, for later.")
@notebook_option
def keep(recipe: Path, *, reason: str, notebook: Where) -> None:
    """Keep the file RECIPE as the next version of the recipe of its name; tell what changed."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.recipes.recipe_shelf import keep_recipe
    from baitwright.workshop.records.shelf_words import kept_text

    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        click.echo(kept_text(keep_recipe(book, recipe, now=clock_with_zone(), reason=reason)))
