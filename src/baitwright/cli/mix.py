"""`baitwright mix`: all about a base mix; with a recipe and a weight it makes a tub of it."""

from __future__ import annotations

from importlib import import_module

import click

from baitwright.cli.listing import Listing

SUBCOMMANDS = ("analyse", "design", "match", "mend", "tub", "winter")
"""Each lies in a module of its name, such as ``mix_tub``."""
_TUB = "tub"


class _MixRoom(Listing):
    """Loads the subcommand asked for; a recipe in its place means a tub of it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every subcommand by name."""
        return list(SUBCOMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The subcommand in the module of its name."""
        if cmd_name not in SUBCOMMANDS:
            return None
        name = f"mix_{cmd_name}"
        command: click.Command = getattr(import_module(f"baitwright.cli.{name}"), name)
        return command

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what was typed; without a subcommand's name it is a tub's recipe and weight."""
        if args and args[0] not in (*SUBCOMMANDS, *ctx.help_option_names):
            args = [_TUB, *args]
        return super().parse_args(ctx, args)


@click.group(cls=_MixRoom)
def mix() -> None:
    """Take a base mix apart, design one, or put a tub of it on the shelf.

    `baitwright mix RECIPE FINISHED` is short for `baitwright mix tub RECIPE FINISHED`.
    """
