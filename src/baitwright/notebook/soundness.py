"""Whether a file is a notebook, and a sound one."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

HEAD = "0002"
"""The step that a notebook of this program has taken last."""
APPLICATION = 0x42414954
"""In the header of every notebook's file, so that no other database is taken for one."""


def examine(path: Path) -> str:
    """What is wrong with a notebook's file, in a sentence; nothing when it is sound."""
    try:
        with closing(_peek(path)) as found:
            (application,) = found.execute("PRAGMA application_id").fetchone()
            problems = [row[0] for row in found.execute("PRAGMA integrity_check(1)")]
    except UnicodeDecodeError:
        return "It is damaged (words that are none): restore the last backup."
    except sqlite3.DatabaseError as error:
        said = str(error)
        return f"{said[0].upper()}{said[1:]}."
    if problems != ["ok"]:
        return f"It is damaged ({problems[0]}): restore the last backup."
    if application != APPLICATION:
        return "It is the file of another program."
    return ""


def is_blank(path: Path) -> bool:
    """Whether a file holds nothing yet: empty, or a database that nobody wrote a table in.

    A notebook whose making was cut short is one; it can be made anew in its place.
    """
    if path.stat().st_size == 0:
        return True
    try:
        with closing(_peek(path)) as found:
            (application,) = found.execute("PRAGMA application_id").fetchone()
            (tables,) = found.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return False
    return bool(application == 0 and tables == 0)


def of_a_later_program(path: Path) -> str:
    """Why a sound notebook cannot be read by this program; nothing when it can."""
    with closing(_peek(path)) as found:
        (step,) = found.execute("SELECT version_num FROM alembic_version").fetchone()
    return f"It has taken step {step}, this program knows {HEAD}." if step > HEAD else ""


def _peek(path: Path) -> sqlite3.Connection:
    """A file that is there, opened so that SQLite may finish or take back what a kill cut short."""
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=rw", uri=True)
