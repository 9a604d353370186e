"""Everything in a register, table by table: counted, hashed whatever the engine and the order, and carried over."""

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from hashlib import sha256
from typing import Any, Final

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    Integer,
    Table,
    TableClause,
    Text,
    column,
    func,
    insert,
    select,
    table,
    text,
)

from fifthwire.model.errors import RegisterError
from fifthwire.model.record import record
from fifthwire.register.tables import METADATA
from fifthwire.register.tables.schema import JsonText

ROWS_AT_ONCE: Final = 2000
"""Rows held in memory and written in one statement.  Our choice."""
_ALL: Final = 1 << 256


@record(kw_only=False)
class Contents:
    """How many rows each table has, and one hash over all of them."""

    n_rows: Mapping[str, int]
    sha256: str


class Tally:
    """Counts and hashes rows; the same rows in any order give the same sum."""

    def __init__(self) -> None:
        self._n_rows: dict[str, int] = {}
        self._sums: dict[str, int] = {}

    def add(self, name: str, rows: Sequence[Sequence[Any]]) -> None:
        """Rows of one table, their values in the order of its columns."""
        self._n_rows[name] = self._n_rows.get(name, 0) + len(rows)
        total = self._sums.get(name, 0)
        for row in rows:
            said = json.dumps([_plain(value) for value in row], ensure_ascii=False, separators=(",", ":"))
            total += int.from_bytes(sha256(said.encode("utf-8", "surrogatepass")).digest(), "big")
        self._sums[name] = total % _ALL

    @property
    def contents(self) -> Contents:
        """What was added so far."""
        said = "".join(f"{name} {self._n_rows[name]} {self._sums[name]:064x}\n" for name in sorted(self._n_rows))
        return Contents(dict(self._n_rows), sha256(said.encode()).hexdigest())


def _plain(value: Any) -> Any:
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, bytes | memoryview):
        return sha256(value).hexdigest()
    return value


def contents_of(connection: Connection) -> Contents:
    """Count and hash everything in a register."""
    tally = Tally()
    for of in METADATA.sorted_tables:
        tally.add(of.name, ())
        for rows in _rows(connection, of):
            tally.add(of.name, rows)
    return tally.contents


def _rows(connection: Connection, of: Table) -> Iterator[Sequence[Sequence[Any]]]:
    """The rows of a table, so many at once; JSON as it is written."""
    here = _as_written(of)
    result = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(select(here))
    for part in result.partitions():
        yield [tuple(row) for row in part]


def _as_written(of: Table) -> TableClause:
    """The table with JSON as the text that stands in it."""
    return table(of.name, *(column(one.name, _written_type(one)) for one in of.columns))


def _written_type(one: Column[Any]) -> Any:
    return Text() if isinstance(one.type, JsonText) else one.type


def carry_over(source: Connection, target: Connection) -> Contents:
    """Write everything of one register into another, empty one, and read it again there.

    Parameters
    ----------
    source : Connection
        In one transaction, so that everything is of one moment.
    target : Connection
        In a transaction that the caller ends.

    Raises
    ------
    RegisterError
        If what is read from the target is not what was read from the source: nothing may be kept of it then.
    """
    tally = Tally()
    for of in METADATA.sorted_tables:
        tally.add(of.name, ())
        names = [one.name for one in of.columns]
        there = _as_written(of)
        for rows in _rows(source, of):
            tally.add(of.name, rows)
            target.execute(insert(there), [dict(zip(names, row, strict=True)) for row in rows])
    if target.dialect.name == "postgresql":
        _count_on(target)
    read, written = tally.contents, contents_of(target)
    if read != written:
        wrong = [name for name in read.n_rows if read.n_rows[name] != written.n_rows[name]]
        raise RegisterError(
            f"What was read again is not what was written{': ' + ', '.join(wrong) if wrong else ''}.",
            "Nothing was kept of it; the register it came from is as it was.",
        )
    return read


def _count_on(target: Connection) -> None:
    """Let counted keys go on behind those that were carried over."""
    for of in METADATA.sorted_tables:
        for one in of.primary_key.columns:
            if one.autoincrement is True and isinstance(one.type, Integer | BigInteger):
                last = target.execute(select(func.max(one))).scalar()
                if last is not None:
                    name = f"pg_get_serial_sequence('{of.name}', '{one.name}')"
                    target.execute(text(f"SELECT setval({name}, :last)"), {"last": last})


def is_empty(connection: Connection) -> bool:
    """Whether no table has a row."""
    return all(connection.execute(select(of).limit(1)).first() is None for of in METADATA.sorted_tables)
