"""`baitwright open`: the web workshop, in the browser."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from baitwright.web.server import Network


@click.command("open")
@click.option("--port", type=click.IntRange(1, 65535), metavar="N", help="To listen on.")
@click.option("--quiet", is_flag=True, help="Only serve it; open no browser.")
@click.option("--demo", is_flag=True, help="The demonstration: an invented season, not yours.")
@click.option("--lan", is_flag=True, help="For your other devices too, with a passphrase.")
@click.option(
    "--passphrase-file",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Where the passphrase is read instead of asked for.",
)
@click.option("--new-passphrase", is_flag=True, help="Set another; every device is signed out.")
@click.option("--tls", is_flag=True, help="Encrypt what other devices send and are sent.")
@click.option("--name", "names", multiple=True, metavar="NAME", help="This machine's; again.")
@notebook_option
def open(notebook: Where, *, port: int | None, quiet: bool, demo: bool, **network: Any) -> None:
    """Open the workshop in the browser, on this machine alone; Ctrl-C closes it.

    With --lan your phone or tablet reaches it too, and every device has to sign in with a
    passphrase, this machine as well.
    """
    from baitwright.web.server import Door, serve
    from baitwright.workshop.opening.standing import Standing

    if demo:
        from baitwright.workshop.season.demo_place import place_beside

        notebook = place_beside(notebook)
        if not notebook.exists():
            from baitwright.workshop.opening.notebook_care import clock_with_zone
            from baitwright.workshop.season.demonstration import begin

            begin(notebook, now=clock_with_zone())
    door = Door(port, shows=not quiet, network=_network(notebook, **network))
    serve(Standing(notebook), door, is_demo=demo)


def _network(
    notebook: Where, *, lan: bool, tls: bool, names: tuple[str, ...], **passphrase: Any
) -> Network | None:
    """How other devices reach it; the passphrase is kept first."""
    if not lan:
        told = {"tls": tls, "name": names, **passphrase}
        for option, one in told.items():
            if one:
                raise InputError(option.replace("_", "-"), one, "--lan beside it")
        return None
    from baitwright.workshop.told.extras import need_extra

    need_extra("lan", "argon2", *(("cryptography",) if tls else ()))
    from baitwright.web.addresses import checked_name
    from baitwright.web.server import Network

    asked = Network(tuple(checked_name(one) for one in names), is_tls=tls)
    _let_in(notebook, **passphrase)
    return asked


def _let_in(notebook: Where, *, passphrase_file: Path | None, new_passphrase: bool) -> None:
    """See that there is a passphrase, and that it is the one of the file that was named."""
    from baitwright.workshop.keys.passphrase import (
        is_kept,
        is_right,
        keep_passphrase,
        passphrase_in,
    )

    told = _asked if passphrase_file is None else (lambda: passphrase_in(passphrase_file))
    if new_passphrase or not is_kept(notebook):
        keep_passphrase(notebook, told())
        click.echo("the passphrase is set; what is kept of it does not tell it")
    elif passphrase_file is not None and not is_right(notebook, told()):
        accepted = "the passphrase that was set before"
        hint = "--new-passphrase sets this one and signs every device out."
        raise InputError("passphrase-file", str(passphrase_file), accepted, hint=hint)


def _asked() -> str:
    if not _is_terminal():
        hint = "--passphrase-file FILE where there is no terminal."
        raise InputError("passphrase", None, "one typed at a terminal", hint=hint)
    said: str = click.prompt("Passphrase", hide_input=True, confirmation_prompt=True)
    return said


def _is_terminal() -> bool:
    return sys.stdin.isatty()
