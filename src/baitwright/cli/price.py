"""`baitwright price`: what is asked for an item, what it costs, and what is left."""

from __future__ import annotations

from pathlib import Path

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("item", required=False, default="")
@click.option("--ask", metavar="MONEY", help="Ask this of a customer, all in.")
@click.option("--vat", metavar="PERCENT", help="VAT within that price; none unless told.")
@click.option("--no-vat", is_flag=True, help="No VAT in it any more.")
@click.option("--margin", metavar="PERCENT", help="Share of the price that is to be left.")
@click.option("--step", metavar="MONEY", help="Prices end on such a step, such as 0.05.")
@click.option("--undo", is_flag=True, help="Take the last change of its price back.")
@click.option("--csv", "table", type=_FILE, metavar="FILE", help="Write the list as a table.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def price(
    item: str,
    *,
    no_vat: bool,
    undo: bool,
    table: Path | None,
    as_json: bool,
    notebook: Where,
    **told: str | None,
) -> None:
    """Tell the price list, or what ITEM costs and leaves; with --ask, ask a price for it."""
    from baitwright.workshop.costs.price_words import (
        price_json,
        price_table,
        price_text,
        read_share,
    )
    from baitwright.workshop.costs.prices import Asking, ask, price_lines
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.selling.as_before import price_as_before
    from baitwright.workshop.typed.amounts import read_money

    money = {key: read_money(text) for key in ("ask", "step") if (text := told[key]) is not None}
    shares = {
        key: read_share(text, key) for key in ("vat", "margin") if (text := told[key]) is not None
    }
    if no_vat and "vat" in shares:
        raise InputError("VAT", "--vat and --no-vat", "one of both")
    asking = Asking(
        money.get("ask"), shares.get("vat"), shares.get("margin"), money.get("step"), no_vat
    )
    is_told = asking != Asking()
    if is_told and undo:
        raise InputError("price", "--undo and another price", "one of both")
    if (is_told or undo) and not item:
        raise InputError("price", None, "an item's name before what is asked for it")
    use = Use.CHANGE if is_told or undo else Use.LOOK
    with open_at(notebook, use, clock=clock_with_zone) as book:
        if is_told:
            ask(book, item, asking, now=clock_with_zone())
        if undo:
            price_as_before(book, item, now=clock_with_zone())
        lines = price_lines(book, item)
    if table is not None:
        click.echo(f"written: {price_table(table, lines)}")
    else:
        click.echo(price_json(lines) if as_json else price_text(lines))
