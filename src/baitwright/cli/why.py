"""`baitwright why`: what made a batch go wrong."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("symptom", default="")
@click.argument("batch", default="")
@click.option("--most", default=8, type=click.IntRange(1), metavar="N", help="Causes told; 8.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def why(symptom: str, *, batch: str, most: int, as_json: bool, notebook: Where) -> None:
    """Tell what made BATCH, a bag of it, or the last batch go wrong: SYMPTOM such as "cracks".

    Without a symptom it lists those it knows. (How a number came about is told by
    `plan --explain`.)
    """
    from baitwright.workshop.faults.faults_asked import noticed, why_wrong
    from baitwright.workshop.faults.faults_words import fault_json, fault_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    if not symptom:
        for label, seen in noticed():
            click.echo(f"{label}: {seen}")
        return
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = why_wrong(book, batch, symptom)
    click.echo(fault_json(found) if as_json else fault_text(found, most=most))
