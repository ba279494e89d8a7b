"""`baitwright plan`: a batch planned from a recipe and today's bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.place import notebook_option

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE)
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option(
    "--out",
    type=_FILE,
    metavar="DIR",
    help="Write bench sheet, pictures (SVG) and figures.html with them, day.ics and plan.json "
    "into DIR.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON, for programs.")
@click.option(
    "--explain",
    is_flag=False,
    flag_value="",
    metavar="[NAME]",
    help="Open the numbers: the headlines and a list of all names, or one of them. Write it last.",
)
@click.option(
    "--draws",
    type=click.IntRange(32, 65536),
    metavar="N",
    help="Batches imagined behind the bands; 256 unless told.",
)
@notebook_option
def plan(
    recipe: Path, bench: Path, *, out: Path | None, as_json: bool, explain: str | None, **asked: Any
) -> None:
    """Plan a batch: RECIPE says what the bait is, BENCH what stands on the table today.

    The notebook is only looked into: for the sheets of its liquids, and for the rules of the water
    that BENCH names.
    """
    from baitwright.workshop.care.venue_asked import plan_held_at
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.plans.liquid_sheets import by_sheets, sheets_at
    from baitwright.workshop.plans.plan_batch import plan_batch
    from baitwright.workshop.plans.show_plan import document, shown
    from baitwright.workshop.typed.clock import wall_clock

    notebook = asked["notebook"]
    made = plan_batch(
        recipe,
        bench,
        factors_path=asked["factors"],
        batches=asked["draws"],
        change=by_sheets(sheets_at(notebook, clock=clock_with_zone)),
        clock=wall_clock,
    )
    held = plan_held_at(notebook, made, clock=clock_with_zone)
    if explain is not None:
        from baitwright.workshop.plans.opened import opened, opened_as_json

        said = opened_as_json(made, explain) if as_json else opened(made, explain)
    else:
        said = document(made, held) if as_json else shown(made, held)
    written: tuple[Path, ...] = ()
    if out is not None:
        from baitwright.workshop.plans.write_plan import write_plan

        written = write_plan(made, out, held)
    click.echo(said)
    if asked["factors"] is None:
        _tell_not_used()
    for path in written:
        click.echo(f"written: {path}", err=as_json)
    if written:
        click.echo(f"Weighed it? baitwright record {written[-1]} READINGS.toml", err=as_json)


def _tell_not_used() -> None:
    """Say that the notebook has factors which this plan does not go by, where it has."""
    from baitwright.cli.place import place_told

    place = place_told()
    if isinstance(place, Path) and not place.exists():
        return
    from baitwright.workshop.factors.factors_ahead import not_used
    from baitwright.workshop.opening.notebook_care import clock_with_zone

    if name := not_used(place, clock=clock_with_zone):
        click.echo(
            f"By the tables alone: your notebook's own factors ({name}) are used by `baitwright "
            "batch plan`, and here with --factors and the file of `baitwright learn --out`.",
            err=True,
        )
