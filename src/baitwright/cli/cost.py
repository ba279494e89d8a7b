"""`baitwright cost`: what a batch, a bag, a pack or a kit cost, part by part."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from baitwright.cli.listing import Listing
from baitwright.cli.paper import pdf_options
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where

if TYPE_CHECKING:
    from baitwright.workshop.costs.costs import Told
    from baitwright.workshop.costs.price_line import PriceLine

_json = click.option("--json", "as_json", is_flag=True, help="For programs.")


@click.group(cls=Listing)
@notebook_option
@click.pass_context
def cost(context: click.Context, *, notebook: Where) -> None:
    """Tell what things cost at the moving average, part by part."""
    context.obj = notebook


@cost.command("batch")
@click.argument("name")
@click.option("--bags", type=int, metavar="N", help="Bags that it is to fill; with --each.")
@click.option("--each", type=int, metavar="N", help="Baits in each bag; with --bags.")
@click.option("--spilled", type=int, default=0, metavar="N", help="Baits lost while bagging.")
@click.option("--packing", default="0", metavar="MONEY", help="Bag and label of one.")
@pdf_options
@_json
@click.pass_obj
def batch(
    notebook: Where,
    /,
    *,
    name: str,
    bags: int | None,
    each: int | None,
    as_json: bool,
    **told: Any,
) -> None:
    """Tell what the batch NAME cost, each good bait of it, and a bag."""
    from baitwright.workshop.costs.costs import BagPlan, cost_of_batch
    from baitwright.workshop.costs.prices import price_lines
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.typed.amounts import read_money

    how = None
    if bags is not None or each is not None:
        how = BagPlan(bags or 0, each or 0, told["spilled"], read_money(told["packing"]))
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found, prices = cost_of_batch(book, name, how), price_lines(book)
    _tell(found, prices, of=("batch", "bait"), as_json=as_json, **told)


@cost.command("lot")
@click.argument("name")
@pdf_options
@_json
@click.pass_obj
def lot(notebook: Where, /, *, name: str, as_json: bool, **told: Any) -> None:
    """Tell what the lot NAME cost that was packed or put together here, and one of it."""
    from baitwright.workshop.costs.costs import cost_of_lot
    from baitwright.workshop.costs.prices import price_lines
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found, prices = cost_of_lot(book, name), price_lines(book)
    _tell(found, prices, of=("lot", "piece"), as_json=as_json, **told)


def _tell(
    found: Told,
    prices: tuple[PriceLine, ...],
    *,
    of: tuple[str, str],
    as_json: bool,
    pdf: Path | None,
    **told: Any,
) -> None:
    """Print what something cost, and write it as pages where a file is told."""
    from baitwright.workshop.costs.cost_words import cost_json, cost_text

    words = cost_json if as_json else cost_text
    click.echo(words(found, of=of[0], each=of[1]))
    if pdf is not None:
        from baitwright.workshop.costs.cost_sheet import write_cost
        from baitwright.workshop.opening.notebook_care import clock_with_zone

        written = write_cost(pdf, found, prices, paper=told["paper"], now=clock_with_zone())
        click.echo(f"written: {written}", err=as_json)
