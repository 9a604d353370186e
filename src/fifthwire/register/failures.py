"""What an engine says when it cannot go on, as a person needs it: what happened, what was kept, what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from sqlalchemy.exc import DBAPIError, IntegrityError
from sqlalchemy.exc import TimeoutError as NoConnectionFreeError

from fifthwire.model.errors import Conflict, RegisterError
from fifthwire.register.wheres import Where

KEPT_BEFORE: Final = "Nothing of this was written; everything that was kept before is still there."
_SQLITE: Final[tuple[tuple[str, str, str], ...]] = (
    ("full", "The disk is full", "Make room, then do it again."),
    ("readonly", "It may not be written", "Ask for the right to write there, or move the register."),
    ("unable to open", "It cannot be opened", "Look at the path and at who may use it."),
    ("locked", "Another program is writing to it and did not finish", "Wait a moment, then do it again."),
    ("disk i/o", "The disk cannot be read or written", "Check the disk; do not write to it again before that."),
    ("malformed", "The file is damaged", "Run: fifthwire register check. Restore it from a backup."),
    ("not a database", "The file is no register, or is damaged", "Restore it from a backup."),
)
"""Part of what SQLite says, what that means, what to do."""


@contextmanager
def told(where: Where, *, writes: bool = False) -> Iterator[None]:
    """Turn an engine's failure into a `RegisterError` that a person can act on.

    Parameters
    ----------
    where : Where
        The register.
    writes : bool
        Whether the block writes, and the reader needs to know that nothing of it was kept.
    """
    try:
        yield
    except IntegrityError as err:
        raise Conflict(
            "Somebody else has added or removed the same thing meanwhile.",
            f"{KEPT_BEFORE} Open it again and look.",
        ) from err
    except NoConnectionFreeError as err:
        raise RegisterError(
            f"{where.shown}: too many people use it at once.", "Wait a moment, then do it again."
        ) from err
    except DBAPIError as err:
        raise _said(where, err, writes) from err
    except sqlite3.Error as err:  # while a connection is made
        raise _said_by_sqlite(where, err, KEPT_BEFORE if writes else "") from err


def _said(where: Where, err: DBAPIError, writes: bool) -> RegisterError:
    said = _first_line(err.orig)
    kept = KEPT_BEFORE if writes else ""
    if isinstance(err.orig, sqlite3.Error):
        return _said_by_sqlite(where, err.orig, kept)
    if err.connection_invalidated or "connect" in said.lower():
        unsure = " If it was being saved just then, look whether it is there before you do it again." if writes else ""
        return RegisterError(f"{where.shown} cannot be reached: {said}.", f"Check the server and the network.{unsure}")
    return RegisterError(f"{where.shown} refused: {said}.", kept)


def _said_by_sqlite(where: Where, err: sqlite3.Error, kept: str) -> RegisterError:
    said = _first_line(err)
    for part, what, to_do in _SQLITE:
        if part in said.lower():
            return RegisterError(f"{where.shown}: {what} ({said}).", f"{kept} {to_do}".strip())
    return RegisterError(f"{where.shown} cannot be used: {said}.", kept)


def _first_line(err: BaseException | None) -> str:
    return (str(err).strip().splitlines() or ["no reason given"])[0].rstrip(".")
