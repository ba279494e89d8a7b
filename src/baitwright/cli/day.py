"""`baitwright day`: several batches in one day, worked back from leaving."""

from __future__ import annotations

from pathlib import Path

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("file", type=_FILE)
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--out", type=_FILE, metavar="DIR", help="Write day.ics and day.svg into DIR.")
@click.option("--json", "as_json", is_flag=True, help="Print the day as JSON, for programs.")
def day(file: Path, *, factors: Path | None, out: Path | None, as_json: bool) -> None:
    """Several batches at one pot: FILE names their recipes and benches, hands, pots and trays."""
    from baitwright.workshop.days.several import arrange_day
    from baitwright.workshop.days.several_shown import several_as_json, several_shown, write_day
    from baitwright.workshop.typed.clock import wall_clock

    made = arrange_day(file, factors_path=factors, clock=wall_clock)
    written = () if out is None else write_day(made, out)
    if as_json:
        import json

        click.echo(json.dumps(several_as_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(several_shown(made))
    for path in written:
        click.echo(f"written: {path}", err=as_json)
