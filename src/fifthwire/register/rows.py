"""Records into rows and back, the same way for every table whose columns are named as the record's fields."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any, Final, TypeVar, cast

from sqlalchemy import Row, Select, Table, func, insert, select, update

from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.kept.page import PAGE_ROWS, Page
from fifthwire.register.store import Keep

_T = TypeVar("_T")

MOST_AT_ONCE: Final = 500
"""Ids in one statement.  Our choice: engines limit the values of a statement, SQLite of old to 999."""
LARGEST_PAGE: Final = 10_000_000
"""A page number beyond this is nobody's.  Our choice: what both engines count with still holds the row's number."""


def values_of(record: Any, table: Table, **more: Any) -> dict[str, Any]:
    """What a record holds for the columns of a table; `more` for those that it has no field for."""
    named = {of.name: getattr(record, of.name) for of in fields(record) if of.name in table.c}
    return {**named, **more}


def record_of(cls: type[_T], row: Row[Any], **more: Any) -> _T:
    """A record from a row; `more` for the fields that are no columns or are held otherwise."""
    held = row._asdict()
    return cls(**{**{of.name: held[of.name] for of in fields(cast(Any, cls)) if of.name in held}, **more})


def put(keep: Keep, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Add rows, all in one statement."""
    if rows:
        keep.connection.execute(insert(table), list(rows))


def change(keep: Keep, table: Table, record: Any, theirs: Any, **more: Any) -> Any:
    """Write a changed record over the one that it was read from, unless somebody has changed that since.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    table : Table
        With a column `version`.
    record : record
        As it shall be; its `version` is the one that was read.
    theirs : record or None
        As it stands.
    more
        Columns that the record has no field for.

    Returns
    -------
    record
        As it is kept now.

    Raises
    ------
    NotFound
        If it stands nowhere.
    Conflict
        If it stands in another version; both are in the error.
    """
    if theirs is None:
        raise NotFound("It is not kept here any more.", "Nothing was changed. Look for it in the list.")
    changed = replace(record, version=record.version + 1)
    done = keep.connection.execute(
        update(table)
        .where(table.c.id == record.id, table.c.version == record.version)
        .values(values_of(changed, table, **more))
    )
    if done.rowcount != 1:
        raise Conflict(
            f"Somebody else has changed {getattr(theirs, 'name', None) or getattr(theirs, 'label', 'it')} since you"
            " opened it.",
            "Yours was not written. Both are shown: take what is right from each and save again.",
            theirs=theirs,
            yours=record,
        )
    return changed


def require_new(
    keep: Keep, table: Table, message: str, hint: str, *, other_than: str | None = None, **key: Any
) -> None:
    """Refuse a name that is taken, by anything else than the row being changed.

    Raises
    ------
    InputError
        With the message and hint.
    """
    query = select(table.c.id).where(*(table.c[name] == value for name, value in key.items()))
    found = keep.connection.execute(query).scalar()
    if found is not None and found != other_than:
        raise InputError(message, hint)


def one_page(keep: Keep, query: Select[Any], page: int, count: Select[Any] | None = None) -> tuple[list[Row[Any]], int]:
    """The rows of one page, and how many there are on all pages.

    Parameters
    ----------
    keep : Keep
        A transaction.
    query : Select
        In its order.
    page : int
        From 1; a page that is not there has no rows.
    count : Select or None
        What is counted, where that is simpler than the query.
    """
    at = min(max(page, 1), LARGEST_PAGE)
    rows = keep.connection.execute(query.limit(PAGE_ROWS).offset((at - 1) * PAGE_ROWS)).all()
    if at == 1 and len(rows) < PAGE_ROWS:
        return list(rows), len(rows)
    of = (count if count is not None else query).order_by(None).subquery()
    return list(rows), int(keep.connection.execute(select(func.count()).select_from(of)).scalar_one())


def paged(rows: Iterable[_T], page: int, n_rows: int) -> Page[_T]:
    """A page of records."""
    return Page(rows=tuple(rows), page=max(page, 1), n_rows=n_rows)


def in_parts(ids: Sequence[str]) -> Iterable[Sequence[str]]:
    """Ids in as many as one statement takes."""
    return (ids[at : at + MOST_AT_ONCE] for at in range(0, len(ids), MOST_AT_ONCE))
