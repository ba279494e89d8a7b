"""`baitwright backup`: a copy of the notebook, now."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@notebook_option
def backup(notebook: Where) -> None:
    """Copy the notebook into the folder beside it; the copy is opened and checked."""
    from baitwright.workshop.notebook_care import clock_with_zone, copy_now

    click.echo(f"written: {copy_now(notebook, clock=clock_with_zone)}")
