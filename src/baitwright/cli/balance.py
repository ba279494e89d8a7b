"""`baitwright balance`: the bait on its rig, the counterweight, and the bait that would do it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE)
@click.option(
    "--shot",
    default="",
    metavar="LIST",
    help='Your box, such as "BB, 2 x No 4, 0.05 g"; every trade size unless told.',
)
@click.option("--metal", default="", metavar="NAME", help="Of the shot; tin unless told.")
@click.option(
    "--link", default="", metavar="LINE", help='Bait to counterweight: "fluorocarbon 15 cm 0.4 mm".'
)
@click.option(
    "--parts", default="", metavar="LIST", help='Hung on the bait: "bait stop, bait screw".'
)
@click.option("--hole", default="", metavar="SIZE", help='Drilled through bait and core: "2 mm".')
@click.option("--sealed/--open", default=None, help="Whether the hole's ends are closed.")
@click.option("--depth", default="", metavar="DEPTH", help='Of the swim: "3.5 m".')
@click.option("--salinity", default="", metavar="SHARE", help='Of the water: "0.2 %".')
@click.option("--current", default="", metavar="SPEED", help='Of the water: "0.1 m/s".')
@click.option("--margin", default="", metavar="GRAMS", help='Past balance; "0.02 g" unless told.')
@click.option("--carry", default="", metavar="GRAMS", help='Putty the bait is to hold up: "0.5 g".')
@click.option("--slowest", default="", metavar="SPEED", help='Sinks no slower than: "0.05 m/s".')
@click.option("--fastest", default="", metavar="SPEED", help='Sinks no faster than: "0.1 m/s".')
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON, for programs.")
def balance(
    recipe: Path, bench: Path, *, factors: Path | None, as_json: bool, **asked: Any
) -> None:
    """Balance a rig: RECIPE says what the bait is, BENCH the hook, the rig, the cores and the lake.

    The rig is that of the table [rig] in BENCH; an option given here wins over what stands there.
    """
    from baitwright.workshop.stages.balance import balanced, shown
    from baitwright.workshop.typed.clock import wall_clock

    said = {key: value for key, value in asked.items() if value not in (None, "")}
    made = balanced(recipe, bench, said, factors_path=factors, clock=wall_clock)
    if as_json:
        import json

        from baitwright.workshop.stages.balance_json import balance_as_json

        click.echo(json.dumps(balance_as_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(shown(made))
