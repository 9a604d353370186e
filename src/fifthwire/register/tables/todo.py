"""What is to do at the valves, and what was found there."""

from typing import Final

from sqlalchemy import Column, Date, Index, Integer, String, Table, Text

from fifthwire.register.tables.schema import METADATA, JsonText, UtcTime, id_column, id_of

ACTIONS: Final = Table(
    "actions",
    METADATA,
    id_column(),
    id_of("valve_id", "valves.id"),
    id_of("site_id", "sites.id"),  # as of the valve: the list over all sites needs no search
    id_of("system_id", "systems.id"),
    id_of("visit_id", "visits.id"),
    Column("action", String(32), nullable=False),
    Column("why", JsonText, nullable=False),
    Column("since", Date, nullable=False),
    Column("asked", Date, nullable=False),  # of the latest visit that asks for it
    Column("urgency", String(16), nullable=False),
    Column("urgency_rank", Integer, nullable=False),  # 0 is the most urgent
    Column("meanwhile", String(32), nullable=False),
    Column("parts", Text),
    Column("state", String(8), nullable=False),
    Index("ix_actions_state_urgency_rank", "state", "urgency_rank", "since", "id"),
    Index("ix_actions_valve_id_state", "valve_id", "state"),
    Index("ix_actions_system_id_state", "system_id", "state"),
    Index("ix_actions_site_id_state", "site_id", "state", "urgency_rank"),
)
FINDINGS: Final = Table(
    "findings",
    METADATA,
    id_column(),
    id_of("action_id", "actions.id"),
    Column("cause", String(32), nullable=False),
    Column("seen_by", Text, nullable=False),
    Column("how", String(16), nullable=False),
    Column("proof_kind", String(16)),
    Column("proof_result", String(8)),
    Column("photograph_sha256", String(64)),
    Column("note", Text),
    Column("date", Date, nullable=False),
    Column("by", Text, nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Index("ix_findings_action_id", "action_id", "id"),
)
