"""The tables of the notebook.

Lines are added and never changed; a purge alone empties them. ``newest`` follows the revisions,
``levels`` the movements, and ``people`` is what the law lets people have erased.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

# Every version of every record; without a body it was taken away. Times are UTC, ISO 8601.
revisions = Table(
    "revisions",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("name", String(200), nullable=False),
    Column("version", Integer, nullable=False),
    Column("time", String(32), nullable=False),
    Column("reason", Text, nullable=False),
    Column("body", Text),
    UniqueConstraint("kind", "name", "version"),
    CheckConstraint("version > 0", name="version"),
)

# Which revision of a record stands, unless it was taken away, with what it is about and its day:
# nothing that the revisions do not say, so that lists and searches need not read them all.
newest = Table(
    "newest",
    metadata,
    Column("kind", String(40), primary_key=True),
    Column("name", String(200), primary_key=True),
    Column("revision", Integer, ForeignKey("revisions.id"), nullable=False),
    Column("about", String(200), nullable=False),
    Column("day", String(10), nullable=False),
    Index("ix_newest_about", "kind", "about"),
    Index("ix_newest_day", "kind", "day"),
)

# The shelf's book; lines of one entry were written together. Values are in millionths of the
# shop's money, so that sums are exact.
movements = Table(
    "movements",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("entry", Integer, nullable=False),
    Column("time", String(32), nullable=False),
    Column("item", String(200), nullable=False),
    Column("lot", String(200), nullable=False),
    Column("amount", BigInteger, nullable=False),
    Column("value_millionths", BigInteger, nullable=False),
    Column("reason", String(20), nullable=False),
    Column("override", Text, nullable=False),
    CheckConstraint("amount <> 0", name="amount"),
    Index(None, "entry"),
    Index(None, "item"),
    Index(None, "lot"),
)

# What each lot holds and is worth: the sum of its lines, kept so that a shelf need not add them up.
levels = Table(
    "levels",
    metadata,
    Column("item", String(200), primary_key=True),
    Column("lot", String(200), primary_key=True),
    Column("amount", BigInteger, nullable=False),
    Column("value_millionths", BigInteger, nullable=False),
)

# What of a lot is spoken for: lines that reserve, and lines below nothing that let go.
reservations = Table(
    "reservations",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("time", String(32), nullable=False),
    Column("holder", String(200), nullable=False),
    Column("item", String(200), nullable=False),
    Column("lot", String(200), nullable=False),
    Column("amount", BigInteger, nullable=False),
    CheckConstraint("amount <> 0", name="amount"),
    Index(None, "holder"),
    Index(None, "item"),
)

# What went into what, for traces.
links = Table(
    "links",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("source_stop", String(40), nullable=False),
    Column("source_name", String(200), nullable=False),
    Column("into_stop", String(40), nullable=False),
    Column("into_name", String(200), nullable=False),
    UniqueConstraint("source_stop", "source_name", "into_stop", "into_name"),
    Index("ix_links_into", "into_stop", "into_name"),
)

# Names and addresses, and nothing else has them: records mention the code. One without a body was
# purged.
people = Table(
    "people",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("code", String(40), nullable=False),
    Column("time", String(32), nullable=False),
    Column("body", Text),
    UniqueConstraint("code"),
)

# What a purge emptied: that there was something, and nothing of what it was.
tombstones = Table(
    "tombstones",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("name", String(200), nullable=False),
    Column("time", String(32), nullable=False),
    Column("versions", Integer, nullable=False),
)
