"""`baitwright shelf import`, `foods` and `food`: tables from elsewhere."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


def _ours_and_theirs(
    context: click.Context, option: click.Parameter, told: tuple[str, ...]
) -> dict[str, str]:
    """Columns as they are said: OURS=THEIRS."""
    pairs = [one.partition("=") for one in told]
    if not all(sign for _, sign, _ in pairs):
        raise InputError("column", ", ".join(told), 'OURS=THEIRS, such as "amount=Qty (kg)"')
    return {ours.strip(): theirs.strip() for ours, _, theirs in pairs}


@click.command("import")
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
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, is_there, open_at
    from baitwright.workshop.tables.table_import import import_table, wishes_from
    from baitwright.workshop.tables.table_words import import_data, import_text

    wishes = wishes_from(only_look=only_look, **told)
    place: Where = context.obj
    done = None
    if not is_there(place):  # a table that is wrong begins no notebook
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


@click.command("foods")
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
    """Keep the analyses of foods: JSON of foods with nutrients, or INFOODS tagnames over columns.

    All of them are kept or none. What is printed goes into a recipe file.
    """
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.tables.food_import import import_foods, read_foods
    from baitwright.workshop.tables.food_words import foods_data, foods_text
    from baitwright.workshop.tables.table_import import how_from

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


@click.command("food")
@click.argument("name")
@click.pass_obj
def food(notebook: Where, /, *, name: str) -> None:
    """Print the analysis of the food NAME as lines for a recipe file."""
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.tables.food_import import analysis_named
    from baitwright.workshop.tables.food_words import recipe_lines

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        click.echo(recipe_lines(analysis_named(book, name)), nl=False)
