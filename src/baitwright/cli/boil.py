"""`baitwright boil`: a table of seconds in the pot by size and core, for the wall."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE, required=False)
@click.option(
    "--sizes",
    default="",
    metavar="LIST",
    help='Bait sizes such as "14 mm, 15 mm"; about the recipe\'s own unless told.',
)
@click.option(
    "--cores",
    default="",
    metavar="LIST",
    help='Core sizes such as "none, 9 mm"; those on the bench or about the recipe\'s own.',
)
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--pdf", type=_FILE, metavar="FILE", help="Write the table as an A4 page.")
@click.option("--json", "as_json", is_flag=True, help="Print the table as JSON, for programs.")
def boil(
    recipe: Path, bench: Path | None, *, pdf: Path | None, as_json: bool, **asked: Any
) -> None:
    """Seconds in the pot by size and core: RECIPE gives the paste, BENCH pot and place."""
    from baitwright.workshop.stages.boil_table import (
        shown,
        table_as_json,
        table_of_seconds,
        write_page,
    )
    from baitwright.workshop.typed.clock import wall_clock

    made = table_of_seconds(
        recipe,
        bench,
        sizes=asked["sizes"],
        cores=asked["cores"],
        factors_path=asked["factors"],
        clock=wall_clock,
    )
    written = None if pdf is None else write_page(made, pdf)
    if as_json:
        import json

        click.echo(json.dumps(table_as_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(shown(made))
    if written is not None:
        click.echo(f"written: {written}", err=as_json)
