"""How a record says what its fields are: key in the file, unit, limits, choices, since when, and a line of help.

One reader, one schema generator, one template and one format page are made from these descriptions, so a field is
described once. `describe(record_class)` gives the notes of a record's keys.
"""

from collections.abc import Mapping
from dataclasses import field, fields
from enum import Enum
from functools import cache
from typing import Any

from fifthwire.model.record import record


class Kind(Enum):
    """What a field holds, as the reader sees it."""

    TEXT = "text"
    CHOICE = "choice"
    FLAG = "flag"
    INTEGER = "integer"
    NUMBER = "number"
    DAY = "day"
    MOMENT = "moment"
    QUANTITY = "quantity"
    RECORD = "record"
    LIST = "list"  # an array of tables
    TABLE = "table"  # tables by name
    SPECIAL = "special"  # its own small grammar, named by `FieldNote.special`


@record(kw_only=False)
class FieldNote:
    """Everything a reader, a schema, a template and a page need to know of one field."""

    name: str
    """Of the attribute on the record."""
    key: str
    """In the file."""
    kind: Kind
    help: str
    unit: str = ""
    """Of the stored number, spelled as `model.units` spells it; a quantity's dimension follows from it."""
    choices: tuple[str, ...] = ()
    low: float | None = None
    """Least value, in `unit`; anything below is impossible."""
    above: float | None = None
    """As `low`, and the limit itself is impossible too."""
    high: float | None = None
    required: bool = False
    since: str = "1.0"
    record: type | None = None
    or_one: bool = False
    """Of an array of tables: one table, without the second brackets, stands for an array of one."""
    special: str = ""
    example: str = ""
    """As it would stand in a TOML file, right of the equals sign."""


def _field(key: str, kind: Kind, help: str, default: Any = None, **more: Any) -> Any:
    metadata = {"note": {"key": key, "kind": kind, "help": help, **more}}
    if more.get("required"):
        return field(metadata=metadata)
    if kind is Kind.TABLE:
        return field(default_factory=dict, metadata=metadata)
    return field(default=default, metadata=metadata)


def text(key: str, help: str, *, default: str | None = None, **more: Any) -> Any:
    """Free text."""
    return _field(key, Kind.TEXT, help, default, **more)


def choice(key: str, help: str, choices: tuple[str, ...], *, default: str | None = None, **more: Any) -> Any:
    """One word of a fixed list."""
    return _field(key, Kind.CHOICE, help, default, choices=choices, **more)


def flag(key: str, help: str, *, default: bool | None = None, **more: Any) -> Any:
    """A yes or no; None where not looked at."""
    return _field(key, Kind.FLAG, help, default, **more)


def integer(key: str, help: str, *, default: int | None = None, **more: Any) -> Any:
    """A whole number."""
    return _field(key, Kind.INTEGER, help, default, **more)


def number(key: str, help: str, *, default: float | None = None, **more: Any) -> Any:
    """A bare number in `unit`."""
    return _field(key, Kind.NUMBER, help, default, **more)


def day(key: str, help: str, **more: Any) -> Any:
    """A date."""
    return _field(key, Kind.DAY, help, **more)


def moment(key: str, help: str, **more: Any) -> Any:
    """An aware date and time, kept in UTC."""
    return _field(key, Kind.MOMENT, help, **more)


def quantity(key: str, help: str, unit: str, **more: Any) -> Any:
    """A bare number in `unit`, or a string with a unit of the same dimension; kept as a float in `unit`."""
    return _field(key, Kind.QUANTITY, help, unit=unit, **more)


def one(key: str, help: str, record: type, **more: Any) -> Any:
    """A table."""
    return _field(key, Kind.RECORD, help, record=record, **more)


def many(key: str, help: str, record: type, **more: Any) -> Any:
    """An array of tables; with `or_one` a single table will do."""
    return _field(key, Kind.LIST, help, (), record=record, **more)


def named(key: str, help: str, record: type, **more: Any) -> Any:
    """Tables by name."""
    return _field(key, Kind.TABLE, help, record=record, **more)


def special(key: str, help: str, grammar: str, *, default: Any = None, **more: Any) -> Any:
    """A value with a small grammar of its own, which `visitfile` knows by the name `grammar`."""
    return _field(key, Kind.SPECIAL, help, default, special=grammar, **more)


def describe(record: type) -> tuple[FieldNote, ...]:
    """The notes of a record's keys, in order; attributes that are no key of the file are left out."""
    return _described(record)


@cache
def _described(record: type) -> tuple[FieldNote, ...]:
    return tuple(FieldNote(name=of.name, **of.metadata["note"]) for of in fields(record) if "note" in of.metadata)


@record
class FileRecord:
    """A record read from a file."""

    extra: Mapping[str, Any] = field(default_factory=dict)
    """Keys of a higher minor version, kept as they were found and written back."""


@record
class Entry(FileRecord):
    """A row of an array of tables: it may say who added it, when, on what, and which entry it strikes out."""

    entry: str | None = text("entry", "id of this entry")
    device: str | None = text("device", "the device it was written on")
    entered_utc: Any = moment("at", "when it was added")
    by: str | None = text("by", "who added it")
    voids: str | None = text("voids", "id of the entry that this one strikes out")
    is_void: bool = False
    """Struck out by a later entry: kept, shown struck, not used. Set by the reader."""
