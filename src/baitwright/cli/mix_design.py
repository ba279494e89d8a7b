"""`baitwright mix design`: the mix that does best what a file wishes, and why."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command("design")
@click.argument("wishes", type=_FILE)
@click.option("--prices", default="", metavar="INGREDIENT", help="Move the price of this one.")
@click.option("--low", type=float, metavar="PRICE", help="From this price per kg; half of now.")
@click.option("--high", type=float, metavar="PRICE", help="To this price per kg; twice of now.")
@click.option("--out", type=_FILE, metavar="FILE", help="Write parts and rows as .csv or .xlsx.")
@click.option("--pictures", type=_FILE, metavar="FOLDER", help="Draw the mix over --prices.")
@click.option(
    "--seconds",
    type=click.FloatRange(0.1, 3600.0),
    metavar="N",
    default=60.0,
    show_default=True,
    help="After which the best mix in steps so far is taken.",
)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def mix_design(
    wishes: Path, *, out: Path | None, pictures: Path | None, as_json: bool, **asked: Any
) -> None:
    """The mix that does best what WISHES asks for: what to weigh, what it leans on, what clashes.

    Where the wishes cannot all be had, it tells which clash, what each could come to, and the
    nearest mix there is.
    """
    from baitwright.workshop.wishes.design_json import design_as_json
    from baitwright.workshop.wishes.design_mix import PriceRange, design_mix, shown, write_prices
    from baitwright.workshop.wishes.design_tables import write_design

    moved = PriceRange(asked["prices"], asked["low"], asked["high"]) if asked["prices"] else None
    made = design_mix(wishes, prices_of=moved, seconds=asked["seconds"])
    written = [] if out is None else [write_design(made, out)]
    written += [] if pictures is None else write_prices(made, pictures)
    if as_json:
        import json

        told = design_as_json(made)
        click.echo(json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False))
    else:
        click.echo(shown(made))
    for path in written:
        click.echo(f"written: {path}", err=as_json)
