"""`baitwright import`: the file of an export into the notebook."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--dry-run", is_flag=True, help="Tell what would come in, and change nothing.")
@click.option(
    "--keep",
    type=click.Choice(("mine", "theirs")),
    help="Whose version stands where a record differs; nothing is imported until it is said.",
)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
@click.pass_context
def import_(
    context: click.Context,
    /,
    *,
    file: Path,
    dry_run: bool,
    keep: str | None,
    as_json: bool,
    notebook: Where,
) -> None:
    """Bring in what the zip FILE of an export has and the notebook lacks.

    A new or empty notebook becomes that of the file. In a filled one nothing is overwritten. Tables
    of deliveries and foods come in by `shelf import` and `shelf foods`.
    """
    from baitwright.cli.main import WRONG_INPUT
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.notebook.merging import Keep
    from baitwright.workshop.copies.exchange_words import imported_json, imported_text
    from baitwright.workshop.copies.import_all import Wish, import_all
    from baitwright.workshop.copies.import_looked import looked_at
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    now, kept = clock_with_zone(), None if keep is None else Keep(keep)
    if dry_run:
        found = looked_at(notebook, file, now=now, keep=kept)
    else:
        with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
            wish = Wish(now, kept)
            found = import_all(book, file, files=shelf_beside(notebook), wish=wish)
    if as_json:
        import json

        click.echo(json.dumps(imported_json(found), ensure_ascii=False, indent=2))
    else:
        click.echo(imported_text(found))
    if not (found.is_done or dry_run):
        context.exit(WRONG_INPUT)
