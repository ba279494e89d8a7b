"""`baitwright label`: labels for the bags of a batch, packs, kits, a tub of mix, a blend."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("name")
@click.option("--pdf", type=click.Path(path_type=Path), metavar="FILE", help="Write them as PDF.")
@click.option(
    "--paper",
    default="a4",
    metavar="SIZE",
    help="bag, tub, a5, a4 or a4-tub; a4, a page of 15, unless told.",
)
@click.option("--skip", type=int, default=0, metavar="N", help="Places of page 1 to leave free.")
@click.option("--copies", type=int, metavar="N", help="Of each; of packs and kits as there are.")
@click.option("--kept", type=click.Choice(("room", "fridge", "freezer")), help="Where to keep it.")
@click.option("--net", metavar="WEIGHT", help="In each tub or bottle; all it holds unless told.")
@click.option("--maker", default="", metavar="CODE", help="A person's code; nobody unless told.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def label(
    name: str, *, pdf: Path | None, as_json: bool, notebook: Where, net: str | None, **told: Any
) -> None:
    """Label what was made as NAME: a batch's bags, one bag, packs, kits, a tub, a blend."""
    from baitwright.workshop.labels.label_words import labels_json, labels_text, write_labels
    from baitwright.workshop.labels.labels import Telling, labels_of
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.typed.amounts import read_amount

    weight = None if net is None else read_amount(net)
    telling = Telling(told["kept"] or "", told["maker"], weight, told["copies"])
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = labels_of(book, name, telling)
    written = None
    if pdf is not None:
        written = write_labels(pdf, found, paper=told["paper"], skip=told["skip"])
    click.echo(labels_json(found) if as_json else labels_text(found))
    if written is not None:
        click.echo(f"written: {written}", err=as_json)
