"""`baitwright bottle`: what baits did in clear water, what that proves, and what it teaches."""

from __future__ import annotations

from pathlib import Path

import click

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("plan", type=_FILE)
@click.argument("test", type=_FILE)
@click.option(
    "--factors",
    type=_FILE,
    metavar="FILE",
    help="The factors to move on from, if later than those of the plan.",
)
@click.option("--accept", type=_FILE, metavar="FILE", help="Keep the new factors as a new file.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def bottle(
    plan: Path, test: Path, *, factors: Path | None, accept: Path | None, as_json: bool
) -> None:
    """Hold a bottle TEST against PLAN (the plan.json of a batch), then propose factors."""
    from baitwright.workshop.readings.bottle_test import bottle_test
    from baitwright.workshop.readings.bottle_words import bottle_text
    from baitwright.workshop.readings.record_batch import RecordFiles
    from baitwright.workshop.typed.clock import wall_clock

    tested = bottle_test(RecordFiles(plan, test, factors, accept), clock=wall_clock)
    if as_json:
        import json

        from baitwright.workshop.readings.bottle_json import bottle_as_json

        click.echo(json.dumps(bottle_as_json(tested), ensure_ascii=False, indent=2))
        return
    click.echo(bottle_text(tested))
