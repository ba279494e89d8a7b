"""`baitwright record`: whatever is written down; a batch's readings against its plan among it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.record_form import KINDS, write_down
from baitwright.terms.errors import InputError

_FILE = click.Path(path_type=Path)


class _Record(click.Command):
    """A kind of record as the first word begins one; two files are readings against a plan."""

    def make_context(
        self,
        info_name: str | None,
        args: list[str],
        parent: click.Context | None = None,
        **extra: Any,
    ) -> click.Context:
        """The context of the one that is meant."""
        meant = write_down if args and args[0].casefold() in KINDS else against
        return meant.make_context(info_name, args, parent, **extra)


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
def against(
    plan: Path, readings: Path, *, factors: Path | None, accept: Path | None, as_json: bool
) -> None:
    """Score PLAN (the plan.json of a batch) against READINGS, then propose factors.

    With a KIND in their place, write a record into the notebook, such as `record night`: an
    ingredient, core, liquid, hook, tub, blend, test, readings, night, water, question, template,
    complaint or person. `record night --help` tells how.
    """
    from baitwright.workshop.readings.record_batch import RecordFiles, record_batch
    from baitwright.workshop.readings.record_words import record_as_json, record_text
    from baitwright.workshop.typed.clock import wall_clock
    from baitwright.workshop.typed.nearest import nearest

    if not plan.exists() and nearest(str(plan), KINDS):
        accepted = f"a plan.json that can be read, or a kind of record: {', '.join(KINDS)}"
        raise InputError("record", str(plan), accepted)
    files = RecordFiles(plan, readings, factors, accept)
    recorded = record_batch(files, clock=wall_clock)
    if as_json:
        import json

        click.echo(json.dumps(record_as_json(recorded), ensure_ascii=False, indent=2))
        return
    click.echo(record_text(recorded))


record = _Record("record", help=against.help, short_help="Write down what was done, and score it.")
