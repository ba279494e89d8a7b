"""`baitwright sweep`: thousands of designs planned into one table."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from baitwright.workshop.sweeps.engines import Engine
    from baitwright.workshop.sweeps.sweep import Begun

_FILE = click.Path(path_type=Path)


@click.command()
@click.argument("file", type=_FILE)
@click.option("--out", type=_FILE, metavar="FILE", help="The table: .csv, or .parquet.")
@click.option("--count", is_flag=True, help="Only count the designs and time a few of them.")
@click.option("--workers", type=click.IntRange(1, 1024), metavar="N", help="Processes to use.")
@click.option("--scheduler", metavar="ADDRESS", help="A cluster's, such as tcp://10.0.0.2:8786.")
@click.option("--factors", type=_FILE, metavar="FILE", help="Your own factors, from `record`.")
def sweep(
    file: Path,
    *,
    out: Path | None,
    count: bool,
    workers: int | None,
    scheduler: str | None,
    factors: Path | None,
) -> None:
    """Plan every design of FILE: sizes by cores by mixes by levels by waters, into one table.

    Stopped or killed, the same command goes on where it was.
    """
    from baitwright.workshop.sweeps.sweep import begin_sweep, counted
    from baitwright.workshop.sweeps.sweep_words import count_text, finished_text
    from baitwright.workshop.typed.clock import wall_clock

    if out is None and not count:
        raise click.UsageError("--out FILE says where the table goes; --count only counts.")
    if workers is not None and scheduler is not None:
        raise click.UsageError(
            "--workers are this machine's, --scheduler is a cluster's: one of them."
        )
    if count or out is None:
        click.echo(count_text(counted(file, factors_path=factors, clock=wall_clock)))
        return
    begun = begin_sweep(file, out, factors_path=factors, clock=wall_clock)
    _work(begun, _engine(workers, scheduler))
    click.echo(finished_text(begun.finish()))


def _engine(workers: int | None, scheduler: str | None) -> AbstractContextManager[Engine]:
    from baitwright.workshop.sweeps import engines

    if scheduler is not None:
        return engines.elsewhere(scheduler)
    return engines.here(workers or engines.cores())


def _work(begun: Begun, engine: AbstractContextManager[Engine]) -> None:
    """Plan what is missing, with a bar where somebody looks."""
    from baitwright.workshop.sweeps.sweep_words import begun_text

    if begun.before:
        click.echo(begun_text(begun), err=True)
    if not begun.missing:
        return
    with engine as working:
        if not sys.stderr.isatty():
            for _ in begun.work(working):
                pass
            return
        bar = click.progressbar(
            length=begun.left, label="designs", show_pos=True, show_eta=True, file=sys.stderr
        )
        with bar as shown:
            for made in begun.work(working):
                shown.update(made)
