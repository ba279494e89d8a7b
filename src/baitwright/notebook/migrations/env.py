"""What Alembic runs: the steps, on the connection that the notebook hands in."""

from __future__ import annotations

from alembic import context

from baitwright.notebook.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transaction_per_migration=False,
)
with context.begin_transaction():
    context.run_migrations()
