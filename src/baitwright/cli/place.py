"""Where the notebook lies: named, or in the folder that a system has for programs' own files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

_F = TypeVar("_F", bound=Callable[..., Any])


def notebook_option(command: _F) -> _F:
    """Let a command be told which notebook; BAITWRIGHT_NOTEBOOK names one for all commands."""
    return click.option(
        "--notebook",
        type=click.Path(path_type=Path),
        metavar="FILE",
        envvar="BAITWRIGHT_NOTEBOOK",
        default=usual_place,
        help="Your notebook; one of your own account unless told.",
    )(command)


def usual_place() -> Path:
    """The notebook of whoever is logged in."""
    return Path(click.get_app_dir("baitwright")) / "notebook.sqlite"
