"""A notebook in a database that several share, by PostgreSQL; a copy of it is a notebook's file."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NoReturn

from sqlalchemy import Connection, Engine, MetaData, create_engine, event, select, text
from sqlalchemy.exc import DBAPIError

from baitwright.notebook.on_file import Done, OnFile, copy_file
from baitwright.notebook.rows import count_on
from baitwright.notebook.soundness import APPLICATION, HEAD
from baitwright.notebook.steps import step_of, take_steps
from baitwright.notebook.tables import metadata
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError

_MARK = "The notebook of Baitwright"
_SETTINGS = (
    "synchronous_commit = on",  # what was acknowledged outlives a power cut
    "lock_timeout = '5s'",  # how long a writer waits for another one
    # a writer whose machine is gone lets go of the pen after a minute
    "tcp_keepalives_idle = 30",
    "tcp_keepalives_interval = 10",
    "tcp_keepalives_count = 3",
)
_CALLED: Mapping[str, Any] = {
    "connect_timeout": 5,
    "client_encoding": "utf8",
    "application_name": "baitwright",
}
_AT_ONCE = 500
"""Rows that are carried between file and server in one go."""

# Of the one schema in which the user's tables are made; what belongs to an extension is nobody's.
_LOOK = text(
    """
    SELECT current_schema() AS room,
           current_setting('server_encoding') AS letters,
           current_setting('fsync') AS waits,
           (SELECT count(*) FROM pg_class
            WHERE relnamespace = to_regnamespace(quote_ident(current_schema()))
              AND relkind IN ('r', 'p', 'v', 'm', 'f', 'S')
              AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_class.oid
                              AND classid = 'pg_class'::regclass AND deptype = 'e')) AS things,
           obj_description(to_regclass(quote_ident(current_schema()) || '.alembic_version'),
                           'pg_class') AS mark
    """
)
# A file sorts letters by their number, minds no lengths, and so does a server then.
_UNLIKE_A_FILE = text(
    """
    SELECT quote_ident(table_name), quote_ident(column_name) FROM information_schema.columns
    WHERE table_schema = current_schema() AND table_name = ANY(:ours)
      AND data_type IN ('text', 'character varying')
      AND (data_type <> 'text' OR collation_name IS DISTINCT FROM 'C')
    """
)
_HINTS = {
    "55P03": "Another window is writing in it: try again. Nothing was written.",
    "53100": "There is no room left on the server's disk. Nothing was written.",
    "25006": "The server lets it be read only. Nothing was written.",
    "42501": "The server does not let this user do that. Nothing was written.",
}


@dataclass(frozen=True, slots=True)
class OnServer:
    """The keeper of a database."""

    place: Server

    def stands(self) -> bool:
        """Whether the schema holds anything."""
        with self._connected() as connection:
            return _holds_anything(connection)

    def is_blank(self) -> bool:
        """Whether the schema holds nothing."""
        return not self.stands()

    def problem(self) -> str:
        """Why no notebook may be kept there."""
        with self._connected() as connection:
            return _problem(connection)

    def engine(self) -> Engine:
        """Connections to the database, which was looked at."""
        engine = self._engine()
        try:
            with engine.connect() as connection:
                self._refuse_others(connection)
        except DBAPIError as error:
            engine.dispose()
            raise self.refused(error) from None
        except InputError:
            engine.dispose()
            raise
        return engine

    def settle(self, connection: Connection) -> None:
        """Mark the table that every notebook has, and let words sort as they do on a file."""
        for table, column in connection.execute(
            _UNLIKE_A_FILE, {"ours": list(metadata.tables)}
        ).all():
            kind = 'TYPE text COLLATE "C"'
            connection.exec_driver_sql(f"ALTER TABLE {table} ALTER COLUMN {column} {kind}")
        connection.exec_driver_sql(f"COMMENT ON TABLE alembic_version IS '{_MARK}'")

    def copy_to(self, path: Path) -> None:
        """Write every row of one moment into a new file that has taken the same steps."""
        file = OnFile(path)
        into = file.engine()
        try:
            with (
                self._connected() as theirs,
                into.connect().execution_options(writes=True) as ours,
                ours.begin(),
            ):
                take_steps(ours, to=step_of(theirs) or HEAD)
                file.settle(ours)
                _pour(theirs, ours, _tables(ours))
        finally:
            into.dispose()

    def take_over(self, copy: Path, *, first: Callable[[], Done]) -> Done:
        """Replace every row by those of a copy, in one transaction."""
        with TemporaryDirectory() as folder, self._connected(writes=True) as theirs:
            answer = first()
            self._refuse_others(theirs)
            same = OnFile(Path(folder) / "copy.sqlite")
            copy_file(copy, same.path)
            source = same.engine()
            try:
                with source.connect().execution_options(writes=True) as ours, ours.begin():
                    take_steps(ours)
                    take_steps(theirs)
                    self.settle(theirs)
                    tables = _tables(ours)
                    for table in reversed(tables.sorted_tables):
                        theirs.execute(table.delete())
                    _pour(ours, theirs, tables)
                    count_on(theirs, tables)
            finally:
                source.dispose()
        return answer

    def wipe(self) -> None:
        """Write the tables anew without what they no longer hold."""
        engine = self._engine()
        try:
            with closing(engine.raw_connection()) as connection:
                bare: Any = connection.driver_connection
                bare.autocommit = True  # the server tidies outside of any transaction only
                for table in metadata.sorted_tables:
                    bare.execute(f"VACUUM FULL {table.name}")
                bare.autocommit = False
        except (DBAPIError, engine.dialect.loaded_dbapi.Error) as error:
            raise self.refused(error) from None
        finally:
            engine.dispose()

    def set_aside(self, aside: Path) -> NoReturn:
        """Leave alone what is another's, or the server's to mend."""
        self._refuse(self.problem())

    def refused(self, error: Exception) -> InputError:
        """What the server said, and what to do about it; never with the password."""
        original = getattr(error, "orig", None) or error
        hint = _HINTS.get(getattr(original, "sqlstate", None) or "", "Nothing was written.")
        if isinstance(error, DBAPIError) and error.connection_invalidated:
            hint = "The server went away. Nothing was written."
            if error.statement is None:  # it was about to keep what was written
                hint = "The server went away: look whether this was kept before you do it again."
        if "could not write init file" in str(original):  # which a first connection does
            hint = _HINTS["53100"]
        if "NUL" in str(original):  # the driver's word, which comes without a code
            hint = "A text in it has the character U+0000, which nobody can see. "
            hint += "Nothing was written."
        why = (str(original).strip() or type(original).__name__).splitlines()[0]
        accepted = f"a notebook that can be written to at {self.place}"
        if isinstance(original, sqlite3.Error):  # the copy's, not the server's
            accepted = "room for a copy on this machine"
        return InputError("notebook", why, accepted, hint=hint)

    def _refuse_others(self, connection: Connection) -> None:
        problem = _problem(connection)
        if problem:
            self._refuse(problem)

    def _refuse(self, problem: str) -> NoReturn:
        accepted = "a notebook of this program, or a database with nothing in it"
        raise InputError("notebook", str(self.place), accepted, hint=problem)

    @contextmanager
    def _connected(self, *, writes: bool = False) -> Iterator[Connection]:
        """One transaction on connections of its own."""
        engine = self._engine()
        try:
            with (
                engine.connect().execution_options(writes=writes) as connection,
                connection.begin(),
            ):
                yield connection
        except DBAPIError as error:
            raise self.refused(error) from None
        finally:
            engine.dispose()

    def _engine(self) -> Engine:
        try:
            import psycopg
            from psycopg.conninfo import conninfo_to_dict
        except ImportError as error:
            accepted = "a file, unless the driver of servers is installed"
            hint = f'`pip install "baitwright[shop]"` installs it ({error}).'
            raise InputError("notebook", str(self.place), accepted, hint=hint) from None
        try:
            told = conninfo_to_dict(self.place.url)
        except psycopg.Error:  # its message may repeat a password
            accepted = "a URL such as postgresql://maker@shop.example/bait"
            hint = "What stands after the name of the database is not understood."
            raise InputError("notebook", str(self.place), accepted, hint=hint) from None

        def call() -> Any:
            connection = psycopg.connect(autocommit=True, **{**_CALLED, **told})
            connection.execute("; ".join(f"SET {setting}" for setting in _SETTINGS))
            return connection

        engine = create_engine("postgresql+psycopg://", creator=call, pool_pre_ping=True)
        event.listen(engine, "begin", _on_begin)
        return engine


def _on_begin(connection: Connection) -> None:
    """A reader sees one moment; a writer asks for the pen at once, as on a file.

    What a writer reads is of the moment after it got the pen: a transaction of one moment would
    have begun before it, with the query that asks.
    """
    if connection.get_execution_options().get("writes", False):
        connection.exec_driver_sql("BEGIN ISOLATION LEVEL READ COMMITTED")
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({APPLICATION})")
    else:
        connection.exec_driver_sql("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY")


def _holds_anything(connection: Connection) -> bool:
    return bool(connection.execute(_LOOK).one().things)


def _problem(connection: Connection) -> str:
    found = connection.execute(_LOOK).one()
    if found.room is None:
        return "There is no schema in which this user may write."
    if found.letters != "UTF8":
        return f"It holds letters as {found.letters}: make one with the encoding UTF8."
    if found.waits != "on":
        return "Its server does not wait for the disk (fsync is off): a power cut would cost it."
    if found.things and found.mark != _MARK:
        return "It is the database of another program."
    step = step_of(connection)
    if step is not None and step > HEAD:
        return f"It has taken step {step}, this program knows {HEAD}: take the newer program."
    return ""


def _tables(file: Connection) -> MetaData:
    """The tables of a notebook's file; on a server another's may stand beside them."""
    tables = MetaData()
    tables.reflect(file)
    tables.remove(tables.tables["alembic_version"])
    return tables


def _pour(source: Connection, into: Connection, tables: MetaData) -> None:
    """Every row of a file into a server or back; both have taken the same steps."""
    reading = source.execution_options(stream_results=True)
    for table in tables.sorted_tables:
        with reading.execute(select(table).order_by(*table.primary_key)) as rows:
            for some in rows.mappings().partitions(_AT_ONCE):
                into.execute(table.insert(), [dict(row) for row in some])
