"""A PostgreSQL server of the tests' own, in a folder of its own, for as long as they run."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from itertools import count
from pathlib import Path
from typing import Any

import psycopg

from baitwright.notebook.where import Server

ROOT = Path(__file__).resolve().parents[2]
WANTED = "BAITWRIGHT_TESTS_WANT_SERVER"
"""Set where tests without a server are a failure."""
PATIENCE = "300"
"""How long a server that fell over may take to recover on a busy disk, s."""
USER, GUEST, PASSWORD = "maker", "guest", "s3cret"


def programs() -> Path | None:
    """The folder of a server's programs; Debian keeps the newest of several off the PATH."""
    found = sorted(
        Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda one: float(one.parts[-3])
    )
    there = str(found[-1]) if found else shutil.which("initdb")
    return Path(there).resolve().parent if there else None


class Cluster:
    """A server on a socket in its folder; nobody from outside reaches it."""

    def __init__(self, programs: Path) -> None:
        self._programs, self._names = programs, count(1)
        self.folder = Path(tempfile.mkdtemp(prefix="notebook-"))
        self._as: Mapping[str, Any] = {}
        if os.geteuid() == 0:  # a server refuses to run as root
            self._as = {"user": "nobody", "group": "nogroup", "extra_groups": []}
            shutil.chown(self.folder, "nobody", "nogroup")
        self._run("initdb", "-U", USER, "-A", "trust", "-E", "UTF8", "--no-sync")
        doors = self.folder / "data" / "pg_hba.conf"
        known = doors.read_text()
        doors.write_text(f"local all {GUEST} scram-sha-256\n{known}")
        self.start()
        with self.connection() as connection:
            connection.execute(f"CREATE ROLE {GUEST} LOGIN PASSWORD '{PASSWORD}'")

    def start(self) -> None:
        # One sync of the disk in place of one for every file, of which each database has hundreds.
        settings = f"-c listen_addresses= -c recovery_init_sync_method=syncfs -k {self.folder}"
        settings += " -c autovacuum=off"  # it would tidy up one database of a test after the other
        log = str(self.folder / "log")
        self._run("pg_ctl", "-w", "-t", PATIENCE, "-o", settings, "-l", log, "start")

    def fall(self, *_: object) -> None:
        """Every process of the server ends at once, with nothing tidied up."""
        self._run("pg_ctl", "-w", "-m", "immediate", "stop")

    def remove(self) -> None:
        self.fall()
        shutil.rmtree(self.folder)

    def place(self, home: Path, *, encoding: str = "UTF8") -> Server:
        """A new database with nothing in it."""
        name = f"shop{next(self._names)}"
        make = f"CREATE DATABASE {name} TEMPLATE template0 ENCODING '{encoding}' LOCALE 'C'"
        make += " LOCALE_PROVIDER icu ICU_LOCALE 'en-GB'"  # sorts words as no file does
        with self.connection() as connection:
            connection.execute(make)
        return Server(f"postgresql://{USER}@/{name}?host={self.folder}", home)

    def connection(self, place: Server | None = None) -> psycopg.Connection[tuple[Any, ...]]:
        """As the server's owner, past the notebook."""
        url = f"postgresql://{USER}@/postgres?host={self.folder}" if place is None else place.url
        return psycopg.connect(url, autocommit=True)

    def _run(self, program: str, *arguments: str) -> None:
        command = [str(self._programs / program), "-D", str(self.folder / "data"), *arguments]
        log = self.folder / "said"
        with log.open("a") as said:  # no pipe, or one would wait for the server to end
            done = subprocess.run(
                command, cwd="/", stdout=said, stderr=said, check=False, **self._as
            )
        assert done.returncode == 0, log.read_text()
