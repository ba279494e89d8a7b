"""What a copy has to be told before it is put back: codes that were given since, and purges.

A code once given is nobody else's, and what was purged does not come back with an older copy.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

from baitwright.ledger.trace import Stop
from baitwright.notebook.bare_file import emptying, put_tombstone
from baitwright.notebook.hidden import HiddenRows
from baitwright.notebook.on_file import OnFile
from baitwright.notebook.page import Page
from baitwright.notebook.steps import take_steps

# Whether two files are of one notebook: they share a version of a record, or a line of the book.
_KIN = """
SELECT EXISTS (SELECT 1 FROM revisions
               JOIN known.revisions AS was USING (kind, name, version, time))
    OR EXISTS (SELECT 1 FROM movements JOIN known.movements AS was USING (entry, time, item, lot))
    OR NOT EXISTS (SELECT 1 FROM revisions UNION ALL SELECT 1 FROM movements)
"""
_ERASED = """
SELECT code FROM people JOIN known.people AS was USING (code)
WHERE people.body IS NOT NULL AND was.body IS NULL
"""
_ERASE = """
UPDATE people SET body = NULL, time = (SELECT time FROM known.people AS was WHERE code = ?)
WHERE code = ?
"""
# Of those whose code was given since nothing is known; of those erased since, neither.
_GIVE = """
INSERT INTO people (code, time, body)
SELECT code, time, CASE WHEN body IS NULL THEN NULL ELSE '{}' END FROM known.people
WHERE code NOT IN (SELECT code FROM people) ORDER BY id
"""
_STONES = """
SELECT kind, name, time, max(versions) FROM known.tombstones AS was
WHERE NOT EXISTS (SELECT 1 FROM tombstones AS own WHERE own.kind = was.kind
                  AND own.name = was.name AND own.versions >= was.versions)
GROUP BY kind, name
"""
_OTHER = """
SELECT 1 FROM revisions JOIN known.revisions AS was USING (kind, name, version)
WHERE kind = ? AND name = ? AND version <= ? AND revisions.time <> was.time
"""
_PURGE = """
UPDATE revisions SET (body, reason) = (SELECT was.body, was.reason {same}) WHERE kind = ?
   AND name = ? AND version <= ? AND EXISTS (SELECT 1 {same})
""".format(
    same="FROM known.revisions AS was WHERE was.kind = revisions.kind"
    " AND was.name = revisions.name AND was.version = revisions.version"
)
_MISSING = """
INSERT INTO revisions (kind, name, version, time, reason, body)
SELECT kind, name, version, time, reason, body FROM known.revisions AS was
WHERE kind = ? AND name = ? AND version <= ? AND version > (
    SELECT coalesce(max(version), 0) FROM revisions AS own
    WHERE own.kind = was.kind AND own.name = was.name)
  AND (SELECT count(body) FROM known.revisions AS all_of_it
       WHERE all_of_it.kind = was.kind AND all_of_it.name = was.name
         AND all_of_it.version <= ?) = 0
ORDER BY version
"""
_WORDS = """
UPDATE movements SET override = (SELECT was.override {same})
WHERE override <> (SELECT was.override {same})
""".format(
    same="FROM known.movements AS was WHERE was.id = movements.id AND was.entry = movements.entry"
    " AND was.time = movements.time AND was.lot = movements.lot AND was.amount = movements.amount"
)
_SUPPLIES = """
UPDATE OR REPLACE links SET source_name = (SELECT was.source_name {same})
WHERE source_name <> (SELECT was.source_name {same})
""".format(
    same="FROM known.links AS was WHERE was.id = links.id AND was.source_stop = links.source_stop"
    " AND was.into_stop = links.into_stop AND was.into_name = links.into_name"
    " AND was.source_stop = :stop"
)
_SUPPLIED = {"stop": Stop.SUPPLIED.value}
_LOOK = "SELECT name FROM sqlite_master WHERE type = 'table'"


def carry_over(copy: Path, known: Iterable[Path]) -> tuple[str, ...]:
    """Give a copy the codes and the purges that files know of, as if it had been there.

    Parameters
    ----------
    copy: a notebook's file that nobody has open; it takes the steps that it lacks.
    known: the copy of what it is to replace, or all that there are.

    Returns
    -------
    Whom and what the copy still told and tells no more, such as "person 3".
    """
    _bring_up_to_date(copy)
    purged: list[str] = []
    with emptying(copy) as file:
        for path in known:
            file.execute("ATTACH ? AS known", (str(path),))
            there = {name for (name,) in file.execute(_LOOK.replace("sqlite_", "known.sqlite_"))}
            file.execute("BEGIN")
            (is_kin,) = file.execute(_KIN).fetchone()
            if "people" in there:
                purged += _people(file) if is_kin else []
                file.execute(_GIVE)
            purged += _records(file) if is_kin else []
            file.execute("COMMIT")
            file.execute("DETACH known")
        if purged:
            file.execute("VACUUM")
    if purged:
        _bring_up_to_date(copy, is_listed_anew=True)
    return tuple(dict.fromkeys(purged))


def refuse_hidden_in(backup: Path) -> None:
    """Refuse a copy that has control characters, with a message for each row.

    Raises
    ------
    InputError: it has.
    """
    hidden = HiddenRows()
    with closing(sqlite3.connect(f"{backup.resolve().as_uri()}?mode=ro", uri=True)) as file:
        file.row_factory = sqlite3.Row
        for (table,) in file.execute(_LOOK).fetchall():
            for row in file.execute(f'SELECT * FROM "{table}"'):
                hidden.look(table, dict(zip(row.keys(), row, strict=True)))
    hidden.refuse("backup")


def _bring_up_to_date(copy: Path, *, is_listed_anew: bool = False) -> None:
    keeper = OnFile(copy)
    engine = keeper.engine()
    try:
        with engine.connect().execution_options(writes=True) as connection, connection.begin():
            take_steps(connection)
            keeper.settle(connection)
            if is_listed_anew:
                Page(connection).list_anew()
    finally:
        engine.dispose()


def _people(file: sqlite3.Connection) -> list[str]:
    erased = [code for (code,) in file.execute(_ERASED)]
    file.executemany(_ERASE, [(code, code) for code in erased])
    return erased


def _records(file: sqlite3.Connection) -> list[str]:
    """What was purged, or of which words were; what has another history stays."""
    purged = []
    for kind, name, time, versions in file.execute(_STONES).fetchall():
        this = (kind, name, versions)
        if file.execute(_OTHER, this).fetchone():
            continue
        if file.execute(_PURGE, this).rowcount:
            purged.append(f"{kind} {name}")
        file.execute(_MISSING, (*this, versions))
        put_tombstone(file, kind, name, time=time, versions=versions)
    if file.execute(_WORDS).rowcount + file.execute(_SUPPLIES, _SUPPLIED).rowcount:
        purged.append("words of the shelf's book")
    return purged
