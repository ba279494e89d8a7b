"""`baitwright year`: what a year made, cost, got wrong and taught."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.paper import pdf_options
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("year", required=False, default="")
@pdf_options
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def year(*, year: str, pdf: Path | None, paper: str, as_json: bool, notebook: Where) -> None:
    """Tell what was made in YEAR, what it cost, what went wrong and what was learned.

    This year unless told, such as: year 2026 --pdf year-2026.pdf
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.years.year import year_report, year_typed
    from baitwright.workshop.years.year_words import year_json, year_text

    now = clock_with_zone()
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        told = year_report(book, year_typed(year, now=now), now=now)
    click.echo(year_json(told) if as_json else year_text(told))
    if pdf is not None:
        from baitwright.workshop.years.year_sheet import write_year

        click.echo(f"written: {write_year(pdf, told, paper=paper, now=now)}", err=as_json)
