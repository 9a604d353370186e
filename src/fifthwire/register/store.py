"""Open a register and read it or add to it: one transaction each, kept whole or not at all."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, Final

from sqlalchemy import Connection, Engine

from fifthwire.model.record import record
from fifthwire.register.engines import engine_for
from fifthwire.register.failures import told
from fifthwire.register.upgrading import bring_up
from fifthwire.register.wheres import Where, where_of

Clock = Callable[[], datetime]

LOCKED: Final = {"fifthwire_begin": "BEGIN IMMEDIATE"}
"""Take the lock for writing at the start: what was read in the transaction is still true when it writes."""
ONE_MOMENT: Final[dict[str, Any]] = {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
"""Of a reading on PostgreSQL; SQLite reads so by itself."""


def utc_now() -> datetime:
    """The time of this machine."""
    return datetime.now(UTC)


@record(kw_only=False)
class Keep:
    """One transaction: what every function of the register is given."""

    connection: Connection
    now_utc: datetime
    """One moment for everything in it."""
    dialect: str
    """sqlite | postgresql"""


class Register:
    """An open register.

    Parameters
    ----------
    where : Where
        The file or the server.
    engine : Engine
        Connected to it.
    clock : callable
        Gives the time.
    """

    def __init__(self, where: Where, engine: Engine, clock: Clock = utc_now) -> None:
        self.where = where
        self._engine = engine
        self._clock = clock

    @property
    def dialect(self) -> str:
        """sqlite | postgresql"""
        return self._engine.dialect.name

    @contextmanager
    def reading(self) -> Iterator[Keep]:
        """A transaction that only reads: everything in it is of one moment.

        Raises
        ------
        RegisterError
            If the register cannot be read.
        """
        with told(self.where), self._engine.connect() as connection:
            if self.dialect == "postgresql":
                connection.execution_options(**ONE_MOMENT)
            yield Keep(connection, self._now_utc(), self.dialect)

    @contextmanager
    def adding(self) -> Iterator[Keep]:
        """A transaction that writes: all of it is kept when the block ends, and nothing when it raises.

        Raises
        ------
        RegisterError
            If it cannot be written: disk full, read-only, locked, connection lost.
        """
        with told(self.where, writes=True), self._engine.connect() as connection:
            locked = connection.execution_options(**LOCKED)
            with locked.begin():
                yield Keep(locked, self._now_utc(), self.dialect)

    def close(self) -> None:
        """Give its connections back."""
        self._engine.dispose()

    def __enter__(self) -> "Register":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _now_utc(self) -> datetime:
        return self._clock()


def open_register(where: str, *, create: bool = True, clock: Clock = utc_now) -> Register:
    """Open a register, and bring it up to this program's version.

    Parameters
    ----------
    where : str
        Path of an SQLite file, `sqlite:///PATH` or `postgresql://...`.
    create : bool
        Whether a register is made where there is none.
    clock : callable
        Gives the time.

    Raises
    ------
    NotFound
        If there is none and none is to be made.
    RegisterError
        If it is damaged, no register, written by a later version, or cannot be reached.
    """
    at = where_of(where)
    at.require(create=create)
    engine = engine_for(at)
    try:
        with told(at):
            bring_up(engine, at, create=create)
    except BaseException:
        engine.dispose()
        raise
    return Register(at, engine, clock)
