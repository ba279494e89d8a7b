"""`baitwright shelf`: what stands there, what comes, what goes, what a count found."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from baitwright.cli.listing import Listing
from baitwright.cli.paper import pdf_options
from baitwright.cli.place import notebook_option, tell_last_copy
from baitwright.cli.shelf_tables import food, foods, take_in
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


@click.group(cls=Listing, invoke_without_command=True)
@click.option(
    "--csv",
    "table",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write every lot with its value as a table.",
)
@pdf_options
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
@click.pass_context
def shelf(
    context: click.Context,
    *,
    table: Path | None,
    pdf: Path | None,
    paper: str,
    as_json: bool,
    notebook: Where,
) -> None:
    """Tell what stands on the shelf, what it is worth, and what is past its day or soon will be."""
    context.obj = notebook
    if context.invoked_subcommand is None:
        from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
        from baitwright.workshop.shelf.shelf_table import shelf_json, shelf_table
        from baitwright.workshop.shelf.stock import shelves
        from baitwright.workshop.shelf.stock_words import shelf_lines

        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            found = shelves(book)
        if pdf is not None:
            from baitwright.workshop.shelf.stock_sheet import write_stock

            written = write_stock(pdf, found, paper=paper, now=clock_with_zone())
            click.echo(f"written: {written}", err=as_json)
        if table is not None:
            click.echo(f"written: {shelf_table(table, found)}")
        elif as_json:
            click.echo(shelf_json(found))
        elif pdf is None:
            click.echo(shelf_lines(found, today=clock_with_zone().date()))
            tell_last_copy(notebook)


@shelf.command("in")
@click.argument("item")
@click.argument("amount")
@click.option("--price", default="", metavar="MONEY", help="Paid for all of it; else unknown.")
@click.option("--best-before", default="", metavar="DAY", help="Such as 2027-05-01.")
@click.option("--came", default="", metavar="DAY", help="When it came; today unless told.")
@click.option("--supplier", default="", metavar="NAME", help="Who it came from.")
@click.option("--supplier-lot", default="", metavar="LOT", help="The lot on their label.")
@click.option("--again", is_flag=True, help="A supplier's lot may come a second time.")
@click.option("--why", default="", metavar="TEXT", help="Why it comes in past its best-before.")
@click.pass_obj
def come(
    notebook: Where, /, *, item: str, amount: str, price: str, best_before: str, **told: Any
) -> None:
    """Put AMOUNT of ITEM on the shelf, such as: semolina 25kg."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.shelf.deliveries import Delivery, bring_in
    from baitwright.workshop.shelf.stock_words import came_text
    from baitwright.workshop.typed.amounts import read_amount, read_money
    from baitwright.workshop.typed.typed_days import any_day, read_past_day

    now = clock_with_zone()
    came = Delivery(
        item=item,
        amount=read_amount(amount),
        value=read_money(price) if price else None,
        best_before=any_day(best_before, "best-before") if best_before else None,
        supplier=told["supplier"],
        supplier_lot=told["supplier_lot"],
        came=read_past_day(told["came"], now.date(), field="came"),
    )
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        lot = bring_in(book, came, now=now, again=told["again"], why=told["why"])
    click.echo(came_text(lot, came, today=now.date()))


@shelf.command("out")
@click.argument("item")
@click.argument("amount")
@click.option("--lot", default="", metavar="LOT", help="From this lot; the first to expire if not.")
@click.option(
    "--reason",
    type=click.Choice(("used", "sold", "lost")),
    default="used",
    help="Why it goes; used unless told.",
)
@click.option("--why", default="", metavar="TEXT", help="Why more goes than the book holds.")
@click.pass_obj
def go(notebook: Where, /, *, item: str, amount: str, lot: str, reason: str, why: str) -> None:
    """Take AMOUNT of ITEM off the shelf, the earliest to expire first."""
    from baitwright.ledger.movements import Reason
    from baitwright.workshop.entries.stock_moves import Taking, take_out
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.shelf.stock_words import moved_in
    from baitwright.workshop.typed.amounts import read_amount

    wanted = Taking(item, read_amount(amount), Reason(reason), lot, why)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        click.echo(moved_in(book, take_out(book, wanted, now=clock_with_zone())))


@shelf.command("count")
@click.argument("lot")
@click.argument("amount")
@click.pass_obj
def count(notebook: Where, /, *, lot: str, amount: str) -> None:
    """Set LOT to the AMOUNT that a count found."""
    from baitwright.workshop.entries.stock_moves import count_lot
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.shelf.stock_words import counted_text
    from baitwright.workshop.typed.amounts import read_amount

    found = read_amount(amount, least=0)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        wrong = count_lot(book, lot, found, now=clock_with_zone())
    click.echo(counted_text(lot, wrong, found.counted))


@shelf.command("quarantine")
@click.argument("lot")
@click.option("--why", default="", metavar="TEXT", help="Such as: smells musty.")
@click.option("--release", is_flag=True, help="Let it out again.")
@click.option("--all", "with_all", is_flag=True, help="With --release: all made of it too.")
@click.option("--undo", is_flag=True, help="Take its last quarantine back.")
@click.pass_obj
def quarantine(notebook: Where, /, *, lot: str, why: str, **how: bool) -> None:
    """Put LOT and all that was made of it aside, and tell what to fetch back.

    LOT is a lot, or a supplier's lot and with it all lots that came of it.
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.traces import quarantine as aside
    from baitwright.workshop.traces.trace_words import recall_text, released_text

    if (how["undo"] and (how["release"] or why)) or (how["with_all"] and not how["release"]):
        raise InputError("quarantine", lot, "--why TEXT, then --release [--all], or --undo alone")
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        now = clock_with_zone()
        if how["undo"]:
            click.echo(released_text(aside.take_back(book, lot, now=now)))
        elif how["release"]:
            out = aside.release(book, lot, why, now=now, with_all=how["with_all"])
            click.echo(released_text(out))
        else:
            found = aside.quarantine(book, lot, why, now=now)
            click.echo(f"in quarantine: {', '.join(found.lots)}\n{recall_text(found)}")


@shelf.command("undo")
@click.pass_obj
def undo(notebook: Where) -> None:
    """Take the last entry of the shelf's book back."""
    from baitwright.workshop.entries.stock_moves import undo_last
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.shelf.stock_words import moved_in

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        click.echo(moved_in(book, undo_last(book, now=clock_with_zone())))


for _command in (take_in, foods, food):
    shelf.add_command(_command)
