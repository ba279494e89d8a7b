"""`baitwright mix RECIPE FINISHED`: a tub of prepared mix, made of what stands on the shelf."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command("tub")
@click.argument("recipe", type=click.Path(path_type=Path))
@click.argument("finished")
@click.option("--raw", default="", metavar="WEIGHT", help="Base before the sieve, if weighed.")
@click.option("--best-before", default="", metavar="DAY", help="Of the tub.")
@click.option("--why", default="", metavar="TEXT", help="Why more was used than the book holds.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def mix_tub(recipe: Path, finished: str, *, as_json: bool, notebook: Where, **typed: str) -> None:
    """Put a tub with the weight FINISHED on the shelf, and take RECIPE's parts off it."""
    from baitwright.quantities import Kind, read
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.records.shelf_words import mixed_text
    from baitwright.workshop.shelf.stock import moved_without_price, units_of
    from baitwright.workshop.shelf.stock_words import moved_in
    from baitwright.workshop.tubs.mixing import Mixing
    from baitwright.workshop.tubs.mixing import mix as stir
    from baitwright.workshop.typed.typed_days import read_day

    now = clock_with_zone()
    raw, day = typed["raw"], typed["best_before"]
    weighed = None if not raw else read(raw, Kind.MASS, "raw")
    best = read_day(day, now.date()) if day else None
    told = Mixing(read(finished, Kind.MASS, "finished"), weighed, best, typed["why"])
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        found = stir(book, recipe, told, now=now)
        moved = moved_in(book, found.used)
        counted, unpriced = units_of(book), moved_without_price(book, found.used)
    if as_json:
        from baitwright.workshop.copies.care_json import mixed_json

        click.echo(mixed_json(found, counted, unpriced))
        return
    click.echo(mixed_text(found, moved))
    click.echo(f'weigh it later: baitwright record tub {found.lot} left="500 g"')
