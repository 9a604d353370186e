"""The one collection of tables, and the kinds of column that both engines keep alike."""

import json
from datetime import UTC, datetime
from typing import Any, Final

from sqlalchemy import Column, DateTime, Dialect, ForeignKey, MetaData, String, Text
from sqlalchemy.types import TypeDecorator

from fifthwire.model.canonical import ID_LENGTH, canonical_json

METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)
"""Every table of the register; constraints have names, so that a migration can change them on both engines."""

BY_HAND: Final[dict[str, list[str]]] = {"sqlite": [], "postgresql": []}
"""Statements that tables cannot say (full-text indexes), an engine, in the order in which they are run."""


class UtcTime(TypeDecorator[datetime]):
    """A moment in UTC. SQLite drops time zones: a time without one is refused, and one that comes back has UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """In UTC; without its zone where the engine keeps none."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value} has no time zone: a register keeps moments in UTC")
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """In UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class JsonText(TypeDecorator[Any]):
    """A value as JSON in one canonical spelling, so that the same value is the same text on every engine."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        """Its text; nothing where there is nothing."""
        return None if value is None else canonical_json(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:
        """The value again."""
        return None if value is None else json.loads(value)


def id_column(name: str = "id", *, primary_key: bool = True) -> Column[str]:
    """A column that holds an id."""
    return Column(name, String(ID_LENGTH), primary_key=primary_key, nullable=False)


def id_of(name: str, target: str, *, nullable: bool = False, primary_key: bool = False, **more: Any) -> Column[Any]:
    """A column that holds the id of a row of another table, `target` written as `table.column`."""
    return Column(name, String(ID_LENGTH), ForeignKey(target), nullable=nullable, primary_key=primary_key, **more)
