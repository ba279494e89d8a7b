"""`baitwright water`: what a water allows, and what of a bag or an outing breaks it."""

from __future__ import annotations

from typing import Any

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command()
@click.argument("name", required=False, default="")
@click.option("--bag", "bags", multiple=True, metavar="LOT", help="A bag or a batch to take there.")
@click.option("--free-bait", default="", metavar="WEIGHT", help="What goes in, such as '2.5 kg'.")
@click.option("--rods", type=click.IntRange(0, 20), metavar="N", help="How many.")
@click.option("--night/--by-day", default=None, help="When it is fished.")
@click.option("--lead/--no-lead", default=None, help="Whether lead is in the box.")
@click.option("--day", default="", metavar="DAY", help="When; today unless told.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
def water(name: str, *, notebook: Where, as_json: bool, **told: Any) -> None:
    """Tell the rules of the water NAME, held against what you take there; without it, all waters.

    `baitwright record water NAME nuts=banned` writes rules down. Nothing is blocked.
    """
    from baitwright.quantities import Kind, read
    from baitwright.workshop.care.venue_asked import Outing, names_told, outing_held
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.typed.typed_days import any_day
    from baitwright.workshop.waters.venue import waters
    from baitwright.workshop.waters.venue_words import venue_json, venue_lines

    free, day = told["free_bait"], told["day"]
    outing = Outing(
        names_told(told["bags"]),
        *(told["rods"], told["night"], told["lead"]),
        free_bait=read(free, Kind.MASS, "free-bait") if free else None,
        day=any_day(day, "day") if day else clock_with_zone().date(),
    )
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        if not name:
            with book.reading() as page:
                known = waters(page)
            none = 'No rules are written down yet: baitwright record water "NAME" nuts=banned'
            click.echo(_listed(known, as_json=as_json) if known or as_json else none)
            return
        held = outing_held(book, name, outing)
    if as_json:
        import json

        click.echo(json.dumps(venue_json(held), ensure_ascii=False, indent=2))
        return
    click.echo("\n".join(venue_lines(held)))


def _listed(known: tuple[str, ...], *, as_json: bool) -> str:
    import json

    return json.dumps({"waters": known}, ensure_ascii=False) if as_json else "\n".join(known)
