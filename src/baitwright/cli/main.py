"""The command line: one word for each thing a maker does.

Each command lies in a module of its own that is loaded when it is asked for, and loads the workshop
only when it runs, so that help and level arithmetic answer at once.
"""

from __future__ import annotations

import os
import sys
from importlib import import_module
from keyword import iskeyword
from typing import Any

import click

from baitwright import __version__
from baitwright.terms.errors import InputError

ENVIRONMENT = "BAITWRIGHT"
"""In front of every option's environment variable, such as BAITWRIGHT_PLAN_OUT."""
WRONG_INPUT = 2
OUR_FAULT = 1
STOPPED = 130
"""What shells expect of a program that was stopped from the keyboard."""


COMMANDS = (
    *(
        "ask",
        "backup",
        "balance",
        "batch",
        "boil",
        "bottle",
        "cautions",
        "check",
        "compare",
        "complaint",
        "cost",
        "day",
        "export",
        "import",
        "keep",
    ),
    *(
        "label",
        "learn",
        "levels",
        "mix",
        "notebook",
        "open",
        "plan",
        "price",
        "purge",
        "rebuild",
        "record",
        "restore",
    ),
    *("sell", "shelf", "soak", "sweep", "trace", "trial", "trip", "water", "why", "year"),
)


class _Door(click.Group):
    """Loads the command asked for; turns what it raises into one message and an exit code."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every command by name."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command in the module of its name."""
        if cmd_name not in COMMANDS:
            return None
        name = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        command: click.Command = getattr(import_module(f"baitwright.cli.{name}"), name)
        return command

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; 2 for wrong input, 1 for a fault of ours, 130 where it was stopped."""
        try:
            return super().invoke(ctx)
        except InputError as error:
            click.echo(f"baitwright: {error}", err=True)
            ctx.exit(WRONG_INPUT)
        except (KeyboardInterrupt, click.Abort):
            click.echo(err=True)  # the terminal's ^C has no end of line
            ctx.exit(STOPPED)
        except (click.ClickException, click.exceptions.Exit, BrokenPipeError):
            raise
        except Exception as error:
            _tell_our_fault(error)
            ctx.exit(OUR_FAULT)


def _tell_our_fault(error: Exception) -> None:
    if os.environ.get(f"{ENVIRONMENT}_DEBUG"):
        import traceback

        traceback.print_exc()
    click.echo(
        f"baitwright: this is our fault, not yours: {type(error).__name__}: {error}", err=True
    )
    click.echo(
        f"Please report it with what you typed, your files and the version ({__version__}). "
        f"{ENVIRONMENT}_DEBUG=1 shows where it happened.",
        err=True,
    )


@click.group(cls=_Door, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="baitwright")
def cli() -> None:
    """Plan, make, prove and record hookbaits.

    Every option can be set in the environment: BAITWRIGHT, the command and the option, such as
    BAITWRIGHT_PLAN_OUT=build/today. Exit codes: 0 done, 2 the input is wrong, 1 our fault,
    130 stopped by Ctrl-C, with nothing half written.
    """


def main() -> None:
    """Run the command line; characters that a terminal lacks are replaced, never a crash."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    cli(auto_envvar_prefix=ENVIRONMENT)


if __name__ == "__main__":
    main()
