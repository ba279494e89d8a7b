"""`baitwright trace`: where something came from and where it went, and what to fetch back."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("name")
@click.option("--recall", is_flag=True, help="Only what to fetch back, or whom to tell.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def trace(name: str, *, recall: bool, as_json: bool, notebook: Where) -> None:
    """Follow NAME both ways: a supplier's lot, a lot, a batch, a bag, a night or a sale."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.traces.trace_words import recall_text, trace_json, trace_text
    from baitwright.workshop.traces.traces import trace as follow

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = follow(book, name)
    if as_json:
        import json

        click.echo(json.dumps(trace_json(found), ensure_ascii=False, indent=2))
    else:
        click.echo(recall_text(found) if recall else trace_text(found))
