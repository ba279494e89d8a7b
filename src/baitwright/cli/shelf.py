"""`baitwright shelf`: what stands there, what comes, what goes, what a count found."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from baitwright.cli.place import notebook_option
from baitwright.terms.errors import InputError


@click.group(invoke_without_command=True)
@notebook_option
@click.pass_context
def shelf(context: click.Context, *, notebook: Path) -> None:
    """Tell what stands on the shelf, what it is worth, and what is past its day or soon will be."""
    context.obj = notebook
    if context.invoked_subcommand is None:
        from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
        from baitwright.workshop.stock import shelves
        from baitwright.workshop.stock_words import shelf_lines

        today = clock_with_zone().date()
        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            click.echo(shelf_lines(shelves(book), today=today))


@shelf.command("in")
@click.argument("item")
@click.argument("amount")
@click.option("--price", default="0", metavar="MONEY", help="Paid for all of it.")
@click.option("--best-before", default="", metavar="DAY", help="Such as 2027-05-01.")
@click.option("--supplier", default="", metavar="NAME", help="Who it came from.")
@click.option("--supplier-lot", default="", metavar="LOT", help="The lot on their label.")
@click.pass_obj
def come(
    notebook: Path, /, *, item: str, amount: str, price: str, best_before: str, **told: str
) -> None:
    """Put AMOUNT of ITEM on the shelf, such as: semolina 25kg."""
    from baitwright.workshop.deliveries import Delivery, bring_in
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock_words import read_amount, read_day, read_money

    now = clock_with_zone()
    best = read_day(best_before, now.date()) if best_before else None
    supplier, lot = told["supplier"], told["supplier_lot"]
    came = Delivery(item, read_amount(amount), read_money(price), best, supplier, lot)
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        click.echo(f"lot {bring_in(book, came, now=now)}: write it on the bag")


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
def go(notebook: Path, /, *, item: str, amount: str, lot: str, reason: str, why: str) -> None:
    """Take AMOUNT of ITEM off the shelf, the earliest to expire first."""
    from baitwright.ledger.movements import Reason
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock_moves import Taking, take_out
    from baitwright.workshop.stock_words import moved, read_amount

    taken = read_amount(amount)
    wanted = Taking(item, taken, Reason(reason), lot, why)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        click.echo(moved(take_out(book, wanted, now=clock_with_zone()), taken.counted))


@shelf.command("count")
@click.argument("lot")
@click.argument("amount")
@click.pass_obj
def count(notebook: Path, /, *, lot: str, amount: str) -> None:
    """Set LOT to the AMOUNT that a count found."""
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock import in_words
    from baitwright.workshop.stock_moves import count_lot
    from baitwright.workshop.stock_words import read_amount

    found = read_amount(amount, least=0)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        wrong = count_lot(book, lot, found, now=clock_with_zone())
    way = "more" if wrong > 0 else "less"
    missed = f"{in_words(abs(wrong), found.counted)} {way} than in the book"
    click.echo(f"{lot}: {missed if wrong else 'as in the book'}")


@shelf.command("quarantine")
@click.argument("lot")
@click.option("--why", default="", metavar="TEXT", help="Such as: smells musty.")
@click.option("--release", is_flag=True, help="Let it out again.")
@click.pass_obj
def quarantine(notebook: Path, /, *, lot: str, why: str, release: bool) -> None:
    """Put LOT and all that was made of it aside, and tell what to fetch back."""
    from baitwright.workshop.batch_words import recall_text
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.traces import quarantine as set_aside
    from baitwright.workshop.traces import release as let_out

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        if release:
            let_out(book, lot, why, now=clock_with_zone())
            click.echo(f"{lot}: out of quarantine")
            return
        found = set_aside(book, lot, why, now=clock_with_zone())
    click.echo(f"in quarantine: {', '.join(found.lots)}")
    click.echo(recall_text(found))


@shelf.command("undo")
@click.pass_obj
def undo(notebook: Path) -> None:
    """Take the last entry of the shelf's book back."""
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.stock import units_of
    from baitwright.workshop.stock_moves import undo_last
    from baitwright.workshop.stock_words import moved_of

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        back = undo_last(book, now=clock_with_zone())
        click.echo(moved_of(back, units_of(book)))


def _ours_and_theirs(
    context: click.Context, option: click.Parameter, told: tuple[str, ...]
) -> dict[str, str]:
    """Columns as they are said: OURS=THEIRS."""
    pairs = [one.partition("=") for one in told]
    if not all(sign for _, sign, _ in pairs):
        raise InputError("column", ", ".join(told), 'OURS=THEIRS, such as "amount=Qty (kg)"')
    return {ours.strip(): theirs.strip() for ours, _, theirs in pairs}


@shelf.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--dry-run", "only_look", is_flag=True, help="Tell what each row would do.")
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="OURS=THEIRS",
    callback=_ours_and_theirs,
    help="Which heading is ours; nothing after = leaves ours out.",
)
@click.option("--sheet", default="", metavar="NAME", help="Of a workbook; the first unless told.")
@click.option("--encoding", default="", metavar="NAME", help="Of a CSV not in UTF-8: cp1252.")
@click.option(
    "--delimiter", type=click.Choice(("comma", "semicolon", "tab")), help="What parts columns."
)
@click.option("--decimals", type=click.Choice(("point", "comma")), help="What they stand behind.")
@click.option("--days", type=click.Choice(("day-first", "month-first")), help="Of 03/04/2027.")
@click.option("--again", is_flag=True, help="A supplier's lot may come a second time.")
@click.option("--json", "as_json", is_flag=True, help="Every row and error as data.")
@click.pass_context
def take_in(
    context: click.Context, /, *, file: Path, only_look: bool, as_json: bool, **told: Any
) -> None:
    """Put every row of a table, CSV or XLSX, on the shelf as a delivery, or none of them."""
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.table_import import import_table, wishes_from
    from baitwright.workshop.table_words import import_data, import_text

    wishes = wishes_from(only_look=only_look, **told)
    place: Path = context.obj
    done = None
    if not place.exists():  # a table that is wrong begins no notebook
        done = import_table(None, file, wishes, now=clock_with_zone())
    if done is None or not (done.wrong or only_look):
        use = Use.LOOK if only_look else Use.BEGIN
        with open_at(place, use, clock=clock_with_zone) as book:
            done = import_table(book, file, wishes, now=clock_with_zone())
    if as_json:
        click.echo(json.dumps(import_data(done), ensure_ascii=False, indent=2))
    else:
        click.echo(import_text(done))
    if done.wrong:
        context.exit(2)


@shelf.command("foods")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--dry-run", "only_look", is_flag=True, help="Print the analyses and keep none.")
@click.option("--sheet", default="", metavar="NAME", help="Of a workbook; the first unless told.")
@click.option("--encoding", default="", metavar="NAME", help="Of a CSV not in UTF-8: cp1252.")
@click.option("--decimals", type=click.Choice(("point", "comma")), help="What they stand behind.")
@click.option("--json", "as_json", is_flag=True, help="Every analysis and error as data.")
@click.pass_context
def foods(
    context: click.Context, /, *, file: Path, only_look: bool, as_json: bool, **told: Any
) -> None:
    """Keep the analyses of a table of foods: FoodData-style JSON, or INFOODS tagnames over columns.

    All of them are kept or none. What is printed goes into a recipe file.
    """
    from baitwright.workshop.food_import import import_foods, read_foods
    from baitwright.workshop.food_words import foods_data, foods_text
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.table_import import how_from

    how = how_from(**told)
    done = read_foods(file, how)
    if not (only_look or done.wrong):
        with open_at(context.obj, Use.BEGIN, clock=clock_with_zone) as book:
            done = import_foods(book, file, how, now=clock_with_zone())
    if as_json:
        click.echo(json.dumps(foods_data(done), ensure_ascii=False, indent=2))
    else:
        click.echo(foods_text(done))
    if done.wrong:
        context.exit(2)


@shelf.command("food")
@click.argument("name")
@click.pass_obj
def food(notebook: Path, /, *, name: str) -> None:
    """Print the analysis of the food NAME as lines for a recipe file."""
    from baitwright.workshop.food_import import analysis_named
    from baitwright.workshop.food_words import recipe_lines
    from baitwright.workshop.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        click.echo(recipe_lines(analysis_named(book, name)), nl=False)
