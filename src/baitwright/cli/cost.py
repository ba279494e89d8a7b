"""`baitwright cost`: what a batch, a bag, a pack or a kit cost, part by part."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where

_json = click.option("--json", "as_json", is_flag=True, help="For programs.")


@click.group()
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
    **told: int | str,
) -> None:
    """Tell what the batch NAME cost, each good bait of it, and a bag."""
    from baitwright.workshop.cost_words import cost_json, cost_text
    from baitwright.workshop.costs import BagPlan, cost_of_batch
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock_words import read_money

    how = None
    if bags is not None or each is not None:
        packing = read_money(str(told["packing"]))
        how = BagPlan(bags or 0, each or 0, int(told["spilled"]), packing)
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        words = cost_json if as_json else cost_text
        click.echo(words(cost_of_batch(book, name, how), of="batch", each="bait"))


@cost.command("lot")
@click.argument("name")
@_json
@click.pass_obj
def lot(notebook: Where, /, *, name: str, as_json: bool) -> None:
    """Tell what the lot NAME cost that was packed or put together here, and one of it."""
    from baitwright.workshop.cost_words import cost_json, cost_text
    from baitwright.workshop.costs import cost_of_lot
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        words = cost_json if as_json else cost_text
        click.echo(words(cost_of_lot(book, name), of="lot", each="piece"))
