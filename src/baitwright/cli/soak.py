"""`baitwright soak`: what the lake makes of a bait, hour after hour."""

from __future__ import annotations

from pathlib import Path

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE)
@click.option("--hours", default="48", metavar="N", help="How long they lie; 48 unless told.")
@click.option(
    "--at",
    default="",
    metavar="LIST",
    help='Lakes such as "5 C, 18 C"; the bench\'s own, winter and summer unless told.',
)
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option(
    "--out",
    type=_FILE,
    metavar="DIR",
    help="Write bait, lift, flavour and water as .svg and soak.html into this folder.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the soak as JSON, for programs.")
def soak(
    recipe: Path,
    bench: Path,
    *,
    factors: Path | None,
    out: Path | None,
    as_json: bool,
    **asked: str,
) -> None:
    """Water, flavour, firmness and lift in the lake: RECIPE and BENCH as for `plan`."""
    from baitwright.workshop.stages.soak import shown, soak_as_json, soak_baits
    from baitwright.workshop.typed.clock import wall_clock

    made = soak_baits(recipe, bench, factors_path=factors, clock=wall_clock, **asked)
    written: tuple[Path, ...] = ()
    if out is not None:
        from baitwright.workshop.stages.soak_pictures import write_soak

        written = write_soak(made, out)
    if as_json:
        import json

        click.echo(json.dumps(soak_as_json(made), ensure_ascii=False, indent=2))
    else:
        click.echo(shown(made))
    for path in written:
        click.echo(f"written: {path}", err=as_json)
