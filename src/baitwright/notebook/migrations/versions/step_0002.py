"""Lists that need not read everything, reservations, and people apart from all else."""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables as they were then; later steps change them, never this one."""
    newest = op.create_table(
        "newest",
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("about", sa.String(200), nullable=False),
        sa.Column("day", sa.String(10), nullable=False),
        sa.ForeignKeyConstraint(["revision"], ["revisions.id"], name=op.f("fk_newest_revision")),
        sa.PrimaryKeyConstraint("kind", "name", name=op.f("pk_newest")),
    )
    op.create_index(op.f("ix_newest_about"), "newest", ["kind", "about"])
    op.create_index(op.f("ix_newest_day"), "newest", ["kind", "day"])
    op.create_table(
        "reservations",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("time", sa.String(32), nullable=False),
        sa.Column("holder", sa.String(200), nullable=False),
        sa.Column("item", sa.String(200), nullable=False),
        sa.Column("lot", sa.String(200), nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.CheckConstraint("amount <> 0", name=op.f("ck_reservations_amount")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reservations")),
    )
    op.create_index(op.f("ix_reservations_holder"), "reservations", ["holder"])
    op.create_index(op.f("ix_reservations_item"), "reservations", ["item"])
    op.create_table(
        "people",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(40), nullable=False),
        sa.Column("time", sa.String(32), nullable=False),
        sa.Column("body", sa.Text()),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_people")),
        sa.UniqueConstraint("code", name=op.f("uq_people_code")),
    )
    op.create_index(op.f("ix_movements_entry"), "movements", ["entry"])
    op.create_index(op.f("ix_links_into"), "links", ["into_stop", "into_name"])
    op.create_table(
        "levels",
        sa.Column("item", sa.String(200), nullable=False),
        sa.Column("lot", sa.String(200), nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.Column("value_millionths", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("item", "lot", name=op.f("pk_levels")),
    )
    op.execute(
        "INSERT INTO levels SELECT item, lot, sum(amount), sum(value_millionths)"
        " FROM movements GROUP BY item, lot"
    )
    _list_what_is_there(newest)


def _list_what_is_there(newest: sa.Table) -> None:
    """Recipes are about nothing; lots are about their item and came on a day."""
    found = op.get_bind().execute(
        sa.text("SELECT id, kind, name, body FROM revisions ORDER BY version")
    )
    standing = {(kind, name): (at, body) for at, kind, name, body in found}
    for (kind, name), (at, body) in standing.items():
        if body is not None:
            told = json.loads(body)
            row = {"kind": kind, "name": name, "revision": at}
            filed = {"about": told.get("item", ""), "day": told.get("came", "")}
            op.get_bind().execute(newest.insert().values(**row, **filed))
