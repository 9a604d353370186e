"""Visits, their entries, and what was made of them."""

from typing import Any, Final

from sqlalchemy import (
    Boolean,
    Column,
    Date,
    Float,
    Index,
    Integer,
    LargeBinary,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from fifthwire.register.tables.schema import METADATA, JsonText, UtcTime, id_column, id_of

VISITS: Final = Table(
    "visits",
    METADATA,
    id_column(),
    id_of("system_id", "systems.id"),
    Column("identity", Text, nullable=False),  # the same for every file of the visit
    Column("date", Date, nullable=False),
    Column("technician", Text),
    Column("reason", String(32), nullable=False),
    Column("is_signed", Boolean, nullable=False),
    Column("n_issues", Integer, nullable=False),
    Column("n_valves", Integer, nullable=False),
    Column("n_entries", Integer, nullable=False),
    Column("version", Integer, nullable=False),
    Column("added_utc", UtcTime, nullable=False),
    Column("added_by", Text, nullable=False),
    UniqueConstraint("system_id", "identity"),
    Index("ix_visits_system_id_date", "system_id", "date"),
    Index("ix_visits_date_id", "date", "id"),
)
ENTRIES: Final = Table(
    "visit_entries",
    METADATA,
    id_of("visit_id", "visits.id", primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),  # counted within the visit
    Column("id", Text, nullable=False),
    Column("path", Text, nullable=False),
    Column("position", Integer, nullable=False),
    Column("body", JsonText, nullable=False),
    Column("at_utc", UtcTime),
    Column("device", Text),
    Column("by", Text),
    Column("voids", Text),
    Column("received_utc", UtcTime, nullable=False),
    UniqueConstraint("visit_id", "id"),
)
FILES: Final = Table(
    "visit_files",
    METADATA,
    id_column(),
    id_of("visit_id", "visits.id"),
    Column("name", Text, nullable=False),
    Column("sha256", String(64), nullable=False),
    Column("entry_ids", JsonText, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("by", Text, nullable=False),
    Index("ix_visit_files_visit_id", "visit_id"),
    Index("ix_visit_files_sha256", "sha256"),
)
VALVES: Final = Table(
    "visit_valves",
    METADATA,
    id_of("visit_id", "visits.id", primary_key=True),
    Column("label", Text, primary_key=True),
    id_of("valve_id", "valves.id"),
    Index("ix_visit_valves_valve_id", "valve_id"),
)
JUDGEMENTS: Final = Table(
    "judgements",
    METADATA,
    id_column(),
    id_of("visit_id", "visits.id"),
    Column("at_utc", UtcTime, nullable=False),
    Column("by", Text, nullable=False),
    Column("program", String(32), nullable=False),
    Column("priors_sha256", String(64), nullable=False),
    Column("inputs_sha256", String(64), nullable=False),
    Column("assessment", JsonText, nullable=False),
    Index("ix_judgements_visit_id", "visit_id"),
)
ISSUES: Final = Table(
    "issues",
    METADATA,
    id_column(),
    id_of("visit_id", "visits.id"),
    Column("number", Integer, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("by", Text, nullable=False),
    Column("inputs_sha256", String(64), nullable=False),
    Column("program", String(32), nullable=False),
    Column("priors_sha256", String(64), nullable=False),
    id_of("judgement_id", "judgements.id"),
    Column("last_seq", Integer, nullable=False),  # the additions it holds
    Column("changes", JsonText, nullable=False),
    UniqueConstraint("visit_id", "number"),
)
ISSUE_FILES: Final = Table(
    "issue_files",
    METADATA,
    id_of("issue_id", "issues.id", primary_key=True),
    Column("suffix", String(8), primary_key=True),  # .html | .pdf | .json
    Column("sha256", String(64), nullable=False),
    Column("content", LargeBinary, nullable=False),
)
VERDICTS: Final = Table(
    "verdicts",  # the latest judgement of each visit, a row a valve; `is_now` marks that of its latest visit
    METADATA,
    id_of("valve_id", "valves.id", primary_key=True),
    id_of("visit_id", "visits.id", primary_key=True),
    id_of("judgement_id", "judgements.id"),
    Column("date", Date, nullable=False),
    Column("is_now", Boolean, nullable=False),
    Column("mark", String(16), nullable=False),
    Column("word_code", String(64), nullable=False),
    Column("cause", String(32)),
    Column("probability", Float),
    Column("action", String(32), nullable=False),
    Column("urgency", String(16), nullable=False),
    Column("meanwhile", String(32), nullable=False),
    Column("because", JsonText, nullable=False),
    Column("winding_verdict", String(16), nullable=False),
    Index("ix_verdicts_visit_id", "visit_id"),
)
_NOW: Final[dict[str, Any]] = {"sqlite_where": text("is_now = 1"), "postgresql_where": VERDICTS.c.is_now}
Index("ix_verdicts_now", VERDICTS.c.valve_id, VERDICTS.c.mark, **_NOW)
Index("ix_verdicts_now_mark", VERDICTS.c.mark, VERDICTS.c.valve_id, **_NOW)
WINDING_POINTS: Final = Table(
    "winding_points",
    METADATA,
    id_of("valve_id", "valves.id", primary_key=True),
    id_of("visit_id", "visits.id", primary_key=True),
    Column("wire_a", Text, primary_key=True),
    Column("wire_b", Text, primary_key=True),
    Column("date", Date, nullable=False),
    id_of("head_id", "heads.id", nullable=True),
    Column("ohm_at_spec", Float),
    Column("u_ohm", Float),
    Column("verdict", String(16), nullable=False),
    Column("meter_serial", Text),
    Index("ix_winding_points_visit_id", "visit_id"),
)
