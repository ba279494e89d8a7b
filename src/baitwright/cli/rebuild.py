"""`baitwright rebuild`: a notebook made anew from its plain pages."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--partly", is_flag=True, help="Go on without pages that are damaged or missing.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def rebuild(folder: Path, *, partly: bool, as_json: bool, notebook: Where) -> None:
    """Make the notebook anew, equal row for row, from the plain pages in FOLDER."""
    from baitwright.workshop.copies.exchange_words import rebuilt_text
    from baitwright.workshop.copies.rebuild import rebuild as made_anew
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        made = made_anew(book, folder, now=clock_with_zone(), partly=partly)
    if as_json:
        from baitwright.workshop.copies.care_json import rebuilt_json

        click.echo(rebuilt_json(made, where=notebook))
        return
    click.echo(rebuilt_text(made, where=notebook))
