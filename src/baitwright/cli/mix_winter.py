"""`baitwright mix winter RECIPE`: the cold-water version of a recipe, every change of it told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command("winter")
@click.argument("recipe", type=_FILE)
@click.option(
    "--keep", multiple=True, metavar="WORD", help="Leave oil, soluble, carrier, level or size."
)
@click.option("--soluble", default="", metavar="NAME", help="What is to dissolve in its place.")
@click.option("--bench", type=_FILE, metavar="FILE", help="Eggs, pot and room as for `plan`.")
@click.option("--eggs", default="", metavar="EGGS", help='Such as "3 x EU L"; one of 50 ml else.')
@click.option("--hours", default="14", metavar="N", help="In the lake; a winter night unless told.")
@click.option("--at", default="", metavar="LIST", help='Cold and warm: "5 C, 18 C" unless told.')
@click.option("--ingredients", type=_FILE, metavar="FILE", help="Your labels.")
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.option("--out", type=_FILE, metavar="FILE", help="Write it as a new recipe file: .toml.")
def mix_winter(recipe: Path, *, as_json: bool, out: Path | None, **typed: Any) -> None:
    """The version of RECIPE for cold water, beside the recipe as it is."""
    from baitwright.workshop.baits.winter_told import WinterTyped, winter_told, write_winter
    from baitwright.workshop.baits.winter_words import winter_json, winter_words
    from baitwright.workshop.typed.clock import wall_clock

    made, text = winter_told(recipe, WinterTyped(**typed), clock=wall_clock)
    written = None if out is None else write_winter(text, out)
    if as_json:
        import json

        click.echo(json.dumps(winter_json(made, text), ensure_ascii=False, indent=2))
    else:
        click.echo(winter_words(made), nl=False)
    if written is not None:
        click.echo(f"written: {written}", err=True)
