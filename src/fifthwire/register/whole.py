"""A register as a whole: copied while it is in use, looked through from end to end, moved between engines."""

import os
import sqlite3
from contextlib import closing, suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, func, select, text

from fifthwire.model.errors import InputError, NotFound, RegisterError
from fifthwire.model.kept.register_reports import MoveReport, RegisterCheck
from fifthwire.register.contents import carry_over, contents_of, is_empty
from fifthwire.register.engines import keep_to_oneself
from fifthwire.register.migrations import HEAD
from fifthwire.register.store import Register, open_register
from fifthwire.register.tables.photographs import PICTURES
from fifthwire.register.tables.visits import ENTRIES, ISSUE_FILES, VISITS
from fifthwire.register.wheres import where_of

MOST_PROBLEMS: Final = 20
"""Listed of one register.  Our choice."""


def back_up(register: Register, path: str) -> RegisterCheck:
    """Copy a register into a new file while it is in use, and look the copy through.

    A register of a server is copied into an SQLite file too: a backup is always one file.

    Parameters
    ----------
    register : Register
        As it is open.
    path : str
        The file to write; it may not be there yet.

    Raises
    ------
    InputError
        If the file is there already, or its directory is not.
    RegisterError
        If the copy is not whole: it is not kept.
    """
    target = _new_file(path)
    neighbour = target.with_name(f".{target.name}.{os.getpid()}.tmp")
    try:
        if register.where.path is not None:
            _copy_file(register.where.path, neighbour)
        else:
            move(register, str(neighbour))
        found = check(str(neighbour))
        if not found.is_whole:
            raise RegisterError(
                f"The copy of {register.where.shown} is damaged: {found.problems[0]}",
                "It was not kept. Run: fifthwire register check.",
            )
        _sync(neighbour)
        neighbour.replace(target)
    finally:
        _remove(neighbour)
    return RegisterCheck(
        where=path, engine=found.engine, version=found.version, n_rows=found.n_rows, sha256=found.sha256
    )


def restore(path: str, to: str) -> MoveReport:
    """Make a register out of a backup.

    Parameters
    ----------
    path : str
        The backup.
    to : str
        Where the register shall be: a file that is not there yet, or an empty database.

    Raises
    ------
    RegisterError
        If the backup is damaged, or there is something at its place already.
    """
    found = check(path)
    if not found.is_whole:
        raise RegisterError(
            f"{path} is damaged and was not restored: {found.problems[0]}",
            "Nothing was changed. Take an earlier backup.",
        )
    with open_register(path, create=False) as source:
        return move(source, to)


def move(source: Register, to: str) -> MoveReport:
    """Carry a register over into another place; the one it comes from stays as it is.

    Parameters
    ----------
    source : Register
        As it is open.
    to : str
        A file that is not there yet, or an empty database.

    Raises
    ------
    RegisterError
        If there is something at its place already, or what is read there again differs: nothing is kept then.
    """
    at = where_of(to)
    if (at.path or at.url) == (source.where.path or source.where.url):
        raise InputError(f"{at.shown} is where the register is already.", "Name another place.")
    is_new = at.path is not None and not (at.path.exists() and at.path.stat().st_size > 0)
    try:
        with open_register(to) as target, source.reading() as here, target.adding() as there:
            _require_empty(there.connection, at.shown)
            carried = carry_over(here.connection, there.connection)
    except BaseException:
        if is_new and at.path is not None:
            _remove(at.path)
        raise
    return MoveReport(from_where=source.where.shown, to_where=at.shown, n_rows=carried.n_rows, sha256=carried.sha256)


def _require_empty(connection: Connection, shown: str) -> None:
    if not is_empty(connection):
        raise RegisterError(f"{shown} holds a register already.", "Nothing was changed. Name an empty place.")


def check(where: str) -> RegisterCheck:
    """Look a register through from end to end.

    Returns
    -------
    RegisterCheck
        With every problem: a damaged file is a finding here, not an error.

    Raises
    ------
    NotFound
        If there is none.
    """
    at = where_of(where)
    try:
        with open_register(where, create=False) as register, register.reading() as keep:
            problems = _of_engine(keep.connection)
            if problems:  # what a damaged file says is not worth adding up
                return RegisterCheck(where=at.shown, engine=keep.dialect, version=HEAD, problems=tuple(problems))
            problems = _of_contents(keep.connection)[:MOST_PROBLEMS]
            contents, engine = contents_of(keep.connection), keep.dialect
    except NotFound:
        raise
    except RegisterError as err:
        return RegisterCheck(where=at.shown, engine="", version="", problems=(err.message,))
    return RegisterCheck(
        where=at.shown,
        engine=engine,
        version=HEAD,
        problems=tuple(problems),
        n_rows=contents.n_rows,
        sha256=contents.sha256,
    )


def _of_engine(connection: Connection) -> list[str]:
    """What SQLite itself finds wrong; PostgreSQL keeps its own checksums."""
    if connection.dialect.name != "sqlite":
        return []
    found = [str(row[0]) for row in connection.execute(text(f"PRAGMA integrity_check({MOST_PROBLEMS})"))]
    broken = connection.execute(text("PRAGMA foreign_key_check")).all()
    problems = [f"the file is damaged: {one}" for one in found if one != "ok"]
    return [*problems, *(f"a row of {row[0]} names a row of {row[2]} that is not there" for row in broken)]


def _of_contents(connection: Connection) -> list[str]:
    """What does not fit together: additions that are missing, pictures and issues that are not what they were."""
    n, last = func.count(ENTRIES.c.id).label("n"), func.max(ENTRIES.c.seq).label("last")
    joined = VISITS.outerjoin(ENTRIES, ENTRIES.c.visit_id == VISITS.c.id)
    counted = select(VISITS.c.id, VISITS.c.n_entries, n, last).select_from(joined)
    problems = [
        f"the visit {row.id} has {row.n} additions, and should have {row.n_entries}"
        for row in connection.execute(counted.group_by(VISITS.c.id, VISITS.c.n_entries))
        if (row.n, row.last or 0) != (row.n_entries, row.n_entries)
    ]
    problems += [
        f"the photograph {row.sha256[:12]} is not what it was"
        for row in connection.execute(select(PICTURES.c.sha256, PICTURES.c.content))
        if _sha256(row.content) != row.sha256
    ]
    problems += [
        f"the signed issue {row.issue_id}{row.suffix} is not what it was"
        for row in connection.execute(select(ISSUE_FILES))
        if _sha256(row.content) != row.sha256
    ]
    return problems


def _sha256(content: bytes | str) -> str:
    return sha256(content.encode() if isinstance(content, str) else content).hexdigest()


def _copy_file(source: Path, target: Path) -> None:
    """SQLite's own copy of a database in use: of one moment, whoever writes meanwhile."""
    keep_to_oneself(str(target))
    try:
        with closing(sqlite3.connect(source)) as here, closing(sqlite3.connect(target)) as there:
            here.backup(there, pages=-1)
            there.execute("PRAGMA journal_mode = WAL").fetchone()
    except sqlite3.Error as err:
        raise RegisterError(
            f"The register cannot be copied: {str(err).lower()}.",
            "The backup was not kept; the register is as it was. Make room, or name another place.",
        ) from err


def _new_file(path: str) -> Path:
    target = Path(path).expanduser().absolute()
    if target.exists():
        raise InputError(f"{path} is there already; it was left alone.", "Give the backup a name of its own.")
    if not target.parent.is_dir():
        raise InputError(f"There is no directory {target.parent}.", "Make it first.")
    return target


def _sync(path: Path) -> None:
    with path.open("rb+") as stream:
        os.fsync(stream.fileno())


def _remove(path: Path) -> None:
    """A file that is not wanted any more, with what SQLite keeps beside it."""
    for ending in ("", "-wal", "-shm", "-journal"):
        with suppress(OSError):
            path.with_name(path.name + ending).unlink(missing_ok=True)
