"""`baitwright open`: the web workshop, in the browser."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command("open")
@click.option("--port", type=click.IntRange(1, 65535), metavar="N", help="To listen on.")
@click.option("--quiet", is_flag=True, help="Only serve it; open no browser.")
@click.option("--demo", is_flag=True, help="The demonstration: an invented season, not yours.")
@notebook_option
def open(notebook: Where, *, port: int | None, quiet: bool, demo: bool) -> None:
    """Open the workshop in the browser, on this machine alone; Ctrl-C closes it."""
    from baitwright.web.server import Door, serve
    from baitwright.workshop.notebook_care import clock_with_zone
    from baitwright.workshop.standing import Standing

    if demo:
        from baitwright.workshop.demo_place import place_beside

        notebook = place_beside(notebook)
        if not notebook.exists():
            from baitwright.workshop.demonstration import begin

            begin(notebook, now=clock_with_zone())
    serve(Standing(notebook), Door(port, shows=not quiet), is_demo=demo)
