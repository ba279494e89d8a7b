"""`baitwright check`: whether the program is all there."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where

if TYPE_CHECKING:
    from baitwright.workshop.checks.installation import Finding

_SIGNS = {"well": "ok", "left out": "--", "broken": "!!"}


@click.command()
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def check(*, as_json: bool, notebook: Where) -> None:
    """Look the installation over and say what is missing; ends with 1 where something is broken."""
    from baitwright.workshop.checks.installation import Stands

    found = []
    for one in _findings(notebook):
        found.append(one)
        if not as_json:
            helps = f" ({one.helps})" if one.helps else ""
            click.echo(f"{_SIGNS[one.stands]}  {one.what}: {one.found}{helps}")
    if as_json:
        import json
        from dataclasses import asdict

        click.echo(json.dumps([asdict(one) for one in found], ensure_ascii=False, indent=2))
    if any(one.stands is Stands.BROKEN for one in found):
        sys.exit(1)


def _findings(notebook: Where) -> Iterator[Finding]:
    """What is installed; and where nothing is broken there, how it does."""
    from baitwright.workshop.checks.installation import Stands, packages

    found = tuple(packages())
    yield from found
    if any(one.stands is Stands.BROKEN for one in found):
        return
    from baitwright.workshop.checks.trial_runs import trial_runs
    from baitwright.workshop.typed.clock import wall_clock

    yield from trial_runs(notebook, clock=wall_clock)
