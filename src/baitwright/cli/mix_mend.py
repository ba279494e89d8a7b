"""`baitwright mix mend FILE`: the mix that stands in when a part is gone or no longer the same."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command("mend")
@click.argument("mix", type=_FILE)
@click.option("--without", multiple=True, metavar="INGREDIENT", help="No longer to be had.")
@click.option("--changed", type=_FILE, metavar="FILE", help="[ingredients]: what new bags say.")
@click.option(
    "--with",
    "instead",
    multiple=True,
    metavar="INGREDIENT",
    help="May come in; else --ingredients, else the table's of its class.",
)
@click.option("--ingredients", type=_FILE, metavar="FILE", help="Your labels and prices.")
@click.option("--name", default="", metavar="NAME", help="Of the mended base; one more than now.")
@click.option("--round-to", "step", default="", metavar="SHARE", help="For the scale; 0.5 %.")
@click.option("--eggs", default="", metavar="EGGS", help='Such as "3 x EU L"; one of 50 ml else.')
@click.option("--old-left", default="", metavar="WEIGHT", help="Of the old finished mix.")
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option(
    "--restart", multiple=True, metavar="FACTOR", help="Of the whole kitchen: begins anew too."
)
@click.option("--accept", type=_FILE, metavar="FILE", help="Write the factors that begin anew.")
@click.option("--write", type=_FILE, metavar="FILE", help="Write MIX with the new mix in it.")
@click.option("--explain", is_flag=True, help="Every number opened.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.option("--out", type=_FILE, metavar="FILE", help="Write a table: .csv or .xlsx.")
def mix_mend(mix: Path, **asked: Any) -> None:
    """The mix nearest to that of MIX, a recipe, a mix or wishes, without an ingredient or with
    another bag of it; what changes, a few rolls to prove it, and what has to be learned anew.
    """
    from baitwright.workshop.mending.mend_told import MendWanted, mend_told

    said, written = mend_told(mix, MendWanted(**asked))
    click.echo(said, nl=False)
    for path in written:
        click.echo(f"written: {path}", err=True)
