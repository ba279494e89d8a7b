"""`baitwright restore`: a copy of the notebook put back."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("backup", type=click.Path(path_type=Path), required=False)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def restore(backup: Path | None, *, as_json: bool, notebook: Where) -> None:
    """Put BACKUP back, or the newest copy; what stands there now is copied first."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone, put_back

    done = put_back(notebook, backup, clock=clock_with_zone)
    if as_json:
        from baitwright.workshop.copies.care_json import put_back_json

        click.echo(put_back_json(done))
        return
    click.echo(f"put back: {done.backup}")
    if done.replaced is not None:
        click.echo(f"what it replaced: {done.replaced}")
    for one in done.purged:
        click.echo(f"purged again: {one}; {done.backup} still tells it: delete it yourself")
