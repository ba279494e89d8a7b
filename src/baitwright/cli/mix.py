"""`baitwright mix`: a tub of prepared mix, made of what stands on the shelf."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("recipe", type=click.Path(path_type=Path))
@click.argument("finished")
@click.option("--raw", default="", metavar="WEIGHT", help="Base before the sieve, if weighed.")
@click.option("--best-before", default="", metavar="DAY", help="Of the tub.")
@click.option("--why", default="", metavar="TEXT", help="Why more was used than the book holds.")
@notebook_option
def mix(
    recipe: Path, finished: str, *, raw: str, best_before: str, why: str, notebook: Where
) -> None:
    """Put a tub with the weight FINISHED on the shelf, and take RECIPE's parts off it."""
    from baitwright.quantities import Kind, read
    from baitwright.workshop.mixing import Mixing
    from baitwright.workshop.mixing import mix as stir
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock import units_of
    from baitwright.workshop.stock_words import moved_of, read_day

    now = clock_with_zone()
    weighed = None if not raw else read(raw, Kind.MASS, "raw")
    best = read_day(best_before, now.date()) if best_before else None
    told = Mixing(read(finished, Kind.MASS, "finished"), weighed, best, why)
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        found = stir(book, recipe, told, now=now)
        click.echo(moved_of(found.used, units_of(book)))
    click.echo(f"tub of {found.item}: lot {found.lot}, write it on the lid")
    if found.missing:
        click.echo(f"not on the shelf, so not in the trace: {', '.join(found.missing)}")
