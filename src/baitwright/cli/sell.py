"""`baitwright sell`: packed, put together, ordered, sent, brought back, and what it left."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from baitwright.cli.listing import Listing
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from baitwright.notebook.store import Notebook
    from baitwright.workshop.selling.packing import Made

_json = click.option("--json", "as_json", is_flag=True, help="For programs.")
_day = click.option("--day", default="", metavar="DAY", help="When; today unless told.")


@click.group(cls=Listing, invoke_without_command=True)
@_json
@notebook_option
@click.pass_context
def sell(context: click.Context, *, as_json: bool, notebook: Where) -> None:
    """Tell all orders and how far they are; pack, order, send and take back."""
    context.obj = notebook
    if context.invoked_subcommand is None:
        from baitwright.workshop.selling.order_words import orders_json, orders_text
        from baitwright.workshop.traces.order_records import orders

        with _opened(notebook, look=True) as book:
            click.echo(orders_json(orders(book)) if as_json else orders_text(orders(book)))


@sell.command("pack")
@click.argument("lot")
@click.argument("into")
@click.option("--packs", type=int, required=True, metavar="N", help="How many packs.")
@click.option("--each", type=int, required=True, metavar="N", help="Baits in each.")
@click.option("--lost", type=int, default=0, metavar="N", help="Baits spilled or broken.")
@click.option(
    "--with", "materials", multiple=True, metavar="ITEM=AMOUNT", help="Such as label=10, for all."
)
@click.option("--why", default="", metavar="TEXT", help="Why more goes than the book holds.")
@click.pass_obj
def pack(
    notebook: Where, /, *, lot: str, into: str, materials: tuple[str, ...], why: str, **counts: int
) -> None:
    """Pack baits of LOT; the packs come on the shelf as a lot of the item INTO."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling import packing
    from baitwright.workshop.selling.order_words import read_part

    parts = tuple(read_part(one) for one in materials)
    run = packing.Packing(lot, into, materials=parts, override=why, **counts)
    with _opened(notebook) as book:
        _tell_made(book, packing.pack(book, run, now=clock_with_zone()))


@sell.command("kit")
@click.argument("kit")
@click.argument("parts", nargs=-1, metavar="ITEM=AMOUNT...")
@click.option("--undo", is_flag=True, help="Write the parts before the last as the newest.")
@click.pass_obj
def kit(notebook: Where, /, *, kit: str, parts: tuple[str, ...], undo: bool) -> None:
    """Write down what is in one KIT, such as: winter-box pack=2 hook=10."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling.as_before import kit_as_before
    from baitwright.workshop.selling.kits import Kit, keep_kit
    from baitwright.workshop.selling.order_words import kit_text, read_part

    if undo:
        if parts:
            raise InputError(f"parts of {kit}", " ".join(parts), "parts or --undo, one of both")
        with _opened(notebook) as book:
            before = kit_as_before(book, kit, now=clock_with_zone())
            click.echo(kit_text(before))
        return
    told = Kit(kit, tuple(read_part(one) for one in parts))
    with _opened(notebook) as book:
        keep_kit(book, told, now=clock_with_zone())
    click.echo(f"{kit}: {len(parts)} parts")


@sell.command("join")
@click.argument("kit")
@click.argument("count", type=int)
@click.pass_obj
def join(notebook: Where, /, *, kit: str, count: int) -> None:
    """Put COUNT of KIT together; they come on the shelf as a lot."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling.kits import put_together

    with _opened(notebook) as book:
        _tell_made(book, put_together(book, kit, count, now=clock_with_zone()))


@sell.command("part")
@click.argument("lot")
@click.argument("count", type=int)
@click.pass_obj
def part(notebook: Where, /, *, lot: str, count: int) -> None:
    """Take COUNT kits of LOT apart again; the parts go back into their lots."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling.kits import take_apart

    with _opened(notebook) as book:
        _tell_made(book, take_apart(book, lot, count, now=clock_with_zone()))


@sell.command("order")
@click.argument("lines", nargs=-1, metavar="ITEM=AMOUNT[@PRICE]...")
@click.option("--customer", default="", metavar="CODE", help="A person's code; nobody unless told.")
@_day
@click.pass_obj
def order(notebook: Where, /, *, lines: tuple[str, ...], customer: str, day: str) -> None:
    """Write an order down, such as: "wafter pack=2" "free bait=5kg@4.00"."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling.order_words import read_line, taken_text
    from baitwright.workshop.selling.ordering import take_order
    from baitwright.workshop.typed.typed_days import read_past_day

    now = clock_with_zone()
    wanted, on = tuple(read_line(one) for one in lines), read_past_day(day, now.date())
    with _opened(notebook) as book:
        click.echo(taken_text(take_order(book, customer, wanted, now=now, day=on)))


@sell.command("cancel")
@click.argument("order")
@click.option("--why", default="", metavar="TEXT", help="Why, for later.")
@click.pass_obj
def cancel(notebook: Where, /, *, order: str, why: str) -> None:
    """Cancel ORDER before it is sent; what was set aside for it is free again."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling import ordering
    from baitwright.workshop.selling.order_words import order_text

    with _opened(notebook) as book:
        click.echo(order_text(ordering.cancel(book, order, now=clock_with_zone(), why=why)))


@sell.command("undo")
@click.argument("order")
@click.option("--why", default="", metavar="TEXT", help="Why, for later.")
@click.pass_obj
def undo(notebook: Where, /, *, order: str, why: str) -> None:
    """Take the cancelling of ORDER back; what is free is set aside for it again."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling import ordering
    from baitwright.workshop.selling.order_words import taken_text

    with _opened(notebook) as book:
        click.echo(taken_text(ordering.open_again(book, order, now=clock_with_zone(), why=why)))


@sell.command("send")
@click.argument("order")
@_day
@click.pass_obj
def send(notebook: Where, /, *, order: str, day: str) -> None:
    """Take what ORDER wants off the shelf, and print its packing slip."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling import sending
    from baitwright.workshop.selling.slips import slip, slip_text
    from baitwright.workshop.typed.typed_days import read_past_day

    now = clock_with_zone()
    with _opened(notebook) as book:
        sending.send(book, order, now=now, day=read_past_day(day, now.date()))
        click.echo(slip_text(slip(book, order)))


@sell.command("slip")
@click.argument("order")
@click.pass_obj
def slip(notebook: Where, /, *, order: str) -> None:
    """Print the packing slip of ORDER once more."""
    from baitwright.workshop.selling import slips

    with _opened(notebook, look=True) as book:
        click.echo(slips.slip_text(slips.slip(book, order)))


@sell.command("back")
@click.argument("order")
@click.argument("lot")
@click.argument("amount")
@click.option("--refund", required=True, metavar="MONEY", help="Paid back for it; 0 for nothing.")
@click.option(
    "--to",
    "where",
    type=click.Choice(("shelf", "quarantine", "bin")),
    required=True,
    help="Into its lot, a lot in quarantine, or the bin.",
)
@click.option("--why", default="", metavar="TEXT", help="Why; the bin asks for it.")
@_day
@click.pass_obj
def back(
    notebook: Where, /, *, order: str, lot: str, amount: str, refund: str, day: str, **told: str
) -> None:
    """Take back AMOUNT of LOT from ORDER, at the value at which it went out."""
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.selling.order_words import order_text
    from baitwright.workshop.selling.returning import CameBack, bring_back
    from baitwright.workshop.traces.orders import Where
    from baitwright.workshop.typed.amounts import read_amount, read_money
    from baitwright.workshop.typed.typed_days import read_past_day

    now, where = clock_with_zone(), Where(told["where"])
    came = CameBack(lot, read_amount(amount), read_money(refund), where, told["why"])
    with _opened(notebook) as book:
        on = read_past_day(day, now.date())
        click.echo(order_text(bring_back(book, order, came, now=now, day=on)))


@sell.command("takings")
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE", help="As a table.")
@_json
@click.pass_obj
def takings(notebook: Where, /, *, table: Path | None, as_json: bool) -> None:
    """Tell what every order and month took, cost and left, and what the stock is worth."""
    from baitwright.workshop.selling import takings
    from baitwright.workshop.selling.takings_words import takings_json, takings_table, takings_text

    with _opened(notebook, look=True) as book:
        told = takings.takings(book)
    if table is not None:
        click.echo(f"written: {takings_table(table, told)}")
    else:
        click.echo(takings_json(told) if as_json else takings_text(told))


@contextmanager
def _opened(place: Where, *, look: bool = False) -> Iterator[Notebook]:
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(place, Use.LOOK if look else Use.CHANGE, clock=clock_with_zone) as book:
        yield book


def _tell_made(book: Notebook, made: Made) -> None:
    from baitwright.workshop.shelf.stock_words import moved_in

    click.echo(f"{moved_in(book, made.lines)}\nlot {made.lot}")
