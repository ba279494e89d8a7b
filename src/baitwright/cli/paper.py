"""What lists are printed on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

_F = TypeVar("_F", bound=Callable[..., Any])


def pdf_options(command: _F) -> _F:
    """Let a command be told to write its list as a PDF, and on what paper."""
    papers = click.Choice(("a4", "a5"))
    paper = click.option("--paper", type=papers, default="a4", help="Of the PDF; a4 unless told.")
    file = click.Path(path_type=Path)
    pdf = click.option("--pdf", type=file, metavar="FILE", help="Write it as pages to print.")
    return pdf(paper(command))
