"""`baitwright learn`: what the batches of the notebook have taught."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.option("--accept", is_flag=True, help="Plan with what was learned from now on.")
@click.option("--before", is_flag=True, help="Go back to the factors before the last acceptance.")
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FILE", help="Write them as a factors file."
)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def learn(*, accept: bool, before: bool, out: Path | None, as_json: bool, notebook: Where) -> None:
    """Tell your own factors, batch by batch, what plans gain by them, and what to measure next.

    Nothing changes until you accept; `plan` of `batch` and of the workshop then go by them.
    """
    from baitwright.materials.factors import set_said
    from baitwright.workshop.factors.factors_kept import factors_before
    from baitwright.workshop.factors.kept_moments import keep_what_was_worked_out
    from baitwright.workshop.factors.learning_book import accept as accepted
    from baitwright.workshop.factors.learning_book import learning
    from baitwright.workshop.factors.learning_json import learning_json
    from baitwright.workshop.factors.learning_words import learning_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.recipe_files.factors_file import write_factors

    if accept and before:
        raise click.UsageError("--accept or --before, not both")
    now = clock_with_zone()
    changes = accept or before
    with open_at(notebook, Use.CHANGE if changes else Use.LOOK, clock=clock_with_zone) as book:
        if changes:
            standing = accepted(book, now=now) if accept else factors_before(book, now=now)
            click.echo(f"Plans are made with: {set_said(standing.name)}.")
            return
        made = learning(book, now=now)
    if made.worked_out:
        with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
            keep_what_was_worked_out(book, now=now)
    click.echo(learning_json(made) if as_json else learning_text(made))
    if out is not None:
        click.echo(f"written: {write_factors(out, made.proposed)}", err=as_json)
