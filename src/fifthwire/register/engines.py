"""Engines: SQLite so that an acknowledged addition survives a power cut, PostgreSQL as its server is set up."""

import os
import sqlite3
from contextlib import suppress
from typing import Any, Final

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event
from sqlalchemy.exc import ArgumentError

from fifthwire.model.errors import InputError
from fifthwire.register.wheres import Where

WAIT_S: Final = 15.0
"""How long a writer waits for another before it says that the register is busy.  [s]  Our choice."""
PRAGMAS: Final = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA synchronous = FULL",
    "PRAGMA cache_size = -65536",
    "PRAGMA temp_store = MEMORY",
)
"""Of every connection. FULL: with a write-ahead log it makes an acknowledged transaction survive a power cut."""


def engine_for(where: Where) -> Engine:
    """An engine for a place; nothing is opened yet."""
    return _sqlite(str(where.path)) if where.path is not None else _postgresql(where.url)


def _sqlite(path: str) -> Engine:
    engine = create_engine(
        "sqlite://",
        creator=lambda: _connect(path),
        poolclass=QueuePool,
        pool_size=20,
        max_overflow=20,
        pool_reset_on_return=None,
    )
    event.listen(engine, "begin", _begin)
    event.listen(engine, "checkin", _roll_back)
    return engine


def keep_to_oneself(path: str) -> None:
    """A new, empty file that only its owner may read: a register holds the hashes of passwords.

    A file that is there keeps what its owner made of it. Where it cannot be made, opening it says why.
    """
    with suppress(OSError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))


def _connect(path: str) -> sqlite3.Connection:
    keep_to_oneself(path)
    # isolation_level None: transactions begin and end where we say, not where the driver guesses
    connection = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None, check_same_thread=False)
    try:
        for pragma in PRAGMAS:
            connection.execute(pragma)
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get("fifthwire_begin", "BEGIN"))


def _roll_back(connection: Any, _: Any) -> None:
    """A connection goes back to the pool without a transaction."""
    if connection is not None and connection.in_transaction:
        connection.rollback()


def _postgresql(url: str) -> Engine:
    try:
        return create_engine(
            url,
            pool_size=20,
            max_overflow=20,
            pool_pre_ping=True,
            isolation_level="READ COMMITTED",
            connect_args={"connect_timeout": 10, "application_name": "fifthwire"},
        )
    except (ArgumentError, ValueError) as err:
        raise InputError("The address of the register cannot be read.", "postgresql://NAME@HOST:PORT/DATABASE") from err
