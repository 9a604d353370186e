"""What heads should measure, revision by revision, and the meters."""

from typing import Final

from sqlalchemy import Column, Integer, String, Table, Text, UniqueConstraint

from fifthwire.register.tables.schema import METADATA, JsonText, UtcTime, id_column, id_of

SPECS: Final = Table(
    "specs",
    METADATA,
    id_column(),
    Column("name", Text, nullable=False),
    Column("revision", Integer, nullable=False),  # the latest: of two people who revise at once the second is noticed
    UniqueConstraint("name"),
)
SPEC_REVISIONS: Final = Table(
    "spec_revisions",
    METADATA,
    id_column(),
    id_of("spec_id", "specs.id"),
    Column("revision", Integer, nullable=False),
    Column("name", Text, nullable=False),
    Column("spec", JsonText, nullable=False),
    Column("title", Text),
    Column("page", Text),
    Column("photograph_sha256", String(64)),
    Column("by", Text, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("checked_by", Text),
    Column("checked_at_utc", UtcTime),
    UniqueConstraint("spec_id", "revision"),
)
METERS: Final = Table(
    "meters",
    METADATA,
    id_column(),
    Column("serial", Text, nullable=False),
    Column("name", Text),
    Column("meter", JsonText, nullable=False),
    Column("by", Text, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("version", Integer, nullable=False),
    UniqueConstraint("serial"),
)
