"""Sites, systems, units, valves and the heads that were on them."""

from typing import Final

from sqlalchemy import Boolean, Column, Date, Float, Index, Integer, String, Table, Text, UniqueConstraint

from fifthwire.register.tables.schema import METADATA, id_column, id_of

SITES: Final = Table(
    "sites",
    METADATA,
    id_column(),
    Column("name", Text, nullable=False),
    Column("time_zone", String(64), nullable=False),
    Column("altitude_m", Float),
    Column("address", Text),
    Column("version", Integer, nullable=False),
    UniqueConstraint("name"),
)
SYSTEMS: Final = Table(
    "systems",
    METADATA,
    id_column(),
    id_of("site_id", "sites.id"),
    Column("name", Text, nullable=False),
    Column("refrigerant", String(16)),
    Column("installed", Integer),
    Column("is_heat_recovery", Boolean, nullable=False),
    Column("version", Integer, nullable=False),
    UniqueConstraint("site_id", "name"),
    Index("ix_systems_name_id", "name", "id"),
)
UNITS: Final = Table(
    "units",
    METADATA,
    id_column(),
    id_of("system_id", "systems.id"),
    Column("name", Text, nullable=False),
    Column("kind", String(8), nullable=False),
    Column("position", Integer, nullable=False),
    Column("branch_unit", Text),
    Column("room", Text),
    Column("capacity_kw", Float),
    Column("version", Integer, nullable=False),
    UniqueConstraint("system_id", "name"),
)
NO_NUMBER: Final = 0
"""Stands for "no number": a database takes no two NULLs for equal, so two valves of one role would pass."""
VALVES: Final = Table(
    "valves",
    METADATA,
    id_column(),
    id_of("system_id", "systems.id"),
    id_of("unit_id", "units.id"),
    Column("role", String(24), nullable=False),
    Column("number", Integer, nullable=False),
    Column("label", Text, nullable=False),
    Column("kind", String(8), nullable=False),
    Column("head", String(8)),
    Column("access", String(8)),
    id_of("spec_id", "specs.id", nullable=True),
    Column("version", Integer, nullable=False),
    UniqueConstraint("unit_id", "role", "number"),
    UniqueConstraint("system_id", "label"),
    Index("ix_valves_label_id", "label", "id"),
    Index("ix_valves_spec_id", "spec_id"),
)
HEADS: Final = Table(
    "heads",
    METADATA,
    id_column(),
    id_of("valve_id", "valves.id"),
    Column("since", Date),
    Column("until", Date),
    Column("part_label", Text),
    Column("is_present", Boolean, nullable=False),
    Index("ix_heads_valve_id", "valve_id"),
)
