"""`baitwright open`: the web workshop, in the browser."""

from __future__ import annotations

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where


@click.command("open")
@click.option("--port", type=click.IntRange(1, 65535), metavar="N", help="To listen on.")
@click.option("--quiet", is_flag=True, help="Only serve it; open no browser.")
@notebook_option
def open(notebook: Where, *, port: int | None, quiet: bool) -> None:
    """Open the workshop in the browser, on this machine alone; Ctrl-C closes it."""
    from baitwright.web.server import Door, serve
    from baitwright.workshop.standing import Standing

    serve(Standing(notebook), Door(port, shows=not quiet))
