"""`baitwright mix match RECIPE`: the free bait that goes with a hookbait, and both side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command("match")
@click.argument("recipe", type=_FILE)
@click.option("--kilos", default="", metavar="WEIGHT", help="Dry mix of it to make: 5, or 500 g.")
@click.option("--level", default="", metavar="SHARE", help='Of the hookbait\'s: "50 %".')
@click.option("--diameter", default="", metavar="LENGTH", help='Such as "18 mm".')
@click.option("--boil", default="", metavar="WORD", help="normal, hard or extra hard.")
@click.option("--coarse", default="", metavar="WEIGHT", help="What the hookbait's sieve left.")
@click.option("--bench", type=_FILE, metavar="FILE", help="Eggs, pot, room and lake as for `plan`.")
@click.option("--eggs", default="", metavar="EGGS", help='Such as "3 x EU L"; one of 50 ml else.')
@click.option("--mixer", default="", metavar="WEIGHT", help="Paste it kneads at once.")
@click.option("--hours", default="14", metavar="N", help="In the lake; a winter night unless told.")
@click.option("--at", default="", metavar="LIST", help='Lakes such as "5 C, 18 C".')
@click.option("--ingredients", type=_FILE, metavar="FILE", help="Your labels.")
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.option("--out", type=_FILE, metavar="FILE", help="Write a table: .csv or .xlsx.")
def mix_match(recipe: Path, *, as_json: bool, out: Path | None, **typed: Any) -> None:
    """The free bait to the hookbait of RECIPE: the same base unsieved, at its own level."""
    from baitwright.workshop.baits.match_told import MatchTyped, match_told
    from baitwright.workshop.baits.match_words import match_json, match_text, write_match
    from baitwright.workshop.typed.clock import wall_clock

    made = match_told(recipe, MatchTyped(**typed), clock=wall_clock)
    written = None if out is None else write_match(made, out)
    if as_json:
        import json

        click.echo(json.dumps(match_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(match_text(made), nl=False)
    if written is not None:
        click.echo(f"written: {written}", err=True)
