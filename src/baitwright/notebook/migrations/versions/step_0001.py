"""The first notebook: revisions, movements, links and tombstones."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables as they were then; later steps change them, never this one."""
    op.create_table(
        "revisions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("time", sa.String(32), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("body", sa.Text()),
        sa.CheckConstraint("version > 0", name=op.f("ck_revisions_version")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_revisions")),
        sa.UniqueConstraint("kind", "name", "version", name=op.f("uq_revisions_kind")),
    )
    op.create_table(
        "movements",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry", sa.Integer(), nullable=False),
        sa.Column("time", sa.String(32), nullable=False),
        sa.Column("item", sa.String(200), nullable=False),
        sa.Column("lot", sa.String(200), nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.Column("value_millionths", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.String(20), nullable=False),
        sa.Column("override", sa.Text(), nullable=False),
        sa.CheckConstraint("amount <> 0", name=op.f("ck_movements_amount")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movements")),
    )
    op.create_index(op.f("ix_movements_item"), "movements", ["item"])
    op.create_index(op.f("ix_movements_lot"), "movements", ["lot"])
    op.create_table(
        "links",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("source_stop", sa.String(40), nullable=False),
        sa.Column("source_name", sa.String(200), nullable=False),
        sa.Column("into_stop", sa.String(40), nullable=False),
        sa.Column("into_name", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_links")),
        sa.UniqueConstraint(
            *("source_stop", "source_name", "into_stop", "into_name"),
            name=op.f("uq_links_source_stop"),
        ),
    )
    op.create_table(
        "tombstones",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("time", sa.String(32), nullable=False),
        sa.Column("versions", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tombstones")),
    )
