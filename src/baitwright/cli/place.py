"""Where the notebook is: named, or in the folder that a system has for programs' own files."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from baitwright.notebook.where import Where, where_is

_F = TypeVar("_F", bound=Callable[..., Any])


def notebook_option(command: _F) -> _F:
    """Let a command be told which notebook; BAITWRIGHT_NOTEBOOK names one for all commands."""
    return click.option(
        "--notebook",
        type=_named,
        metavar="FILE|URL",
        envvar="BAITWRIGHT_NOTEBOOK",
        default=lambda: str(usual_place()),
        help="Your notebook, or postgresql://user@host/database; that of your account unless told.",
    )(command)


def tell_last_copy(notebook: Where) -> None:
    """Say at the end of a list when the notebook was copied last."""
    from baitwright.workshop.opening.notebook_care import last_copy

    click.echo(f"\n{last_copy(notebook)}")


def usual_place() -> Path:
    """The notebook of whoever is logged in."""
    return Path(click.get_app_dir("baitwright")) / "notebook.sqlite"


def place_told() -> Where:
    """The notebook of commands that are told of none: by the environment, or the usual one."""
    return _named(os.environ.get("BAITWRIGHT_NOTEBOOK") or str(usual_place()))


def _named(told: str) -> Where:
    return where_is(told, home=usual_place().parent)
