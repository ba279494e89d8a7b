"""`baitwright mix analyse FILE`: what a base mix holds, weighs, binds and costs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where

_FILE = click.Path(path_type=Path)


@click.command("analyse")
@click.argument("mix", type=_FILE)
@click.option("--ingredients", type=_FILE, metavar="FILE", help="Your labels and prices.")
@click.option("--shelf", is_flag=True, help="Prices as the notebook's shelf has paid them.")
@click.option("--eggs", default="", metavar="EGGS", help='Such as "3 x EU L"; one of 50 ml else.')
@click.option("--dry-mix", default="", metavar="WEIGHT", help='One egg takes up, weighed: "80 g".')
@click.option("--water", default="", metavar="SHARE", help='Of the bait as bagged: "25 %".')
@click.option(
    "--hold",
    multiple=True,
    metavar="LIMIT",
    help='Chance wanted of "protein at least 34 % of the dry mix"; as often as you like.',
)
@click.option("--mesh", default="", metavar="SIEVE", help='One more sieve: "0.63 mm".')
@click.option("--carp", is_flag=True, help="Beside a carp's food as published.")
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--customer", is_flag=True, help="Only what a customer may read.")
@click.option("--explain", is_flag=True, help="Every number opened.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.option("--out", type=_FILE, metavar="FILE", help="Write a table: .csv or .xlsx.")
@notebook_option
def mix_analyse(mix: Path, *, notebook: Where, **asked: Any) -> None:
    """Take the base mix of MIX apart, be it a recipe file or a mix file."""
    from baitwright.workshop.mixes.mix_told import MixWanted, told_of

    said, written = told_of(mix, MixWanted(notebook=notebook, **asked))
    click.echo(said, nl=False)
    if written is not None:
        click.echo(f"written: {written}", err=True)
