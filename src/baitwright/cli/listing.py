"""A group of commands whose list tells each one's first sentence to its end."""

from __future__ import annotations

import click

_LONGEST = 1000
"""More letters than any first sentence has: it is folded to the terminal and never cut short."""


class Listing(click.Group):
    """A group that lists its commands in whole sentences."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands by name, each with what it does."""
        names = self.list_commands(ctx)
        found = [(name, self.get_command(ctx, name)) for name in names]
        rows = [(name, one.get_short_help_str(_LONGEST)) for name, one in found if one is not None]
        with formatter.section("Commands"):
            formatter.write_dl(rows)
