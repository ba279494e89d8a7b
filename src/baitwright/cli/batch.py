"""`baitwright batch`: planned and spoken for, made and drawn down, bagged, cancelled."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import click

from baitwright.cli.listing import Listing
from baitwright.cli.place import notebook_option, tell_last_copy
from baitwright.notebook.where import Where

_FILE = click.Path(path_type=Path)


@click.group(cls=Listing, invoke_without_command=True)
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
@click.pass_context
def batch(context: click.Context, *, as_json: bool, notebook: Where) -> None:
    """Tell the last batches, the latest first."""
    context.obj = notebook
    if context.invoked_subcommand is None:
        from baitwright.workshop.batches.batch_list import last_batches
        from baitwright.workshop.bench.batch_words import batches_json, batches_text
        from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            found = last_batches(book)
        if as_json:
            click.echo(batches_json(found))
        else:
            click.echo(batches_text(found))
            tell_last_copy(notebook)


@batch.command("show")
@click.argument("name")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.pass_obj
def show(notebook: Where, /, *, name: str, as_json: bool) -> None:
    """Tell batch NAME: planned beside measured, and its bags."""
    from baitwright.workshop.batches.bags import batch_with_bags
    from baitwright.workshop.bench.batch_words import batch_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found, bags = batch_with_bags(book, name)
    if as_json:
        import json

        told = {"name": name, **(found.body or {}), "bags": {one.name: one.body for one in bags}}
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        click.echo(batch_text(found, bags))


@batch.command("plan")
@click.argument("recipe", type=_FILE)
@click.argument("bench", type=_FILE)
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
@click.option("--out", type=_FILE, metavar="DIR", help="Write sheet, calendar and plan into DIR.")
@click.pass_obj
def plan(notebook: Where, /, *, recipe: Path, bench: Path, factors: Path | None, out: Path) -> None:
    """Plan a batch as `baitwright plan` does, keep it, and speak for what it takes.

    It goes by the factors that `learn --accept` kept in the notebook, or by those of --factors.
    """
    from baitwright.workshop.batches.batches import plan_into
    from baitwright.workshop.bench.batch_words import planned_text
    from baitwright.workshop.bench.plan_saved import beside_plan
    from baitwright.workshop.care.venue_asked import plan_held
    from baitwright.workshop.factors.factors_ahead import with_factors_at
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.plans.liquid_sheets import by_sheets, sheets_at
    from baitwright.workshop.plans.plan_batch import plan_batch
    from baitwright.workshop.shelf.stock import units_of
    from baitwright.workshop.typed.clock import wall_clock
    from baitwright.workshop.typed.reading import load
    from baitwright.workshop.waters.venue_words import venue_lines

    own = partial(with_factors_at, notebook, clock=clock_with_zone)
    change = by_sheets(sheets_at(notebook, clock=clock_with_zone))
    worked_out = plan_batch(
        recipe, bench, factors_path=factors or own, change=change, clock=wall_clock
    )
    with open_at(notebook, Use.BEGIN, clock=clock_with_zone) as book:
        told = beside_plan(load(bench, what="bench"), worked_out)
        planned = plan_into(book, recipe, worked_out, now=clock_with_zone(), told=told)
        click.echo(planned_text(planned, units_of(book)))
        held = plan_held(book, worked_out)
    if held is not None:
        click.echo("\n".join(venue_lines(held, every=False)))
    if out is not None:
        from baitwright.workshop.plans.write_plan import write_plan

        for path in write_plan(worked_out, out):
            click.echo(f"written: {path}")


@batch.command("made")
@click.argument("name")
@click.argument("told", type=_FILE)
@click.option("--best-before", default="", metavar="DAY", help="Of its baits.")
@click.option("--why", default="", metavar="TEXT", help="Why more was used than the book holds.")
@click.pass_obj
def made(notebook: Where, /, *, name: str, told: Path, best_before: str, why: str) -> None:
    """Draw the shelf down for batch NAME by what the file TOLD says was used and counted."""
    from baitwright.workshop.batches.batch_made import Making
    from baitwright.workshop.batches.batch_made import made as make
    from baitwright.workshop.bench.batch_words import made_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.shelf.stock_words import moved_in
    from baitwright.workshop.strip.batch_file import read_batch
    from baitwright.workshop.typed.typed_days import read_day

    now = clock_with_zone()
    best = read_day(best_before, now.date()) if best_before else None
    making = Making(read_batch(told), best, why)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        found = make(book, name, making, now=now)
        click.echo(made_text(found, moved_in(book, found.used)))


@batch.command("measured")
@click.argument("name")
@click.argument("told", type=_FILE)
@click.pass_obj
def measured(notebook: Where, /, *, name: str, told: Path) -> None:
    """Write down what was weighed of batch NAME after it was made; stock stays as it is."""
    from baitwright.workshop.batches.batch_made import measured_later
    from baitwright.workshop.bench.batch_words import measured_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.strip.batch_file import read_batch

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        outside = measured_later(book, name, read_batch(told), now=clock_with_zone())
    click.echo(measured_text(name, outside))


@batch.command("same")
@click.argument("name", default="")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.pass_obj
def same(notebook: Where, /, *, name: str, as_json: bool) -> None:
    """Same as last time? Hold batch NAME, or the last one, against the good ones of its recipe."""
    from baitwright.workshop.batches.same_asked import same_batch
    from baitwright.workshop.batches.same_words import plans_beside, same_json, same_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = same_batch(book, name)
        plans = plans_beside(book, found)
    click.echo(same_json(found, plans) if as_json else same_text(found, plans))


@batch.command("cancel")
@click.argument("name")
@click.option("--why", default="", metavar="TEXT", help="Why, for later.")
@click.pass_obj
def cancel(notebook: Where, /, *, name: str, why: str) -> None:
    """Cancel the planned batch NAME, and let go of what was spoken for."""
    from baitwright.workshop.batches.batches import cancel_batch
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        name = cancel_batch(book, name, now=clock_with_zone(), why=why)
    click.echo(f"batch {name}: cancelled; `baitwright batch undo {name}` plans it again")


@batch.command("undo")
@click.argument("name")
@click.pass_obj
def undo(notebook: Where, /, *, name: str) -> None:
    """Take the last step of batch NAME back: its making, or its cancelling."""
    from baitwright.workshop.bench.batch_words import short_lines
    from baitwright.workshop.entries.batch_unmade import step_back
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        short = step_back(book, name, now=clock_with_zone())
    click.echo("\n".join((f"batch {name}: planned, as before", *short_lines(short))))


@batch.command("bag")
@click.argument("name")
@click.argument("baits", type=int)
@click.option("--bags", type=int, default=1, metavar="N", help="How many such bags; one.")
@click.option("--kept", type=click.Choice(("room", "fridge", "freezer")), default="fridge")
@click.option("--best-before", default="", metavar="DAY", help="Of the batch unless told.")
@click.option("--water", default="", metavar="NAME", help="Where it goes; the plan's unless told.")
@click.pass_obj
def bag(notebook: Where, /, *, name: str, baits: int, water: str, **told: Any) -> None:
    """Count BAITS of batch NAME into a bag, or into several alike.

    What of them breaks a rule of their water is told first; nothing is blocked.
    """
    from baitwright.workshop.batches.bags import Bagging, Kept
    from baitwright.workshop.batches.bags import bag as fill
    from baitwright.workshop.care.venue_asked import Outing, batch_held, outing_held
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.typed.typed_days import read_day
    from baitwright.workshop.waters.venue_words import venue_lines

    now = clock_with_zone()
    best = read_day(told["best_before"], now.date()) if told["best_before"] else None
    bagging = Bagging(baits, told["bags"], Kept(told["kept"]), best)
    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        held = batch_held(book, name) if not water else outing_held(book, water, Outing((name,)))
        if held is not None and (water or held.broken):
            click.echo("\n".join(venue_lines(held, every=False)))
        for filled in fill(book, name, bagging, now=now):
            click.echo(f"bag {filled}: write it on the bag")


@batch.command("steady")
@click.argument("recipe")
@click.option("--wanted", default="", metavar="SIZE", help="Of a dried bait, such as 15 mm.")
@click.option("--within", default="", metavar="SIZE", help="How far off it may be; with --wanted.")
@click.option("--out", type=_FILE, metavar="DIR", help="Write charts and steady.html there.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.pass_obj
def steady(
    notebook: Where, /, *, recipe: str, out: Path | None, as_json: bool, **told: str
) -> None:
    """Tell how steady the batches of RECIPE are: weights, diameters, baits per egg."""
    from baitwright.workshop.comparing import steadiness_words as words
    from baitwright.workshop.comparing.steadiness import steadiness
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = steadiness(book, recipe, **told)
    click.echo(words.steadiness_json(found) if as_json else words.steadiness_text(found))
    if out is not None:
        for path in words.write_steadiness(found, out):
            click.echo(f"written: {path}", err=as_json)
