"""`baitwright backup`: a copy of the notebook, now."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def backup(*, as_json: bool, notebook: Where) -> None:
    """Copy the notebook into the folder beside it; the copy is opened and checked."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone, copy_now

    copy = copy_now(notebook, clock=clock_with_zone)
    if as_json:
        from baitwright.workshop.copies.care_json import backup_json

        click.echo(backup_json(copy))
        return
    click.echo(f"written: {copy}")
