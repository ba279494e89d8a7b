"""`baitwright trip`: how many baits and bags an outing takes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE)
@click.option("--rods", type=int, default=2, metavar="N", help="Rods with it; 2 unless told.")
@click.option("--nights", type=int, default=1, metavar="N", help="Nights; 1 unless told.")
@click.option("--hours", default="12", metavar="N", help="Fished in each night; 12 unless told.")
@click.option("--spares", metavar="SHARE", help='On top of what is cast, such as "30 %".')
@click.option("--free", metavar="WEIGHT", help='Free bait thrown in each night, such as "500 g".')
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON, for programs.")
def trip(recipe: Path, bench: Path, *, factors: Path | None, as_json: bool, **asked: Any) -> None:
    """Hookbaits, bags and free bait for an outing: RECIPE and BENCH as for `plan`."""
    from baitwright.workshop.days.trip import outing_from
    from baitwright.workshop.days.trip import trip as counted
    from baitwright.workshop.days.trip_words import trip_as_json, trip_shown
    from baitwright.workshop.typed.clock import wall_clock

    outing = outing_from(**asked)
    made = counted(recipe, bench, outing, factors_path=factors, clock=wall_clock)
    if as_json:
        import json

        click.echo(json.dumps(trip_as_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(trip_shown(made))
