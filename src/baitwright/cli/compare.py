"""`baitwright compare`: which bait did best, as far as the nights can tell."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("baits", nargs=-1, metavar="[BAIT]...")
@click.option("--water", default="", metavar="NAME", help="Nights at this water only.")
@click.option("--by-batch", is_flag=True, help="Tell batches and bags apart, not only baits.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Write rates.svg and compare.html into this folder.",
)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def compare(
    baits: tuple[str, ...],
    *,
    water: str,
    by_batch: bool,
    out: Path | None,
    as_json: bool,
    notebook: Where,
) -> None:
    """Compare baits by the nights of the notebook: two that are named, or all that were fished.

    Rods of one night are compared within it, blanks count, and no winner is named.
    """
    from baitwright.workshop.comparing.compare import compare as compared
    from baitwright.workshop.comparing.compare_json import compared_json
    from baitwright.workshop.comparing.compare_words import compared_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        made = compared(book, baits, water=water, by_batch=by_batch)
    click.echo(compared_json(made) if as_json else compared_text(made))
    if out is not None:
        from baitwright.workshop.comparing.compare_pictures import write_compared

        for path in write_compared(made, out):
            click.echo(f"written: {path}", err=as_json)
