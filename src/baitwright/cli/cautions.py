"""`baitwright cautions`: what a recipe, the whole shelf, a blend or a pack calls for."""

from __future__ import annotations

import json
from pathlib import Path

import click

from baitwright.cli.listing import Listing
from baitwright.cli.paper import pdf_options
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where

_FILE = click.Path(path_type=Path)
_COUNTRY = click.option(
    "--country",
    default="",
    metavar="XX",
    help="Whose rules, such as GB; your last plan's unless told.",
)
_SELLING = click.option("--selling", is_flag=True, help="What may apply to selling as well.")
_JSON = click.option("--json", "as_json", is_flag=True, help="For programs.")


@click.group(cls=Listing)
def cautions() -> None:
    """What calls for care: a recipe, all that stands on the shelf, a blend, a pack's weight."""


@cautions.command("recipe")
@click.argument("recipe", type=_FILE)
@_COUNTRY
@_SELLING
@_JSON
@notebook_option
def of_recipe(recipe: Path, *, country: str, selling: bool, as_json: bool, notebook: Where) -> None:
    """What RECIPE calls for, step by step, with what of it raised each caution."""
    from baitwright.advice.hazards import Doing
    from baitwright.workshop.batches.own_country import own_country_at
    from baitwright.workshop.care.hazards_json import hazards_json
    from baitwright.workshop.care.hazards_shown import recipe_hazards
    from baitwright.workshop.care.premises import of_recipe as parts_of
    from baitwright.workshop.opening.notebook_care import clock_with_zone
    from baitwright.workshop.plans.liquid_sheets import sheets_at, with_sheets
    from baitwright.workshop.recipe_files.recipe_file import read_recipe
    from baitwright.workshop.told.answer_text import answer_text

    country = country or own_country_at(notebook, clock=clock_with_zone)
    sheets = sheets_at(notebook, clock=clock_with_zone)
    at_hand = parts_of(with_sheets(read_recipe(recipe), sheets))
    doings = (Doing.MAKING, Doing.SELLING) if selling else (Doing.MAKING,)
    if as_json:
        told = hazards_json(at_hand, doings=doings, country=country)
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        click.echo(answer_text(recipe_hazards(at_hand, doings=doings, country=country)), nl=False)


@cautions.command("shelf")
@_COUNTRY
@_SELLING
@pdf_options
@_JSON
@notebook_option
def of_shelf(
    *, country: str, selling: bool, pdf: Path | None, paper: str, as_json: bool, notebook: Where
) -> None:
    """What all that stands on the shelf calls for: bottles, allergens, cautions."""
    from baitwright.advice.hazards import Doing
    from baitwright.workshop.batches.own_country import own_country
    from baitwright.workshop.care.hazards_json import hazards_json
    from baitwright.workshop.care.hazards_shown import premises_hazards
    from baitwright.workshop.care.premises import premises
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.told.answer_text import answer_text

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = premises(book)
        country = country or own_country(book)
    doings = (Doing.SELLING,) if selling else ()
    if pdf is not None:
        from baitwright.workshop.care.premises_sheet import write_premises

        now = clock_with_zone()
        written = write_premises(pdf, found, country=country, paper=paper, now=now)
        click.echo(f"written: {written}", err=as_json)
    if as_json:
        told = hazards_json(found.at_hand, doings=doings, country=country)
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    elif pdf is None:
        click.echo(answer_text(premises_hazards(found, doings=doings, country=country)), nl=False)


@cautions.command("blend")
@click.argument("name", required=False, default="")
@click.option(
    "--part",
    "parts",
    multiple=True,
    metavar="TEXT",
    help="In place of a blend: '26 % Clove: oral 2737 mg/kg', '11 % water: oral not relevant'.",
)
@_JSON
@notebook_option
def of_blend(name: str, *, parts: tuple[str, ...], as_json: bool, notebook: Where) -> None:
    """Screen the blend NAME, or parts that are typed, for acute toxicity; no classification."""
    from baitwright.workshop.care.blend_screening import screen_blend, screen_parts
    from baitwright.workshop.care.screening_shown import screening_json, screening_shown
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.told.answer_text import answer_text

    if parts:
        found = screen_parts(parts)
    else:
        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            found = screen_blend(book, name)
    if as_json:
        click.echo(json.dumps(screening_json(found), ensure_ascii=False, indent=2))
    else:
        click.echo(answer_text(screening_shown(found)), nl=False)


@cautions.command("pack")
@click.argument("stated", metavar="WEIGHT")
@click.argument("weighed", nargs=-1, metavar="[WEIGHT ...]")
@_JSON
def of_pack(stated: str, weighed: tuple[str, ...], *, as_json: bool) -> None:
    """What a pack that states a WEIGHT may lack, and packs as weighed against three rules."""
    from baitwright.workshop.care.packs_shown import packs_checked, packs_json, packs_shown
    from baitwright.workshop.told.answer_text import answer_text

    limits, found = packs_checked(stated, weighed)
    if as_json:
        click.echo(json.dumps(packs_json(limits, found), ensure_ascii=False, indent=2))
    else:
        click.echo(answer_text(packs_shown(limits, found)), nl=False)
