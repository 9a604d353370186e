"""Bring a register up to this program's version, or say why that cannot be done."""

from threading import Lock
from typing import Final

from sqlalchemy import Connection, Engine, inspect, text

from fifthwire.model.errors import NotFound, RegisterError
from fifthwire.register.migrations import HEAD, KNOWN
from fifthwire.register.wheres import Where

VERSION_TABLE: Final = "schema_version"
_LOCK: Final = 5_054_231
"""Number of the lock under which PostgreSQL is brought up, so that two programs do not do it at once.  Our choice."""


_ONE_AT_A_TIME: Final = Lock()
"""Alembic keeps what it works on in one place of the process: two threads may not bring registers up at once."""


def bring_up(engine: Engine, where: Where, *, create: bool) -> None:
    """Make the tables of a new register, or change those of an older one, in one transaction.

    Raises
    ------
    NotFound
        If the database is empty and no register is to be made.
    RegisterError
        If a later program wrote it, or it is no register.
    """
    if engine.dialect.name == "sqlite":
        _set_log(engine)
    with engine.connect() as connection:
        version = version_of(connection, where)
    if version == HEAD:
        return
    with engine.connect() as connection:
        locked = connection.execution_options(fifthwire_begin="BEGIN IMMEDIATE")
        with locked.begin():
            if engine.dialect.name == "postgresql":
                locked.execute(text(f"SELECT pg_advisory_xact_lock({_LOCK})"))
            version = version_of(locked, where)  # another program may have been first
            if version is None and not create:
                raise NotFound(f"There is no register at {where.shown}.", "Look at the address.")
            if version != HEAD:
                run_to(locked, HEAD)


def version_of(connection: Connection, where: Where) -> str | None:
    """The version of the tables; None where there are none yet.

    Raises
    ------
    RegisterError
        If a later program wrote them, or they are somebody else's.
    """
    names = set(inspect(connection).get_table_names())
    if not names:
        return None
    if VERSION_TABLE not in names:
        raise RegisterError(
            f"{where.shown} holds something else: it has tables, but none of a register.",
            "Nothing was changed. Name another file or database.",
        )
    version = connection.execute(text(f"SELECT version_num FROM {VERSION_TABLE}")).scalar()
    if version not in KNOWN:
        raise RegisterError(
            f"{where.shown} was written by a later version of this program (tables {version}; known here: {HEAD}).",
            "Nothing was changed. Install that version, or open a backup of your own.",
        )
    return str(version)


def _set_log(engine: Engine) -> None:
    """Keep a write-ahead log: readers and the one writer do not wait for each other. The file remembers it."""
    raw = engine.raw_connection()
    try:
        cursor = raw.cursor()
        cursor.execute("PRAGMA journal_mode")
        if cursor.fetchone() != ("wal",):
            cursor.execute("PRAGMA journal_mode = WAL")
            cursor.fetchone()
        cursor.close()
    finally:
        raw.close()


def run_to(connection: Connection, version: str) -> None:
    """Make or change the tables up to a version, in the transaction of a connection."""
    from alembic import command  # only where there is something to change: it costs 100 ms
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "fifthwire.register:migrations")
    config.attributes["connection"] = connection
    with _ONE_AT_A_TIME:
        command.upgrade(config, version)
