"""`baitwright levels`: how much for these eggs, and the same level on every basis."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.paper import pdf_options


@click.command()
@click.argument("levels", metavar="LEVEL...", nargs=-1)
@click.option(
    "--eggs",
    "--egg",
    metavar="EGGS",
    help="'3 x EU L', '3 x 40 ml', '195 g in the shell', '171 g in the bowl'; '+' between.",
)
@click.option("--dry-mix", metavar="WEIGHT", help="What one egg takes up, such as '86 g per egg'.")
@click.option(
    "--carrier",
    "carriers",
    multiple=True,
    metavar="NAME",
    help="Once for all levels, or for each; not known unless told.",
)
@click.option(
    "--strength",
    "strengths",
    multiple=True,
    metavar="WORD",
    help="Once for all levels, or for each; by the carrier unless told.",
)
@click.option(
    "--use",
    type=click.Choice(["hookbait", "free bait"]),
    default="hookbait",
    show_default=True,
    help="What it is judged as.",
)
@click.option("--syringes", metavar="SIZES", help="What is on the shelf, such as '1 ml, 5 ml'.")
@click.option("--drops-per-ml", type=float, metavar="N", help="Counted from this very bottle.")
@click.option(
    "--table", is_flag=True, help="The dose for 1 to 12 eggs and for every grade as well."
)
@pdf_options
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def levels(*, table: bool, as_json: bool, pdf: Path | None, paper: str, **asked: Any) -> None:
    """How much of each LEVEL for these eggs.

    A level names its basis: "0.2 ml per egg of 50 ml", "12 ml per kg dry mix", "0.8 % of paste".
    A name may stand in front: "Malt: 0.8 ml per egg of 50 ml".
    """
    from baitwright.workshop.levels.levels import levels as answer
    from baitwright.workshop.levels.levels_request import Asked, understand

    found = answer(understand(Asked(**asked)))
    if as_json:
        import json

        from baitwright.workshop.levels.levels_json import levels_as_json

        click.echo(json.dumps(levels_as_json(found), ensure_ascii=False, indent=2))
    else:
        from baitwright.workshop.levels.levels_words import levels_text

        click.echo(levels_text(found, table=table))
    if pdf is not None:
        from baitwright.workshop.levels.levels_chart import write_chart
        from baitwright.workshop.typed.clock import wall_clock

        written = write_chart(pdf, found, paper=paper, now=wall_clock())
        click.echo(f"written: {written}", err=as_json)
