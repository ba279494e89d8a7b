"""`baitwright export`: everything of the notebook in one file."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def export(file: Path, *, as_json: bool, notebook: Where) -> None:
    """Write everything of the notebook into the zip FILE: to keep elsewhere, move or read."""
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.workshop.copies.exchange_words import exported_json, exported_text
    from baitwright.workshop.copies.exports_noted import export_noted
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        files, now = shelf_beside(notebook), clock_with_zone()
        made = export_noted(book, file, files=files, now=now)
    if as_json:
        import json

        click.echo(json.dumps(exported_json(made), ensure_ascii=False, indent=2))
        return
    click.echo(exported_text(made))
