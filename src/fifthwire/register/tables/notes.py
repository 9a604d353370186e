"""Notes on anything."""

from typing import Final

from sqlalchemy import Column, Index, String, Table, Text

from fifthwire.register.tables.schema import METADATA, JsonText, UtcTime, id_column, id_of

NOTES: Final = Table(
    "notes",
    METADATA,
    id_column(),
    Column("about_kind", String(8), nullable=False),
    Column("about_id", String(26), nullable=False),
    id_of("site_id", "sites.id", nullable=True),  # none for a note on a manual or a meter
    Column("text", Text, nullable=False),
    Column("tags", JsonText, nullable=False),
    Column("by", Text, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("voided_by", Text),
    Column("voided_at_utc", UtcTime),
    Index("ix_notes_about", "about_kind", "about_id", "id"),
)
