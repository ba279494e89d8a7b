"""`baitwright complaint`: open ones, one followed to who else has it, answered and closed."""

from __future__ import annotations

import click

from baitwright.cli.listing import Listing
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.group(cls=Listing, invoke_without_command=True)
@click.option("--all", "closed", is_flag=True, help="The closed ones too.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@notebook_option
@click.pass_context
def complaint(context: click.Context, *, closed: bool, as_json: bool, notebook: Where) -> None:
    """Tell the open complaints; `record complaint` writes one down."""
    context.obj = notebook
    if context.invoked_subcommand is None:
        from baitwright.workshop.faults.complaint_asked import listed_json
        from baitwright.workshop.faults.complaint_words import list_text
        from baitwright.workshop.faults.complaints import complaints
        from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            found = complaints(book, closed=closed)
        click.echo(listed_json(found) if as_json else list_text(found))


@complaint.command("show")
@click.argument("name")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.pass_obj
def show(notebook: Where, /, *, name: str, as_json: bool) -> None:
    """Follow complaint NAME: its batch, who else has of it, what was different, what was kept."""
    from baitwright.workshop.faults.complaint_asked import followed_json
    from baitwright.workshop.faults.complaint_followed import followed
    from baitwright.workshop.faults.complaint_words import followed_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        found = followed(book, name)
    click.echo(followed_json(found) if as_json else followed_text(found))


@complaint.command("answer")
@click.argument("name")
@click.argument("text", default="")
@click.pass_obj
def answer(notebook: Where, /, *, name: str, text: str) -> None:
    """Answer complaint NAME with TEXT; without it, tell an answer that could be sent."""
    from baitwright.workshop.faults.complaint_asked import draft
    from baitwright.workshop.faults.complaint_deeds import answered
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE if text else Use.LOOK, clock=clock_with_zone) as book:
        if not text:
            click.echo(draft(book, name))
            return
        made = answered(book, name, text, now=clock_with_zone())
    click.echo(f"complaint {made.name}: answered")


@complaint.command("looked")
@click.argument("name")
@click.argument("showed")
@click.pass_obj
def looked(notebook: Where, /, *, name: str, showed: str) -> None:
    """Write down for complaint NAME what the bag kept back SHOWED."""
    from baitwright.workshop.faults.complaint_deeds import sample_looked_at
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        made = sample_looked_at(book, name, showed, now=clock_with_zone())
    click.echo(f"complaint {made.name}: the sample is written down")


@complaint.command("close")
@click.argument("name")
@click.argument("done", default="")
@click.pass_obj
def close(notebook: Where, /, *, name: str, done: str) -> None:
    """Close complaint NAME, with what was DONE."""
    from baitwright.workshop.faults.complaint_deeds import closed
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        made = closed(book, name, done, now=clock_with_zone())
    click.echo(f"complaint {made.name}: closed")


@complaint.command("keep")
@click.argument("bag")
@click.argument("where", default="")
@click.option("--free", is_flag=True, help="Keep it back no longer.")
@click.pass_obj
def keep(notebook: Where, /, *, bag: str, where: str, free: bool) -> None:
    """Keep BAG back as a sample, to be found WHERE; nothing picks it from then on."""
    from baitwright.workshop.batches.samples import give_up, keep_back
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

    with open_at(notebook, Use.CHANGE, clock=clock_with_zone) as book:
        if free:
            name = give_up(book, bag, now=clock_with_zone())
            click.echo(f"bag {name}: free again")
            return
        made = keep_back(book, bag, where, now=clock_with_zone())
    click.echo(f"bag {made.bag}: {made.baits} baits kept back, {made.where}")
