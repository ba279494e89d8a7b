"""The steps from an older notebook to one of today."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, inspect, text

from baitwright.notebook.soundness import HEAD


def step_of(connection: Connection) -> str | None:
    """The step that a notebook has taken last; none where there is nothing yet."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def take_steps(connection: Connection, *, to: str = HEAD) -> None:
    """All steps in the connection's transaction; Alembic is loaded only where there is one."""
    if step_of(connection) == to:
        return
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).with_name("migrations")))
    config.attributes["connection"] = connection
    command.upgrade(config, to)
