"""`baitwright record`: what was weighed, held against the plan, and what it teaches."""

from __future__ import annotations

from pathlib import Path

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("plan", type=_FILE)
@click.argument("readings", type=_FILE)
@click.option(
    "--factors",
    type=_FILE,
    metavar="FILE",
    help="The factors to move on from, if later than those of the plan.",
)
@click.option("--accept", type=_FILE, metavar="FILE", help="Keep the new factors as a new file.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def record(
    plan: Path, readings: Path, *, factors: Path | None, accept: Path | None, as_json: bool
) -> None:
    """Score PLAN (the plan.json of a batch) against READINGS, then propose factors."""
    from baitwright.workshop.clock import wall_clock
    from baitwright.workshop.record_batch import RecordFiles, record_batch
    from baitwright.workshop.record_words import record_as_json, record_text

    files = RecordFiles(plan, readings, factors, accept)
    recorded = record_batch(files, clock=wall_clock)
    if as_json:
        import json

        click.echo(json.dumps(record_as_json(recorded), ensure_ascii=False, indent=2))
        return
    click.echo(record_text(recorded))
