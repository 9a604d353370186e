"""Tables of photographs: each picture once, by its content, and what it is about."""

from typing import Final

from sqlalchemy import Column, ForeignKey, Index, Integer, LargeBinary, String, Table, UniqueConstraint

from fifthwire.register.tables.schema import METADATA, UtcTime, id_column

PHOTOGRAPHS: Final = Table(
    "photographs",
    METADATA,
    Column("sha256", String(64), primary_key=True),
    Column("media_type", String(20), nullable=False),
    Column("size_bytes", Integer, nullable=False),
    Column("width_px", Integer, nullable=False),
    Column("height_px", Integer, nullable=False),
    Column("by", String(100), nullable=False),
    Column("at_utc", UtcTime, nullable=False),
)

PICTURES: Final = Table(
    "pictures",
    METADATA,
    Column("sha256", String(64), ForeignKey("photographs.sha256"), primary_key=True),
    Column("content", LargeBinary, nullable=False),
    Column("thumbnail", LargeBinary, nullable=False),
)
"""The bytes, apart from what a list shows, so that listing reads no picture."""

PHOTOGRAPH_LINKS: Final = Table(
    "photograph_links",
    METADATA,
    id_column(),
    Column("sha256", String(64), ForeignKey("photographs.sha256"), nullable=False),
    Column("about_kind", String(20), nullable=False),
    Column("about_id", String(64), nullable=False),
    Column("by", String(100), nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    UniqueConstraint("about_kind", "about_id", "sha256"),
)
Index(None, PHOTOGRAPH_LINKS.c.sha256)
